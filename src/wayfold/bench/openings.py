"""What a reader sees between two leaves: the facing pages, small, with what lies over them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from wayfold.base.geometry import Affine, Point, Rect, Size
from wayfold.bench.worksheet import draw_box
from wayfold.book.materials import Translucent
from wayfold.book.see_through import sheet_of, veil_of
from wayfold.drawing.colour import WHITE, Colour
from wayfold.drawing.items import Drawing, Item, Placed, Stroke
from wayfold.pages.interleaves import InterleafLeaf
from wayfold.plan.model import EndRole, Gathering, Plan

ELSEWHERE = Colour(WHITE.red, WHITE.green, WHITE.blue, 0.72)
"""Laid over a page of another gathering: it is only seen across the seam."""
VEIL = veil_of(sheet_of(Translucent()))
"""Small as they are drawn, leaves look like the usual paper whatever the book's own is."""
STUB = 10.0
"""Width (mm, on the page) of a stub as it is drawn: what the sheet's marks say."""


@dataclass(frozen=True, slots=True)
class Gap:
    """One opening of a gathering: ``number`` from 0, the page before it and the page after.

    A page is None where the book has none. ``leaves`` are the translucent ones that lie there,
    each with the page it lies over.
    """

    number: int
    verso: int | None
    recto: int | None
    leaves: tuple[tuple[InterleafLeaf, int], ...] = ()

    @property
    def pages(self) -> tuple[int, ...]:
        """The pages that are there."""
        return tuple(number for number in (self.verso, self.recto) if number is not None)


def list_gaps(plan: Plan, gathering: Gathering, leaves: Sequence[InterleafLeaf]) -> tuple[Gap, ...]:
    """Give the openings of a gathering, its two seams included."""
    mine = [
        leaf for leaf in leaves if plan.interleaves[leaf.interleaf].gathering == gathering.number
    ]
    gaps = []
    for number in range(2 * gathering.sheets + 1):
        after = gathering.first_page + 2 * number - 1
        verso = after if after >= 1 else None
        recto = after + 1 if after < len(plan.pages) else None
        there = tuple((leaf, _find_under(plan, leaf)) for leaf in mine if leaf.after_page == after)
        gaps.append(Gap(number, verso, recto, there))
    return tuple(gaps)


def _find_under(plan: Plan, leaf: InterleafLeaf) -> int:
    """Give the page a leaf lies over: the one it was made for, else the next, else the last."""
    over = plan.interleaves[leaf.interleaf].ends[leaf.end].over
    return min(leaf.after_page + 1, len(plan.pages)) if over is None else over


def draw_opening(
    gap: Gap, gathering: Gathering, pages: Sequence[Drawing], fold: Point, page: Size, rule: Stroke
) -> Iterator[Item]:
    """Draw the facing pages at ``page`` size (mm), the middle of their fold at ``fold``.

    ``pages`` are the book's, in order.
    """
    for number in gap.pages:
        box = _place_page(gap, number, fold, page)
        yield draw_box(box, fill=WHITE)
        yield shrink(pages[number - 1], box)
        if not gathering.first_page <= number <= gathering.last_page:
            yield draw_box(box, fill=ELSEWHERE)
    for leaf, under in gap.leaves:
        yield from _lay_leaf(leaf, _place_page(gap, under, fold, page), under == gap.recto)
    for number in gap.pages:
        yield draw_box(_place_page(gap, number, fold, page), stroke=rule)


def shrink(drawing: Drawing, box: Rect) -> Placed:
    """Give a page scaled into a box and cut at its trim."""
    scale = Affine.scale(box.width / drawing.size.width, box.height / drawing.size.height)
    return Placed(drawing, scale.then(Affine.shift(box.x, box.y)), clip=box)


def _place_page(gap: Gap, number: int, fold: Point, page: Size) -> Rect:
    left = fold.x if number == gap.recto else fold.x - page.width
    return Rect(left, fold.y - page.height / 2, page.width, page.height)


def _lay_leaf(leaf: InterleafLeaf, box: Rect, on_recto: bool) -> Iterator[Item]:
    if leaf.role is EndRole.STUB:
        width = STUB * box.width / leaf.recto.size.width
        x = box.x if on_recto else box.right - width
        yield draw_box(Rect(x, box.y, width, box.height), fill=VEIL)
        return
    yield draw_box(box, fill=VEIL)
    yield shrink(leaf.recto if on_recto else leaf.verso, box)
