"""The cutting plans drawn: every sheet with its pieces, the cuts numbered in their order."""

from __future__ import annotations

import math
from dataclasses import replace

from wayfold.base.geometry import Affine, Point, Rect, Size
from wayfold.bench.cautions import KNIFE
from wayfold.bench.cutting_marks import ClearPlaces, Mark, offer_for_piece, offer_on_cut
from wayfold.bench.figure import BOARD, CLOTH, FINE, HAIR, PAPER_TINT, Pen
from wayfold.bench.flow import Step, Task, care
from wayfold.bench.worksheet import Hand
from wayfold.book.casing import Material
from wayfold.case.cutting import Cut, CutSheet
from wayfold.case.work import CaseWork, MaterialPlan
from wayfold.drawing.colour import WHITE
from wayfold.drawing.items import Drawing, Placed
from wayfold.drawing.text import Align

FILLS = {
    Material.BOARD: BOARD,
    Material.CLOTH: CLOTH,
    Material.PRINT_CLOTH: CLOTH,
    Material.BAND_CLOTH: CLOTH,
    Material.MULL: CLOTH,
}
WIDE, TALL = 80.0, 82.0
"""What one sheet's drawing may take: two stand side by side."""
DOT, LETTER_REACH = 1.75, 1.4
"""Radii (mm) of the dot round a cut's number, and of the room a letter needs."""


def list_cutting_tasks(hand: Hand, work: CaseWork) -> tuple[Task, ...]:
    """Give the cutting plans as one task of many figures."""
    drawn = [
        draw_sheet(hand, plan, number, sheet)
        for plan in work.cutting
        for number, sheet in enumerate(plan.sheets, start=1)
    ]
    rows = [_join(drawn[at : at + 2]) for at in range(0, len(drawn), 2)]
    lead = (
        "Each sheet with its grain upright. Cut in the order of the figures; every cut runs from "
        "edge to edge of the part it is in. White is left over."
    )
    steps = (Step("cut", "Measure twice, mark, and cut the largest pieces first.", (care(KNIFE),)),)
    return (
        Task(
            "cutting", "Cutting plans", lead, steps, tuple(rows), tools="knife, steel rule, square"
        ),
    )


def _join(figures: list[Drawing]) -> Drawing:
    height = max(f.size.height for f in figures)
    items = tuple(Placed(f, Affine.shift(at * 88.0, 0.0)) for at, f in enumerate(figures))
    return Drawing("cutting plans", Size(172.0, height), 0.0, items)


def draw_sheet(hand: Hand, plan: MaterialPlan, number: int, sheet: CutSheet) -> Drawing:
    """Draw a sheet of a material from which pieces are cut; ``number`` counts them from 1."""
    pen = Pen(hand)
    scale = min((WIDE - 1.0) / sheet.size.width, (TALL - 16.0) / sheet.size.height)
    w, h = sheet.size.width * scale, sheet.size.height * scale
    left, top = (WIDE - w) / 2, 11.0
    fill = FILLS.get(plan.material, PAPER_TINT)
    count = len(plan.sheets)
    of = f", sheet {number} of {count}" if count > 1 else ""
    pen.words(0.0, 2.4, f"{plan.stock.title}{of}", align=Align.LEFT, style=hand.heading, width=86.0)
    waste = f"{100 * sheet.waste:.0f} % left over"
    length = f"{sheet.size.height:.0f} mm of it, " if plan.stock.roll else ""
    pen.words(0.0, 7.0, f"{length}{waste}", align=Align.LEFT, style=pen.small, width=86.0)
    pen.box(Rect(left, top, w, h), width=FINE)
    shown = [(_show(laid.box, scale, left, top), laid) for laid in sheet.laid]
    unnamed = []
    for rect, laid in shown:
        pen.box(rect, fill, width=HAIR)
        name, words = plan.pieces[laid.piece].name, f"{laid.box.width:.1f} × {laid.box.height:.1f}"
        if not _name_inside(pen, rect, name, words):
            unnamed.append((rect, f"{name}, {words} mm"))
    cuts = [_trace(cut, scale, left, top) for cut in sheet.cuts]
    for start, end in cuts:
        pen.line((start.x, start.y), (end.x, end.y), width=FINE, colour=hand.accent)
    places = ClearPlaces(Rect(0.0, top, WIDE, h))
    for order, (start, end) in enumerate(cuts, start=1):
        _number_cut(pen, order, places.take(offer_on_cut(start, end), DOT))
    told: dict[str, str] = {}
    for rect, words in unnamed:
        letter = told.setdefault(words, "abcdefghij"[len(told) % 10])
        others = [other for other, _ in shown if other is not rect]
        _letter_piece(pen, letter, places.take(offer_for_piece(rect, others), LETTER_REACH))
    pen.grain(left + w + 4.4 if w < WIDE - 8.0 else left + w - 5.0, top + h - 10.5, 10.0)
    y = top + h + 4.0
    for words, letter in told.items():
        pen.words(left, y, f"{letter}   {words}", style=pen.small, align=Align.LEFT, width=80.0)
        y += 4.0
    return pen.finish(f"{plan.material.value}, {number}", Size(WIDE, y))


def _name_inside(pen: Pen, rect: Rect, name: str, size: str) -> bool:
    """Write a piece's name and size into it, level or upright; say whether there was room."""
    middle = rect.center
    longest = max(len(name), len(size))
    if rect.width >= 1.18 * longest and rect.height >= 8.0:
        words = f"{name}\n{size}"
        pen.words(middle.x, middle.y, words, style=pen.small, width=rect.width)
        return True
    words = f"{name}, {size}"
    if rect.height >= 1.25 * len(words) and rect.width >= 3.4:
        pen.words(middle.x, middle.y, words, style=pen.small, turn_deg=-90.0, width=rect.height)
        return True
    return False


def _show(box: Rect, scale: float, left: float, top: float) -> Rect:
    return Rect(left + box.x * scale, top + box.y * scale, box.width * scale, box.height * scale)


def _trace(cut: Cut, scale: float, left: float, top: float) -> tuple[Point, Point]:
    region = _show(cut.region, scale, left, top)
    if cut.level:
        y = top + cut.at * scale
        return Point(region.x, y), Point(region.right, y)
    x = left + cut.at * scale
    return Point(x, region.y), Point(x, region.bottom)


def _number_cut(pen: Pen, order: int, mark: Mark) -> None:
    x, y = mark.at.x, mark.at.y
    if mark.leader:
        pen.line((mark.leader.x, mark.leader.y), (x, y), width=HAIR, colour=pen.hand.accent)
    pen.dot(x, y, DOT, pen.hand.accent)
    white = replace(pen.small, colour=WHITE, size_pt=6.6)
    pen.words(x, y + 0.1, str(order), style=white, width=6.0)


def _letter_piece(pen: Pen, letter: str, mark: Mark) -> None:
    x, y = mark.at.x, mark.at.y
    if mark.leader:
        near = x - math.copysign(LETTER_REACH, x - mark.leader.x)
        pen.line((mark.leader.x, y), (near, y), width=HAIR)
    pen.words(x, y, letter, width=6.0)
