"""case.pdf: the case drawn from outside and inside, then every printed piece as large as life."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from wayfold.base.geometry import Affine, Point, Rect
from wayfold.bench.figures_case import draw_inside, draw_outside
from wayfold.bench.worksheet import FOOT, HEAD, LEFT, PAPER, RIGHT, Hand, draw_path, write_lines
from wayfold.case.printing import Placement, PrintedSheet
from wayfold.case.work import CaseWork
from wayfold.drawing.items import Drawing, Item, Placed, Stroke
from wayfold.drawing.text import Align

MARK = 4.0
"""Length of the marks beside a printed piece (mm), where its margin has room for them."""
MARK_GAP = 0.8


def draw_case_sheets(work: CaseWork, hand: Hand) -> tuple[Drawing, ...]:
    """Give the drawn case on one worksheet, then the sheets to print."""
    printed = tuple(
        _draw_printed(sheet, number, hand)
        for number, sheet in enumerate(work.printed.sheets, start=1)
    )
    return (_draw_overview(work, hand), *printed)


def _draw_overview(work: CaseWork, hand: Hand) -> Drawing:
    case, width = work.case, RIGHT - LEFT
    style = case.casing.style.value.replace("-", " ")
    items: list[Item] = [
        write_lines(Rect(LEFT, HEAD, width, 10.5), (("The case", hand.title),), "title"),
    ]
    lead = (
        f"{style.capitalize()}, for a block of {case.thickness:.1f} mm; laid open "
        f"{case.open.width:.1f} × {case.open.height:.1f} mm. Measures in mm, the drawings are "
        "scaled down."
    )
    items.append(write_lines(Rect(LEFT, HEAD + 11.5, width, 11.0), ((lead, hand.lead),), "lead"))
    y = HEAD + 26.0
    for figure in (draw_outside(hand, work), draw_inside(hand, case)):
        items.append(Placed(figure, Affine.shift(LEFT, y)))
        y += figure.size.height + 5.0
    refused = [piece.name for piece, _ in work.printed.refused]
    if refused:
        words = (
            f"Too large for the printer, so drawn here only: {', '.join(refused)}. "
            "The findings say what would work."
        )
        items.append(write_lines(Rect(LEFT, 266.0, width, 10.0), ((words, hand.note),), "refused"))
    foot = f"{work.book.title} · the case"
    items.append(write_lines(Rect(LEFT, FOOT, width, 8.0), ((foot, hand.figure),), "foot"))
    return Drawing("the case", PAPER, 0.0, tuple(items))


def _draw_printed(sheet: PrintedSheet, number: int, hand: Hand) -> Drawing:
    items: list[Item] = []
    for placed in sheet.placed:
        items.append(
            Placed(placed.piece.drawing, Affine.shift(placed.box.x, placed.box.y), placed.box)
        )
        items += _draw_marks(sheet, placed, hand)
    names = " and ".join(p.piece.name for p in sheet.placed)
    top = min(p.box.y for p in sheet.placed)
    words = f"{names} · print at 100 % · the grain of the sheet runs upright here"
    style = replace(hand.figure, size_pt=7.0, leading_pt=8.6)
    if top - sheet.printable.y >= MARK + 6.0:
        box = Rect(
            sheet.printable.x + 4.0, sheet.printable.y + 0.5, sheet.printable.width - 8.0, 4.0
        )
        items.append(write_lines(box, ((words, style),), "sheet", Align.CENTER))
    return Drawing(f"cover sheet {number}", sheet.size, 0.0, tuple(items))


def _draw_marks(sheet: PrintedSheet, placed: Placement, hand: Hand) -> Iterator[Item]:
    """Where the knife goes, at the corners, as far as the printer reaches."""
    box, stroke = placed.box, Stroke(hand.ink, 0.15)
    room = sheet.printable
    for x in (box.x, box.right):
        for start, end in (
            (box.y - MARK_GAP, max(room.y, box.y - MARK_GAP - MARK)),
            (box.bottom + MARK_GAP, min(room.bottom, box.bottom + MARK_GAP + MARK)),
        ):
            if abs(end - start) >= 1.0 and (end < start) == (start < box.y):
                yield draw_path((Point(x, start), Point(x, end)), stroke)
    for y in (box.y, box.bottom):
        for start, end in (
            (box.x - MARK_GAP, max(room.x, box.x - MARK_GAP - MARK)),
            (box.right + MARK_GAP, min(room.right, box.right + MARK_GAP + MARK)),
        ):
            if abs(end - start) >= 1.0 and (end < start) == (start < box.x):
                yield draw_path((Point(start, y), Point(end, y)), stroke)
