"""How the registration sheet is read, in pictures, and what was found."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from wayfold.base.geometry import Affine, Point, Rect, Size
from wayfold.bench.figure import BOLD, DASH, FINE, HAIR, PAPER_TINT, Pen
from wayfold.bench.worksheet import choose_hand
from wayfold.book.registration import Registration
from wayfold.book.style import Style
from wayfold.drawing.items import Drawing
from wayfold.drawing.text import Align
from wayfold.press.registering import fit_affine, list_marks, measure_lengths
from wayfold.press.registration_sheet import NAMES

FIGURE = Size(96.0, 66.0)
SHEET = Rect(8.0, 8.0, 80.0, 50.0)
EXAMPLE = Point(1.3, -0.8)
"""What the drawn mark reads: right and down in mm."""
ENLARGED = 4.8
MOST_TIMES, FARTHEST = 30.0, 7.0
"""So many times as far off as it lies a back is drawn at most, and so far (mm) in the figure."""


def draw_lit_sheet(sheet: Size, style: Style) -> Drawing:
    """Draw the sheet against the light: the front's marks, and the back's shining through."""
    pen = Pen(choose_hand(style))
    place = _lay(sheet)
    frame = place.apply_rect(Rect(0.0, 0.0, sheet.width, sheet.height))
    pen.box(frame, fill=PAPER_TINT)
    _draw_head(pen, frame)
    for name, mark in zip(NAMES, list_marks(sheet), strict=True):
        at = place.apply(mark)
        _draw_cross(pen, at, 3.2, HAIR)
        _draw_cross(pen, Point(at.x + 0.9, at.y - 0.5), 4.0, BOLD)
        inward = 8.0 if at.x < frame.center.x else -8.0
        pen.words(at.x + inward, at.y + (6.0 if at.y < frame.center.y else -6.0), name)
    pen.words(frame.center.x, frame.center.y - 2.4, "the front towards you,")
    pen.words(frame.center.x, frame.center.y + 2.4, "its head up, light behind it")
    return pen.finish("against the light", FIGURE)


def draw_mark_reading(style: Style) -> Drawing:
    """Draw one mark large, as it is read: how far right of 0, how far below."""
    pen = Pen(choose_hand(style))
    mid = Point(48.0, 34.0)
    for half in range(-12, 13):
        off = half / 2 * ENLARGED
        length = 4.2 if half % 10 == 0 else 2.8 if half % 2 == 0 else 1.5
        pen.line((mid.x + off, mid.y), (mid.x + off, mid.y - length), width=HAIR)
        pen.line((mid.x, mid.y + off), (mid.x - length, mid.y + off), width=HAIR)
        if half % 10 == 0 and half:
            # Where the number would stand under the drawn cross it is left out.
            pen.words(mid.x + off, mid.y + 2.6, _sign(half / 2, 0), style=pen.small)
            pen.words(mid.x + 3.2, mid.y + off, _sign(half / 2, 0), style=pen.small)
    pen.line((mid.x - 29.0, mid.y), (mid.x + 29.0, mid.y), width=HAIR)
    pen.line((mid.x, mid.y - 29.0), (mid.x, mid.y + 29.0), width=HAIR)
    cross = Point(mid.x + EXAMPLE.x * ENLARGED, mid.y + EXAMPLE.y * ENLARGED)
    pen.line((cross.x - 31.0, cross.y), (cross.x + 31.0, cross.y), width=BOLD)
    pen.line((cross.x, mid.y - 31.0), (cross.x, mid.y + 31.0), width=BOLD)
    accent = pen.hand.accent
    pen.dot(cross.x, mid.y, 0.9, accent)
    pen.dot(mid.x, cross.y, 0.9, accent)
    pen.words(
        cross.x + 2.4,
        mid.y + 7.6,
        f"{EXAMPLE.x:.1f} to the right",
        align=Align.LEFT,
        style=replace(pen.figure, colour=accent),
    )
    pen.words(
        mid.x - 5.4,
        cross.y - 5.0,
        f"{-EXAMPLE.y:.1f} above: {_sign(EXAMPLE.y)}",
        align=Align.RIGHT,
        style=replace(pen.figure, colour=accent),
    )
    return pen.finish("one mark", FIGURE)


def draw_lengths(sheet: Size, style: Style) -> Drawing:
    """Draw which two lengths are measured, and what they should be."""
    pen = Pen(choose_hand(style))
    place = _lay(sheet)
    frame = place.apply_rect(Rect(0.0, 0.0, sheet.width, sheet.height))
    pen.box(frame, fill=PAPER_TINT)
    _draw_head(pen, frame)
    across, along = measure_lengths(sheet)
    scale = place.a
    x, y = frame.center.x, frame.center.y
    half_x, half_y = across * scale / 2, along * scale / 2
    pen.arrow((x - half_x, y), (x + half_x, y), width=FINE, both=True)
    pen.arrow((x, y - half_y), (x, y + half_y), width=FINE, both=True)
    pen.words(x - half_x / 2, y - 3.2, f"across: {across:g} mm")
    pen.words(x + 2.0, y - half_y / 2, f"along: {along:g} mm", align=Align.LEFT)
    return pen.finish("two lengths", FIGURE)


def draw_found(sheet: Size, readings: Registration, style: Style) -> Drawing:
    """Draw how the back lies on the front by the readings, many times as far off as it is."""
    pen = Pen(choose_hand(style))
    place = _lay(sheet)
    frame = place.apply_rect(Rect(0.0, 0.0, sheet.width, sheet.height))
    pen.box(frame, fill=PAPER_TINT)
    _draw_head(pen, frame)
    marks = list_marks(sheet)
    largest = max(max(abs(off.x), abs(off.y)) for off in readings.offsets)
    times = min(MOST_TIMES, FARTHEST / (largest * place.a)) if largest else MOST_TIMES
    landed = []
    for mark, off in zip(marks, readings.offsets, strict=True):
        at, by = place.apply(mark), times * place.a
        landed.append(Point(at.x + off.x * by, at.y + off.y * by))
    lies = fit_affine([place.apply(mark) for mark in marks], landed)
    corners = (
        Point(frame.x, frame.y),
        Point(frame.right, frame.y),
        Point(frame.right, frame.bottom),
        Point(frame.x, frame.bottom),
    )
    back = [lies.apply(corner) for corner in corners]
    pen.shape([(p.x, p.y) for p in back], width=FINE, dash=DASH)
    told = replace(pen.figure, colour=pen.hand.accent)
    rows = zip(NAMES, marks, readings.offsets, landed, strict=True)
    for name, mark, off, there in rows:
        at = place.apply(mark)
        _draw_cross(pen, at, 3.4, HAIR)
        _draw_cross(pen, there, 4.4, BOLD)
        left = at.x < frame.center.x
        down = 12.0 if at.y < frame.center.y else -12.0
        pen.words(
            at.x + (-3.4 if left else 3.4),
            at.y + down,
            f"{name}: {_sign(off.x)}, {_sign(off.y)}",
            align=Align.LEFT if left else Align.RIGHT,
            style=told,
        )
    scale = f"heavy: the back, drawn {times:.0f} times as far off as it lies"
    pen.words(frame.center.x, frame.bottom + 5.2, scale, style=pen.small, width=92.0)
    return pen.finish("what was found", FIGURE)


def _sign(value: float, digits: int = 1) -> str:
    return f"{value:+.{digits}f}".replace("-", "−")


def _lay(sheet: Size) -> Affine:
    """The map from sheet space into the figure: as large as there is room, in the middle."""
    by = min(SHEET.width / sheet.width, SHEET.height / sheet.height)
    left = SHEET.center.x - by * sheet.width / 2
    top = SHEET.center.y - by * sheet.height / 2
    return Affine.scale(by).then(Affine.shift(left, top))


def _draw_head(pen: Pen, frame: Rect) -> None:
    x, y = frame.center.x, frame.y
    tab: Sequence[tuple[float, float]] = (
        (x - 6.0, y),
        (x + 6.0, y),
        (x + 5.2, y - 2.4),
        (x - 5.2, y - 2.4),
    )
    pen.shape(tab, fill=pen.hand.accent, width=HAIR)


def _draw_cross(pen: Pen, at: Point, arm: float, width: float) -> None:
    pen.line((at.x - arm, at.y), (at.x + arm, at.y), width=width)
    pen.line((at.x, at.y - arm), (at.x, at.y + arm), width=width)
