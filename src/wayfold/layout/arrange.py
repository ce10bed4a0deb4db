"""The whole book laid out: a family for each block, facing pages judged together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from wayfold.base.findings import Finding, Severity
from wayfold.book.state import Book
from wayfold.drawing.text import TextBlock, TextMeasurer
from wayfold.layout.facing import align_heads
from wayfold.layout.families import FAMILIES, Family
from wayfold.layout.grid import make_grid
from wayfold.layout.homes import house_captions, set_day_lines
from wayfold.layout.judge import judge_pages
from wayfold.layout.matter import Matter, RememberingMeasurer, blank_page
from wayfold.layout.model import BookLayout, PageLayout
from wayfold.photos.model import Photo
from wayfold.plan.model import Plan
from wayfold.story.model import Block, BlockKind, Story
from wayfold.words.leaves import find_veiled_pages, leave_out_veiled
from wayfold.words.model import Words

REPEATED = 0.25
"""What a family loses that the spread before showed too."""
TWO_BLED = 0.6
"""What a bled picture loses where the facing page is bled too."""
ALIKE_FACING = 0.1
"""What a bordered picture gains where the facing page has one as well."""
PICTURE_KINDS = (BlockKind.HERO, BlockKind.SINGLE, BlockKind.GROUP)


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
    for matter in matters:
        if matter.block.kind in PICTURE_KINDS and not matter.block.photos:
            continue
        laid = _choose_family(matter, pages).lay(matter)
        pages.update({page.number: page for page in laid.pages})
        homeless += laid.homeless
        findings += laid.findings
    pages = align_heads(pages)
    pages, unplaced = house_captions(matters, pages, homeless)
    pages, undated = set_day_lines(matters, pages)
    ordered = tuple(pages[n] for n in sorted(pages))
    return BookLayout(ordered, (*findings, *unplaced, *undated, *judge_pages(grid, ordered)))


def _choose_family(matter: Matter, pages: Mapping[int, PageLayout]) -> Family:
    """Give the family that suits best, those the reader has just seen set back."""
    first = matter.numbers[0]
    start = first - first % 2
    before = {pages[n].family for n in (start - 2, start - 1) if n in pages}
    facing = {pages[n].family for n in (start, start + 1) if n in pages and n < first}

    def judge(family: Family) -> float:
        worth = family.suits(matter)
        if worth <= 0:
            return 0.0
        # A hero crosses the fold however many came before it.
        if family.name in before - {"across"}:
            worth -= REPEATED
        if family.name == "bled" and facing & {"bled", "across"}:
            worth -= TWO_BLED
        if family.name == "framed" and "framed" in facing:
            worth += ALIKE_FACING
        return max(worth, 0.01)

    return max((f for f in FAMILIES if matter.block.kind in f.takes), key=judge)


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
