"""Figures for the work on the block: folding, pricking, sewing, pressing, lining."""

from __future__ import annotations

import math

from wayfold.base.geometry import Rect, Size
from wayfold.bench.figure import BOARD, BOLD, CARD, CLOTH, DASH, FINE, HAIR, PAPER_TINT, Pen
from wayfold.bench.worksheet import Hand
from wayfold.book.casing import SewingMethod
from wayfold.case.measure import CaseMeasures
from wayfold.case.stations import Stations, trace_thread
from wayfold.drawing.items import Drawing
from wayfold.drawing.text import Align
from wayfold.press.signatures import signature_of

WIDE = 172.0


def draw_folding(hand: Hand, trim: Size, sheet: Size) -> Drawing:
    """Draw a sheet with its fold and its grain, and the same sheet folded."""
    pen = Pen(hand)
    scale = min(86.0 / sheet.width, 58.0 / sheet.height)
    w, h = sheet.width * scale, sheet.height * scale
    left, top = 14.0, 8.0
    middle = left + w / 2
    pen.box(Rect(left, top, w, h), PAPER_TINT)
    cut = Rect(
        middle - trim.width * scale,
        top + (h - trim.height * scale) / 2,
        2 * trim.width * scale,
        trim.height * scale,
    )
    pen.box(cut, width=HAIR, dash=(0.8, 0.8))
    pen.line((middle, top - 3.0), (middle, top + h + 3.0), dash=DASH, colour=hand.accent)
    pen.words(middle, top - 5.0, "fold")
    pen.grain(left + w * 0.25, top + h / 2)
    pen.words(left + w * 0.75, top + h / 2, "heads up", style=pen.small)
    pen.measure_across(left, left + w, top + h + 6.0, f"{sheet.width:g} mm", edge=top + h)
    pen.measure_down(top, top + h, left - 5.0, f"{sheet.height:g} mm", edge=left)
    x = left + w + 24.0
    pen.box(Rect(x, top, w / 2, h), PAPER_TINT)
    pen.line((x + 0.8, top + 0.8), (x + 0.8, top + h - 0.8), width=HAIR)
    pen.arrow((x - 2.6, top + h / 2), (x - 2.6, top + h - 4.0))
    pen.arrow((x - 2.6, top + h / 2), (x - 2.6, top + 4.0))
    pen.words(
        x - 6.4, top + h / 2, "bone from the middle outwards", turn_deg=-90.0, style=pen.small
    )
    pen.words(x + w / 4, top + h / 2, "folded: spine at the left,\nlower page number outside")
    return pen.finish("folding", Size(WIDE, top + h + 12.0))


def draw_pricking(hand: Hand, stations: Stations, height: float) -> Drawing:
    """Draw the fold of a gathering with its holes, each with its distance from the head."""
    pen = Pen(hand)
    left, right, y = 10.0, 162.0, 17.0
    scale = (right - left) / height
    pen.box(Rect(left, y - 4.0, right - left, 8.0), PAPER_TINT)
    pen.line((left, y), (right, y), dash=DASH, width=HAIR)
    pen.words(left - 1.5, y, "head", align=Align.RIGHT, width=12.0, style=pen.small)
    pen.words(right + 1.5, y, "tail", align=Align.LEFT, width=12.0, style=pen.small)
    last = len(stations.holes) - 1
    for at, hole in enumerate(stations.holes):
        x = left + hole * scale
        pen.dot(x, y, 0.8, hand.accent if at in (0, last) else None)
        # Pairs stand close: their figures part to both sides.
        lean = 0.0 if at in (0, last) else (-3.4 if at % 2 else 3.4)
        pen.line((x, y + 4.0), (x, y + 5.6), (x + lean, y + 7.4), width=HAIR)
        pen.words(x + lean, y + 9.4, f"{hole:.2f}".rstrip("0").rstrip("."), width=14.0)
        pen.words(x + lean * 0.6, y - 6.4, str(at + 1), style=pen.small, width=6.0)
    pen.words((left + right) / 2, y + 14.2, "mm from the head of the trimmed page", style=pen.small)
    pen.words(left + stations.holes[0] * scale, y - 10.2, "kettle", style=pen.small, width=12.0)
    pen.words(left + stations.holes[-1] * scale, y - 10.2, "kettle", style=pen.small, width=12.0)
    return pen.finish("pricking", Size(WIDE, 34.0))


def draw_sewing(hand: Hand, stations: Stations, height: float, gatherings: int) -> Drawing:
    """Draw the way of the thread through the first three gatherings, the first at the foot."""
    pen = Pen(hand)
    rows = min(3, gatherings)
    left, right, pitch = 18.0, 156.0, 20.0
    scale = (right - left) / height
    xs = [left + hole * scale for hole in stations.holes]
    foot = 8.0 + pitch * rows
    taped = stations.method is SewingMethod.TAPES
    if taped:
        for a, b in stations.pairs:
            tape = Rect(left + (a + 1.0) * scale, 5.0, (b - a - 2.0) * scale, foot - 5.0)
            pen.box(tape, CLOTH, width=HAIR)
    for number in range(1, rows + 1):
        y = foot - pitch * (number - 0.5)
        pen.box(Rect(left, y - 1.1, right - left, 2.2), PAPER_TINT, width=HAIR)
        name = signature_of(number)
        pen.words(left - 8.0, y, name, style=hand.lead, width=12.0)
        way = trace_thread(stations, number)
        for one in way:
            a, b = xs[one.start], xs[one.end]
            if one.inside:
                pen.line((a, y), (a, y - 3.4), (b, y - 3.4), (b, y), width=BOLD)
            else:
                dip = 3.2 if number == 1 or taped else pitch + 2.2
                pen.line(
                    (a, y),
                    (a, y + 1.6),
                    ((a + b) / 2, y + dip),
                    (b, y + 1.6),
                    (b, y),
                    width=BOLD,
                    colour=hand.accent,
                )
        first, second = xs[way[0].start], xs[way[0].end]
        third = (first + 2 * second) / 3
        pen.arrow((first * 0.6 + second * 0.4, y - 3.4), (third, y - 3.4), width=BOLD)
        if number == 1:
            for at, x in enumerate(xs):
                lean = 0.0 if at in (0, len(xs) - 1) else (-1.6 if at % 2 else 1.6)
                pen.words(x + lean, y + 6.6, str(at + 1), style=pen.small, width=6.0)
            pen.line((xs[0] - 9.0, y + 4.0), (xs[0] - 2.0, y + 2.0), (xs[0], y), width=BOLD)
            pen.words(xs[0] - 9.5, y + 6.4, "end", style=pen.small, width=9.0)
        if number < rows:
            _draw_turn(pen, xs[way[-1].end], y, pitch, at_tail=number % 2 == 1)
    for y in (foot - pitch * (n - 0.5) for n in range(1, rows + 1)):
        for x in xs:
            pen.dot(x, y, 0.55)
    pen.words(left, foot + 3.0, "head", style=pen.small, width=12.0)
    pen.words(right, foot + 3.0, "tail", style=pen.small, width=12.0)
    key = "black: inside the fold      brown: outside, on the spine"
    pen.words((left + right) / 2, foot + 7.0, key, style=pen.small, width=120.0)
    return pen.finish("sewing", Size(WIDE, foot + 10.0))


def _draw_turn(pen: Pen, x: float, y: float, pitch: float, *, at_tail: bool) -> None:
    """The thread goes up into the next gathering at the kettle."""
    out = 4.0 if at_tail else -4.0
    pen.line(
        (x, y),
        (x + out, y - 3.0),
        (x + out, y - pitch + 3.0),
        (x, y - pitch),
        width=BOLD,
        colour=pen.hand.accent,
    )


def draw_pressing(hand: Hand, case: CaseMeasures) -> Drawing:
    """Draw the block between boards, seen from the head, and where to measure it."""
    pen = Pen(hand)
    thick = 17.0
    left, top, wide = 46.0, 14.0, 66.0
    for k in range(2):
        y = top - 6.0 if k == 0 else top + thick
        pen.box(Rect(left - 6.0, y, wide + 14.0, 6.0), BOARD)
    for k in range(9):
        y = top + thick * k / 8
        pen.line((left, y), (left + wide, y), width=HAIR)
    for k in range(4):
        pen.arc(left, top + thick * (k + 0.5) / 4, 1.6, thick / 8, 90.0, 270.0, width=FINE)
    pen.arrow((left + wide / 2, 0.5), (left + wide / 2, top - 7.0), width=BOLD)
    pen.words(left + wide / 2 + 4.0, 3.0, "weight", align=Align.LEFT, style=pen.small)
    pen.measure_down(top, top + thick, left - 12.0, f"{case.thickness:.1f}", edge=left - 2.0)
    pen.words(
        left - 16.0,
        top + thick / 2,
        "measure here,\nat head, middle, tail",
        align=Align.RIGHT,
        style=pen.small,
        width=34.0,
    )
    pen.words(left + wide + 12.0, top + thick / 2, "fore-edge", align=Align.LEFT, style=pen.small)
    return pen.finish("pressing", Size(WIDE, top + thick + 10.0))


def draw_round(hand: Hand, case: CaseMeasures) -> Drawing:
    """Draw the rounded block from the head, its back as large as life where that fits."""
    pen = Pen(hand)
    scale = min(1.0, 46.0 / case.thickness)
    thick, rise = case.thickness * scale, case.back_rise * scale
    left, top, wide = 62.0, 8.0, 58.0
    radius, middle = thick / math.sqrt(3.0), top + thick / 2
    centre = left + radius / 2
    for k in range(11):
        y = top + thick * k / 10
        out = math.sqrt(radius**2 - (y - middle) ** 2) - radius / 2
        pen.line((left - out, y), (left + wide - out, y), width=HAIR)
    pen.arc(centre, middle, radius, radius, 120.0, 240.0, width=BOLD, colour=hand.accent)
    pen.arc(centre + wide, middle, radius, radius, 120.0, 240.0, width=FINE)
    edge = left - rise
    pen.measure_down(top, top + thick, left - rise - 12.0, f"{case.thickness:.1f}", edge=left)
    pen.measure_across(edge, left, top + thick + 7.0, f"{case.back_rise:.1f}", edge=top + thick)
    told = "as large as life" if scale == 1.0 else f"drawn {scale:.2f} times as large"
    pen.words(
        left + wide + 12.0,
        middle - 6.0,
        f"the back, {told}:\n{case.back_width:.1f} mm over the round",
        align=Align.LEFT,
        style=pen.small,
        width=46.0,
    )
    pen.words(
        left + wide + 12.0,
        middle + 6.0,
        "the fore-edge is as hollow\nas the back is round",
        align=Align.LEFT,
        style=pen.small,
        width=46.0,
    )
    return pen.finish("a rounded back", Size(WIDE, top + thick + 14.0))


def draw_lining(hand: Hand, case: CaseMeasures) -> Drawing:
    """Draw the spine from behind with mull, lining and headbands, and the layers in order."""
    pen = Pen(hand)
    height = case.block.page.height
    scale = 62.0 / height
    top, middle, wide = 6.0, 52.0, max(9.0, case.back_width * scale * 1.6)
    left = middle - wide / 2
    beyond = case.casing.mull_beyond * scale
    mull_top = top + (height - case.mull.height) / 2 * scale
    lining_top = top + (height - case.lining.height) / 2 * scale
    pen.box(Rect(left - 16.0, top, 32.0 + wide, 62.0), PAPER_TINT, width=HAIR)
    pen.box(
        Rect(left - beyond, mull_top, wide + 2 * beyond, case.mull.height * scale),
        CLOTH,
        dash=(0.6, 0.5),
    )
    pen.box(Rect(left, top, wide, 62.0), width=FINE)
    pen.box(Rect(left, lining_top, wide, case.lining.height * scale), CARD)
    for y in (top - 1.0, top + 62.0 - 1.0):
        pen.box(Rect(left, y, wide, 2.0), hand.accent)
    pen.measure_across(
        left - beyond,
        left + wide + beyond,
        top + 68.0,
        f"mull {case.mull.width:.0f} mm",
        edge=mull_top + case.mull.height * scale,
    )
    pen.measure_down(
        mull_top,
        mull_top + case.mull.height * scale,
        left - beyond - 10.0,
        f"{case.mull.height:.0f} mm",
        edge=left - beyond,
    )
    x = 100.0
    notes = (
        (top, f"headband, {case.headband.width:.1f} mm wide"),
        (lining_top + 16.0, f"lining, {case.lining.width:.1f} × {case.lining.height:.0f} mm"),
        (lining_top + 32.0, f"mull, {case.mull.width:.0f} × {case.mull.height:.0f} mm"),
        (lining_top + 48.0, "block, its threads and thin glue"),
    )
    ends = (left + wide, left + wide, left + wide + beyond, left + wide + 15.0)
    for (y, words), end in zip(notes, ends, strict=True):
        pen.line((end, y), (x - 2.0, y), width=HAIR)
        pen.dot(end, y, 0.5)
        pen.words(x, y, words, align=Align.LEFT, width=70.0)
    pen.grain(146.0, top + 46.0)
    return pen.finish("lining", Size(WIDE, top + 72.0))
