"""The dummy: a trial book of plain paper, small, with the same gatherings and interleaves.

It is folded in an evening before good paper is spent. Its sheets come in the order of folding: each
gathering from its outermost sheet, front and back, then its translucent sheets (of any thin paper).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from wayfold.base.geometry import Point, Rect, Size
from wayfold.bench.figure import DASH, HAIR
from wayfold.bench.model import PlannedBook
from wayfold.bench.openings import shrink
from wayfold.bench.worksheet import draw_box, draw_path, write_lines
from wayfold.book.materials import Paper
from wayfold.drawing.items import Drawing, Item, Placed, Stroke
from wayfold.drawing.text import Align
from wayfold.pages.interleaves import InterleafLeaf
from wayfold.plan.model import Gathering, Interleaf
from wayfold.plan.paper import order_pages
from wayfold.press.bed import Bed, lie_sheet
from wayfold.press.signatures import signature_of

SHOWN = 0.86
"""Part of a leaf that its page takes: printers leave edges white, and a number needs room."""


@dataclass(frozen=True, slots=True)
class _Half:
    """What one half of a side shows: a page or a leaf's face, and the words under it."""

    drawing: Drawing | None
    words: str


def draw_dummy(planned: PlannedBook, sheet: Size) -> tuple[Drawing, ...]:
    """Give the sides of the dummy's sheets (front, back, front, back), two leaves on each.

    ``sheet`` is the plain paper in mm, any way up; the leaves are as large as it allows.
    """
    paper = Paper("plain paper", sheet)
    bed = lie_sheet(dummy_leaf(planned, sheet), 0.0, paper, planned.book.printer)
    return tuple(_draw_sides(planned, bed))


def dummy_leaf(planned: PlannedBook, sheet: Size) -> Size:
    """Give the size (mm) of a leaf of the dummy, the way up on which it is larger."""
    trim = planned.book.trim
    ways = (sheet, sheet.turned)
    scale = max(min(way.width / 2 / trim.width, way.height / trim.height) for way in ways)
    return Size(trim.width * scale, trim.height * scale)


def _draw_sides(planned: PlannedBook, bed: Bed) -> Iterator[Drawing]:
    for gathering in planned.plan.gatherings:
        yield from _draw_gathering(planned, gathering, bed)
        for index, interleaf in enumerate(planned.plan.interleaves):
            if interleaf.gathering == gathering.number:
                yield from _draw_interleaf(planned, index, interleaf, bed)


def _draw_gathering(planned: PlannedBook, gathering: Gathering, bed: Bed) -> Iterator[Drawing]:
    before = gathering.first_page - 1
    for index, pages in enumerate(order_pages(gathering.sheets), start=1):
        name = f"{signature_of(gathering.number)} {index}"
        for side, left, right in (
            ("outside", pages.outer_left, pages.outer_right),
            ("inside", pages.inner_left, pages.inner_right),
        ):
            halves = tuple(
                _Half(planned.pages[before + number - 1], str(before + number))
                for number in (left, right)
            )
            yield _draw_side(planned, bed, f"{name}, {side}", halves, back=side == "inside")


def _draw_interleaf(
    planned: PlannedBook, index: int, interleaf: Interleaf, bed: Bed
) -> Iterator[Drawing]:
    faces = {leaf.end: leaf for leaf in planned.leaves if leaf.interleaf == index}
    first, second = faces.get(0), faces.get(1)
    signature = signature_of(interleaf.gathering)
    if interleaf.depth is None:
        name = f"{signature}, tipped in"
    elif interleaf.depth == 0:
        name = f"{signature}, wraps the gathering"
    else:
        name = f"{signature}, inside sheet {interleaf.depth}"
    outside = (_face(second, verso=True), _face(first, verso=False))
    inside = (_face(first, verso=True), _face(second, verso=False))
    yield _draw_side(planned, bed, f"translucent: {name}", outside, back=False)
    yield _draw_side(planned, bed, f"translucent: {name}", inside, back=True)


def _face(leaf: InterleafLeaf | None, *, verso: bool) -> _Half:
    if leaf is None:
        return _Half(None, "")
    return _Half(leaf.verso if verso else leaf.recto, f"after page {leaf.after_page}")


def _draw_side(
    planned: PlannedBook, bed: Bed, name: str, halves: tuple[_Half, ...], *, back: bool
) -> Drawing:
    hand, fold = planned.hand, bed.fold_x
    leaf = bed.page
    items: list[Item] = []
    for at, half in enumerate(halves):
        x = fold - leaf.width if at == 0 else fold
        area = Rect(x, bed.head_y, leaf.width, leaf.height)
        items += _draw_leaf(planned, area, half)
    ends = (Point(fold, bed.head_y + 2.0), Point(fold, bed.head_y + leaf.height - 2.0))
    items.append(draw_path(ends, Stroke(hand.quiet, HAIR, DASH)))
    label = replace(hand.figure, size_pt=6.0, leading_pt=7.2)
    y = bed.head_y + leaf.height * (1 - SHOWN) / 2 - 3.6
    box = Rect(fold + leaf.width * 0.07, y, leaf.width * 0.86, 3.2)
    items.append(write_lines(box, ((name, label),), "sheet", Align.RIGHT))
    side = Drawing(name, bed.sheet, 0.0, tuple(items))
    if back and bed.turns_heads:
        return Drawing(name, bed.sheet, 0.0, (Placed(side, bed.half_turn),))
    return side


def _draw_leaf(planned: PlannedBook, area: Rect, half: _Half) -> Iterator[Item]:
    hand = planned.hand
    if half.drawing is None and not half.words:
        return
    wide, high = area.width * SHOWN, area.height * SHOWN
    page = Rect(area.center.x - wide / 2, area.center.y - high / 2, wide, high)
    if half.drawing is not None:
        yield shrink(half.drawing, page)
    yield draw_box(page, stroke=Stroke(hand.quiet, 0.1))
    style = replace(hand.figure, size_pt=7.0, leading_pt=8.4, colour=hand.ink)
    folio = Rect(area.x, page.bottom + 1.0, area.width, 4.0)
    yield write_lines(folio, ((half.words, style),), "folio", Align.CENTER)
