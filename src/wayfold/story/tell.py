"""Tell the journey as a story: chapters, and blocks in the order a reader meets them."""

from __future__ import annotations

from collections.abc import Mapping

from wayfold.base.findings import Finding, Severity
from wayfold.base.memory import Memory
from wayfold.base.mends import Mend
from wayfold.book.state import Book
from wayfold.photos.model import Photo
from wayfold.photos.sets import NO_SETS, PhotoSets
from wayfold.story.chapters import divide_into_chapters
from wayfold.story.choose import choose_entries
from wayfold.story.days import put_day_texts
from wayfold.story.exchange import exchange_pictures
from wayfold.story.matter import judge_texts, make_back_matter, make_front_matter, open_chapter
from wayfold.story.model import Block, BlockKind, Start, Story
from wayfold.story.openings import ReadLightness, set_opening_aside
from wayfold.story.pictures import make_picture_blocks
from wayfold.story.towns import judge_places, map_towns
from wayfold.trip.model import Trip


def tell_story(
    trip: Trip,
    book: Book,
    photos: Mapping[str, Photo],
    text_pages: Mapping[str, int],
    *,
    overview: bool = False,
    sets: PhotoSets = NO_SETS,
    read_lightness: ReadLightness | None = None,
    memory: Memory | None = None,
) -> Story:
    """Give the story of a trip as the book's maker wants it.

    ``text_pages`` says how many pages each of the book's texts takes; one it lacks takes one, and
    one that takes none stands under its chapter's title.
    ``overview`` asks for a map of the whole journey. Of each of the ``sets`` nearly alike, one
    undecided picture is enough. ``read_lightness`` is asked of pictures that may open a chapter.
    Every picture taken stands in exactly one block. The same input gives the same story, and
    block ids name what is in the block ("hero:<photo id>", "group:<first photo id>"), so an
    edit elsewhere leaves them alone. Pictures that the person let change places do so last.
    What is in ``memory`` from the last time is not worked out again.
    """
    memory = memory or Memory()
    entries, picked = choose_entries(trip, book, photos, sets, memory)
    filled_chapters, divided = divide_into_chapters(entries, trip, book)
    blocks = make_front_matter(book, text_pages, len(filled_chapters), overview=overview)
    maps = map_towns(book, filled_chapters)
    set_aside = [
        set_opening_aside(filled, book, photos, read_lightness) for filled in filled_chapters
    ]
    told: set[str] = set()
    for number, (filled, _) in enumerate(set_aside):
        opening = [
            *open_chapter(book, text_pages, filled, number),
            *([maps[number]] if number in maps else []),
        ]
        pictures = list(
            memory.recall(make_picture_blocks, filled.entries, number, text_pages, at=number)
        )
        told.update(block.text for block in opening if block.text)
        blocks += _put_after_opener(opening, put_day_texts(pictures, book, text_pages, told))
    blocks += make_back_matter(book, text_pages)
    opened = [finding for _, findings in set_aside for finding in findings]
    findings = [
        *picked,
        *divided,
        *opened,
        *judge_texts(book),
        *judge_places(book, filled_chapters),
    ]
    if not entries:
        findings.append(_explain_empty(trip))
    story = Story(tuple(s.chapter for s in filled_chapters), tuple(blocks), tuple(findings))
    return exchange_pictures(story, book.arranging.exchanged)


def _put_after_opener(opening: list[Block], pictures: list[Block]) -> list[Block]:
    """Put a chapter's first pictures after its opening.

    A hero that would begin on a recto there, and so leave a white page behind the text, comes
    between the opener and the text instead.
    """
    pages = sum(block.alternatives[0].pages for block in opening)
    if (
        len(opening) > 1
        and pictures
        and opening[0].alternatives[0].start is Start.RECTO
        and pictures[0].kind is BlockKind.HERO
        and pages % 2 == 0
    ):
        return [opening[0], pictures[0], *opening[1:], *pictures[1:]]
    return opening + pictures


def _explain_empty(trip: Trip) -> Finding:
    what = "The book has no photographs."
    remedy = f"Put photographs into the folders that are named: {Mend.PHOTOGRAPHS}."
    if trip.moments:
        what = "All photographs are left out, so the book has none."
        remedy = "Take some of them: set their pick to take or open."
    return Finding("story.empty", Severity.BLOCK, "photographs", what, remedy)
