"""Each block of the story with all that laying it out needs: its pages, words and photographs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from wayfold.base.findings import Finding, Severity
from wayfold.base.memory import Memory
from wayfold.book.state import Book
from wayfold.drawing.text import TextBlock, TextMeasurer
from wayfold.layout.captions import guess_captions
from wayfold.layout.grid import make_grid
from wayfold.layout.matter import Matter, RememberingMeasurer
from wayfold.photos.model import Photo
from wayfold.plan.model import Plan
from wayfold.story.model import Block, BlockKind, Story
from wayfold.words.leaves import find_veiled_pages, leave_out_veiled
from wayfold.words.model import Words


def gather_matters(
    book: Book,
    story: Story,
    plan: Plan,
    words: Words,
    photos: Mapping[str, Photo],
    measurer: TextMeasurer,
    memory: Memory,
) -> tuple[tuple[Matter, ...], tuple[Finding, ...]]:
    """Give the planned blocks in order of their pages, and what is wrong with the others.

    Each has of the book, its words and photographs what laying it out reads, so that it is another
    only where that is. Words that a translucent leaf bears are not among those for the page under
    it.
    """
    grid = make_grid(book)
    remembering = memory.recall(RememberingMeasurer, measurer)
    photos = memory.recall(_bare_photos, photos)
    about = _bare(book)
    numbers_of: dict[str, list[int]] = {}
    for page in plan.pages:
        if page.block is not None:
            numbers_of.setdefault(page.block, []).append(page.number)
    centres = {gathering.centre for gathering in plan.gatherings}
    on_paper, veiled = leave_out_veiled(words, story, plan), find_veiled_pages(plan)
    shared = tuple(key for key in on_paper.paragraphs if ":" not in key)
    matters: list[Matter] = []
    fresh: list[Matter] = []
    findings: list[Finding] = []
    for block in story.blocks:
        numbers = tuple(numbers_of.get(block.id, ()))
        if not numbers:
            findings.append(_not_planned(block))
            continue
        known = tuple(photo for photo in block.photos if photo in photos)
        findings += [_missing(photo, numbers[0]) for photo in block.photos if photo not in photos]
        made = Matter(
            book=_narrow(about, book, block),
            grid=grid,
            words=_find_words(on_paper, block, shared),
            photos={photo: photos[photo] for photo in known},
            measurer=remembering,
            block=block if known == block.photos else replace(block, photos=known),
            numbers=numbers,
            veiled=tuple(n for n in numbers if n in veiled),
            unbroken=numbers in centres,
            hand=book.arranging.by_hand.get(block.id),
        )
        matter = memory.keep(made, ("matter", block.id))
        matters.append(matter)
        fresh += [matter] if matter is made else []
    matters.sort(key=lambda m: m.numbers[0])  # neighbours may have changed places
    _measure_captions(fresh, remembering)
    return tuple(matters), tuple(findings)


def _bare(book: Book) -> Book:
    """Give a book with what laying out reads of it but for what was said of single blocks."""
    return Book(
        "",
        language=book.language,
        trim=book.trim,
        bleed=book.bleed,
        paper=book.paper,
        style=book.style,
        arranging=replace(book.arranging, ways={}, by_hand={}, exchanged=()),
    )


def _bare_photos(photos: Mapping[str, Photo]) -> Mapping[str, Photo]:
    return {name: photo.bare() for name, photo in photos.items()}


def _narrow(about: Book, book: Book, block: Block) -> Book:
    ways, way = about.arranging, book.arranging.ways.get(block.id)
    return replace(
        about,
        arranging=ways if way is None else replace(ways, ways={block.id: way}),
        choices={photo: book.choices[photo] for photo in block.photos if photo in book.choices},
    )


def _find_words(words: Words, block: Block, shared: tuple[str, ...]) -> Words:
    """Give the words that a block may show, by the keys of ``Words``: none of another block's.

    Those ``shared`` by the whole book stand on pages without pictures.
    """
    keys = (*_list_keys(block), *(() if block.photos else shared))
    return Words(
        {key: text for key in keys if (text := words.get(key))},
        itinerary=words.itinerary if block.kind is BlockKind.ITINERARY else None,
    )


def _list_keys(block: Block) -> Iterator[str]:
    yield f"text:{block.id}"
    yield from (f"caption:{photo}" for photo in block.photos)
    if block.day:
        yield f"day:{block.day.isoformat()}"
    # Pages of pictures show neither a title nor a running head: another one is nothing to them.
    if block.kind is BlockKind.OPENER:
        yield f"opener:{block.chapter}"
    if block.kind is BlockKind.TEXT:
        yield f"running:{block.chapter}"
        yield from (f"day-opener:{block.day.isoformat()}",) if block.day else ()


def _measure_captions(matters: Sequence[Matter], measurer: RememberingMeasurer) -> None:
    """Measure all captions at the usual width, those of a block each and together.

    One question instead of hundreds.
    """
    blocks = []
    for matter in matters:
        photos = matter.block.photos
        if not photos:
            continue
        captions = [matter.words.get(f"caption:{photo}") for photo in photos]
        captions.append(guess_captions(matter, photos))
        blocks += [TextBlock(text, matter.grid.caption_measure) for text in captions if text]
    measurer.measure_heights(blocks)


def _not_planned(block: Block) -> Finding:
    return Finding(
        "layout.not-planned",
        Severity.BLOCK,
        block.id,
        f"The plan has no page for this {block.kind.value}.",
        "Plan the book anew.",
    )


def _missing(photo: str, page: int) -> Finding:
    return Finding(
        "layout.missing-photograph",
        Severity.BLOCK,
        f"page {page}",
        f"Photograph {photo} is not among those that could be read.",
        "Bring its file back, or leave it out of the book.",
    )
