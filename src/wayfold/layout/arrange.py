"""The whole book laid out: a family for each block, facing pages judged together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import groupby

from wayfold.base.findings import Finding, Severity
from wayfold.book.state import Book
from wayfold.drawing.text import TextBlock, TextMeasurer
from wayfold.layout.facing import align_heads
from wayfold.layout.fixed import FIXED
from wayfold.layout.grid import make_grid
from wayfold.layout.homes import house_captions, set_day_lines
from wayfold.layout.judge import judge_pages
from wayfold.layout.matter import Laid, Matter, RememberingMeasurer, blank_page
from wayfold.layout.model import BookLayout
from wayfold.layout.spreads import choose_ways
from wayfold.photos.model import Photo
from wayfold.plan.model import Plan
from wayfold.story.model import Block, Story
from wayfold.words.leaves import find_veiled_pages, leave_out_veiled
from wayfold.words.model import Words

NOTHING = Laid(())


def arrange_book(
    book: Book,
    story: Story,
    plan: Plan,
    words: Words,
    photos: Mapping[str, Photo],
    measurer: TextMeasurer,
) -> BookLayout:
    """Give every page of the plan its frames.

    Each photograph of a planned block stands on its pages exactly once (a picture across the
    fold has a frame on both). Words that a translucent leaf bears are not on the page under it.
    What cannot be placed or read is a finding.
    """
    grid = make_grid(book)
    remembering = RememberingMeasurer(measurer)
    findings: list[Finding] = []
    pages = {page.number: blank_page(page.number) for page in plan.pages}
    homeless: list[tuple[int, str]] = []
    matters: list[Matter] = []
    centres = {gathering.centre for gathering in plan.gatherings}
    on_paper, veiled = leave_out_veiled(words, story, plan), find_veiled_pages(plan)
    for block in story.blocks:
        numbers = tuple(page.number for page in plan.pages if page.block == block.id)
        if not numbers:
            findings.append(_not_planned(block))
            continue
        known = tuple(photo for photo in block.photos if photo in photos)
        findings += [_missing(photo, numbers[0]) for photo in block.photos if photo not in photos]
        shown = replace(block, photos=known)
        veiled_here = veiled.intersection(numbers)
        unbroken = numbers in centres
        matters.append(
            Matter(book, grid, on_paper, photos, remembering, shown, numbers, veiled_here, unbroken)
        )
    matters.sort(key=lambda m: m.numbers[0])  # neighbours may have changed places
    _measure_captions(matters, remembering)
    laid = {m.block.id: lay(m) for m in matters if (lay := FIXED.get(m.block.kind))}
    for one in laid.values():
        pages.update({page.number: page for page in one.pages})
    for opening in _gather_openings(
        m for m in matters if m.block.photos and m.block.id not in laid
    ):
        for matter, way in choose_ways(opening, pages):
            laid[matter.block.id] = way.laid
            pages.update({page.number: page for page in way.laid.pages})
    for matter in matters:
        one = laid.get(matter.block.id, NOTHING)
        homeless += one.homeless
        findings += one.findings
    pages = align_heads(pages)
    pages, unplaced = house_captions(matters, pages, homeless)
    pages, undated = set_day_lines(matters, pages)
    ordered = tuple(pages[n] for n in sorted(pages))
    return BookLayout(ordered, (*findings, *unplaced, *undated, *judge_pages(grid, ordered)))


def _gather_openings(matters: Iterable[Matter]) -> list[tuple[Matter, ...]]:
    """Give the blocks of pictures that begin on the same two facing pages, in order."""
    gathered = groupby(matters, key=lambda m: m.numbers[0] // 2)
    return [tuple(opening) for _, opening in gathered]


def _measure_captions(matters: Sequence[Matter], measurer: RememberingMeasurer) -> None:
    """Measure all single captions at the usual width at once: one question instead of hundreds."""
    blocks = [
        TextBlock(matter.words.get(f"caption:{photo}"), matter.grid.caption_measure)
        for matter in matters
        for photo in matter.block.photos
        if matter.words.get(f"caption:{photo}")
    ]
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
