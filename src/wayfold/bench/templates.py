"""templates.pdf: what is laid on the work at full size, each with a ruler and a square to check.

A printer that scales even a little makes holes that do not meet; so every sheet carries a ruler
and a square of 100 mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from wayfold.base.geometry import TOLERANCE, Rect, Size
from wayfold.bench.figure import DASH, FINE, HAIR, Pen
from wayfold.bench.figures_case import mitre_leg
from wayfold.bench.worksheet import Hand
from wayfold.book.materials import Printer
from wayfold.case.pocket import PocketBlank
from wayfold.case.printing import find_printable
from wayfold.case.work import CaseWork
from wayfold.drawing.items import Drawing
from wayfold.drawing.text import Align

SQUARE = 100.0
"""Side of the square (mm) that shows whether the printer scaled."""
STRIP = 46.0
"""Width of the pricking strip, folded along its middle."""
A_SIZES = (Size(210.0, 297.0), Size(297.0, 420.0))


def draw_templates(work: CaseWork, hand: Hand) -> tuple[Drawing, ...]:
    """Give the templates, each on the smallest common sheet that its printer prints it on."""
    templates = [_draw_pricking(work, hand), _draw_mitre(work, hand)]
    if work.pocket is not None:
        templates.append(_draw_pocket(work, work.pocket, hand))
    return tuple(t for t in templates if t is not None)


def choose_sheet(work: CaseWork, width: float, height: float) -> tuple[Size, Rect] | None:
    """Give the smallest sheet, and what is printed of it, that takes something upright or lying.

    A4 and A3 (ISO 216), then the book's own paper; None where none does.
    """
    most = work.book.paper.sheet
    for size in (*A_SIZES, most):
        if max(size.width, size.height) > max(most.width, most.height) + TOLERANCE:
            continue
        upright = size if size.height >= size.width else size.turned
        for sheet in (upright, upright.turned):
            room = _find_room(sheet, work.book.printer)
            if width <= room.width + TOLERANCE and height <= room.height + TOLERANCE:
                return sheet, room
    return None


def _find_room(sheet: Size, printer: Printer) -> Rect:
    room = find_printable(sheet, printer)
    return Rect(room.x + 1.0, room.y + 1.0, room.width - 2.0, room.height - 2.0)


def _draw_pricking(work: CaseWork, hand: Hand) -> Drawing | None:
    height = work.block.page.height
    found = choose_sheet(work, STRIP + SQUARE + 30.0, height + 6.0)
    if found is None:
        return None
    sheet, room = found
    pen = Pen(hand)
    x, y = room.x + 2.0, room.y + (room.height - height) / 2
    fold = x + STRIP / 2
    pen.box(Rect(x, y, STRIP, height), width=FINE)
    pen.line((fold, y), (fold, y + height), dash=DASH, width=HAIR)
    last = len(work.stations.holes) - 1
    for at, hole in enumerate(work.stations.holes):
        at_y = y + hole
        pen.line((fold - 5.0, at_y), (fold + 5.0, at_y), width=HAIR)
        pen.line((fold, at_y - 1.5), (fold, at_y + 1.5), width=HAIR)
        name = "kettle" if at in (0, last) else str(at + 1)
        above = at_y - 1.8 if at in (0, last) or at % 2 else at_y + 1.8
        pen.words(x + 2.0, above, name, align=Align.LEFT, width=16.0)
        mm = f"{hole:.2f}".rstrip("0").rstrip(".")
        pen.words(x + STRIP - 2.0, above, mm, align=Align.RIGHT, width=18.0)
    pen.words(x + 11.0, y + 4.0, "head", style=hand.heading, width=20.0)
    pen.words(x + 11.0, y + height - 4.0, "tail", style=hand.heading, width=20.0)
    _write_side(
        pen,
        work,
        Rect(x + STRIP + 14.0, y, room.right - x - STRIP - 16.0, height),
        "Pricking strip",
        "Cut out, fold along the dashes, and lay into the centre of each gathering with its head "
        f"at the head of the pages. Figures are mm from the head of a page {height:g} mm high.",
    )
    return pen.finish("pricking strip", sheet)


def _draw_mitre(work: CaseWork, hand: Hand) -> Drawing | None:
    case = work.case
    found = choose_sheet(work, SQUARE + 70.0, SQUARE + 100.0)
    if found is None:
        return None
    sheet, room = found
    pen = Pen(hand)
    u, leg = case.casing.turn_in, mitre_leg(case)
    arm = 60.0
    x, y = room.x + 12.0, room.y + 46.0
    # The template lies outside the board's corner: its inner edges touch the board's edges.
    pen.shape(
        (
            (x + leg, y),
            (x + u + arm, y),
            (x + u + arm, y + u),
            (x + u, y + u),
            (x + u, y + u + arm),
            (x, y + u + arm),
            (x, y + leg),
        ),
        width=FINE,
    )
    pen.line((x, y + leg), (x, y), (x + leg, y), width=HAIR, dash=DASH)
    pen.words(x + u + arm / 2, y + u / 2, f"turn-in {u:g} mm")
    pen.words(x + u + 3.0, y + u + 8.0, "board", align=Align.LEFT)
    pen.line(
        (x + u, y + u),
        (x + u - case.mitre / math.sqrt(2), y + u - case.mitre / math.sqrt(2)),
        width=HAIR,
    )
    pen.words(x + u + 3.0, y + u + 15.0, f"cut {case.mitre:g} mm from its corner", align=Align.LEFT)
    pen.words(room.x + 2.0, room.y + 7.0, "Mitre", style=hand.title, align=Align.LEFT, width=90.0)
    words = (
        "Lay the inner corner on the corner of the board and cut the cloth along the slanting edge."
    )
    pen.words(room.x + 2.0, room.y + 22.0, words, style=hand.note, align=Align.LEFT, width=120.0)
    _draw_check(pen, Rect(room.x + 8.0, y + u + arm + 18.0, SQUARE + 40.0, SQUARE + 30.0))
    return pen.finish("mitre template", sheet)


def _draw_pocket(work: CaseWork, pocket: PocketBlank, hand: Hand) -> Drawing | None:
    blank = pocket.blank
    found = choose_sheet(work, blank.width + SQUARE + 24.0, max(blank.height, SQUARE + 70.0))
    if found is None:
        return None
    sheet, room = found
    pen = Pen(hand)
    x, y = room.x + 2.0, room.y + (room.height - blank.height) / 2
    low = y + pocket.cut_away[0].y
    left, right = x + pocket.cut_away[0].right, x + pocket.cut_away[1].x
    pen.shape(
        (
            (x, y),
            (x + blank.width, y),
            (x + blank.width, low),
            (right, low),
            (right, y + blank.height),
            (left, y + blank.height),
            (left, low),
            (x, low),
        ),
        width=FINE,
    )
    for at, fold in enumerate(pocket.folds_x):
        dash = DASH if at in (1, 4) else (0.4, 0.8)
        pen.line((x + fold, y), (x + fold, low), width=HAIR, dash=dash)
    for at, fold in enumerate(pocket.folds_y):
        dash = DASH if at == 1 else (0.4, 0.8)
        pen.line((left, y + fold), (right, y + fold), width=HAIR, dash=dash)
    pen.grain(x + blank.width / 2, y + blank.height / 2, 24.0)
    _write_side(
        pen,
        work,
        Rect(x + blank.width + 10.0, y, room.right - x - blank.width - 12.0, blank.height),
        "Pocket",
        "Cut along the outline. Long dashes fold towards you, dots away from you; the three flaps "
        "are pasted to the lower cover.",
    )
    return pen.finish("pocket template", sheet)


def _write_side(pen: Pen, work: CaseWork, area: Rect, title: str, words: str) -> None:
    hand = pen.hand
    width = min(area.width, 118.0)
    pen.words(area.x, area.y + 6.0, title, style=hand.title, align=Align.LEFT, width=width)
    note = replace(hand.note, size_pt=9.4, leading_pt=12.4)
    lines = list(_break(words, int(width / 1.72)))
    for at, line in enumerate(lines):
        pen.words(area.x, area.y + 17.0 + 4.4 * at, line, style=note, align=Align.LEFT, width=width)
    y = area.y + 17.0 + 4.4 * len(lines) + 6.0
    _draw_check(pen, Rect(area.x, y, width, SQUARE + 30.0))
    title_words = work.book.title
    pen.words(
        area.x, y + SQUARE + 36.0, title_words, style=hand.figure, align=Align.LEFT, width=width
    )


def _break(words: str, letters: int) -> Iterator[str]:
    line = ""
    for word in words.split():
        if line and len(line) + 1 + len(word) > letters:
            yield line
            line = word
        else:
            line = f"{line} {word}".strip()
    if line:
        yield line


def _draw_check(pen: Pen, area: Rect) -> None:
    """A ruler of 100 mm, and under it a square of 100 mm."""
    x, y = area.x + 2.0, area.y + 4.0
    pen.line((x, y), (x + SQUARE, y), width=HAIR)
    for mm in range(int(SQUARE) + 1):
        long = 4.0 if mm % 10 == 0 else 2.8 if mm % 5 == 0 else 1.6
        pen.line((x + mm, y), (x + mm, y + long), width=HAIR)
        if mm % 10 == 0:
            pen.words(x + mm, y + 6.0, str(mm), style=pen.small, width=8.0)
    top = y + 11.0
    pen.box(Rect(x, top, SQUARE, SQUARE), width=HAIR)
    note = "100 mm both ways? If not, print again at 100 %,\nwithout fitting to the page."
    pen.words(x + SQUARE / 2, top + SQUARE / 2, note, style=pen.hand.note, width=90.0)
