"""Each block of the story with all that laying it out needs: its pages, words and photographs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from wayfold.base.findings import Finding, Severity
from wayfold.book.state import Book
from wayfold.drawing.text import TextBlock, TextMeasurer
from wayfold.layout.captions import guess_captions
from wayfold.layout.grid import make_grid
from wayfold.layout.matter import Matter, RememberingMeasurer
from wayfold.photos.model import Photo
from wayfold.plan.model import Plan
from wayfold.story.model import Block, Story
from wayfold.words.leaves import find_veiled_pages, leave_out_veiled
from wayfold.words.model import Words


def gather_matters(
    book: Book,
    story: Story,
    plan: Plan,
    words: Words,
    photos: Mapping[str, Photo],
    measurer: TextMeasurer,
) -> tuple[tuple[Matter, ...], tuple[Finding, ...]]:
    """Give the planned blocks in order of their pages, and what is wrong with the others.

    Words that a translucent leaf bears are not among those for the page under it.
    """
    grid = make_grid(book)
    remembering = RememberingMeasurer(measurer)
    centres = {gathering.centre for gathering in plan.gatherings}
    on_paper, veiled = leave_out_veiled(words, story, plan), find_veiled_pages(plan)
    matters: list[Matter] = []
    findings: list[Finding] = []
    for block in story.blocks:
        numbers = tuple(page.number for page in plan.pages if page.block == block.id)
        if not numbers:
            findings.append(_not_planned(block))
            continue
        known = tuple(photo for photo in block.photos if photo in photos)
        findings += [_missing(photo, numbers[0]) for photo in block.photos if photo not in photos]
        matters.append(
            Matter(
                book=book,
                grid=grid,
                words=on_paper,
                photos=photos,
                measurer=remembering,
                block=replace(block, photos=known),
                numbers=numbers,
                veiled=veiled.intersection(numbers),
                unbroken=numbers in centres,
                hand=book.arranging.by_hand.get(block.id),
            )
        )
    matters.sort(key=lambda m: m.numbers[0])  # neighbours may have changed places
    _measure_captions(matters, remembering)
    return tuple(matters), tuple(findings)


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
