"""From readings of the registration sheet to what the printer does, and how it is made good.

All maps are of sheet space (mm), of the front unless it is said otherwise. What a printer does to a
side is taken for an affine map: shift, turn, stretch and slant. A sheet's four marks over-determine
it, and least squares (Gauss 1809) settle it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from wayfold.base.geometry import Affine, Point, Size
from wayfold.book.materials import Duplex
from wayfold.book.registration import Registration
from wayfold.press.bed import turns_heads
from wayfold.press.model import InterleafSheet, PressSheet

MARK_INSET = (40.0, 30.0)
"""How far the marks lie from the sheet's edges, across and along."""
ARROW_INSET = (30.0, 20.0)
"""How far the measured lengths' arrowheads lie from the sheet's edges."""
LARGEST_OFFSET = 8.0
"""A back that lies farther off was fed wrong."""
LARGEST_STRETCH = 0.02
MISREAD = 0.5
"""Four readings to a tenth of a millimetre agree better than this (mm)."""

Laid = TypeVar("Laid", PressSheet, InterleafSheet)


@dataclass(frozen=True, slots=True)
class Misprint:
    """Where a printer puts what is drawn: ``front`` and ``back``, each in its own sheet space."""

    front: Affine = Affine()
    back: Affine = Affine()


def list_marks(sheet: Size) -> tuple[Point, Point, Point, Point]:
    """Give where the four marks lie on the front: head left, head right, foot left, foot right."""
    across, along = MARK_INSET
    xs, ys = (across, sheet.width - across), (along, sheet.height - along)
    return (Point(xs[0], ys[0]), Point(xs[1], ys[0]), Point(xs[0], ys[1]), Point(xs[1], ys[1]))


def measure_lengths(sheet: Size) -> tuple[float, float]:
    """Give how long the lengths across and along should be."""
    return sheet.width - 2 * ARROW_INSET[0], sheet.height - 2 * ARROW_INSET[1]


def see_through(sheet: Size, *, turns_heads: bool) -> Affine:
    """Give where a point of the back's image lies on the front, looking through the paper."""
    if turns_heads:
        return Affine(1.0, 0.0, 0.0, -1.0, 0.0, sheet.height)
    return Affine(-1.0, 0.0, 0.0, 1.0, sheet.width, 0.0)


def find_misprint(readings: Registration, sheet: Size, *, turns_heads: bool) -> Misprint:
    """Give what the printer does, by the readings.

    The front is taken to be stretched about the sheet's middle, its place being nowhere measured
    (and nowhere of importance: the sheet is trimmed to its marks); the back is what then makes its
    crosses lie where they were read.
    """
    wanted = measure_lengths(sheet)
    scale_x = (readings.across or wanted[0]) / wanted[0]
    scale_y = (readings.along or wanted[1]) / wanted[1]
    middle = Point(sheet.width / 2, sheet.height / 2)
    front = (
        Affine.shift(-middle.x, -middle.y)
        .then(Affine.scale(scale_x, scale_y))
        .then(Affine.shift(middle.x, middle.y))
    )
    marks = list_marks(sheet)
    landed = [
        Point(at.x + offset.x, at.y + offset.y)
        for at, offset in zip(map(front.apply, marks), readings.offsets, strict=True)
    ]
    through = see_through(sheet, turns_heads=turns_heads)
    seen = fit_affine(marks, landed)
    return Misprint(front, through.then(seen).then(through.inverse()))


@dataclass(frozen=True, slots=True)
class BackLie:
    """How the back lies on the front, seen through it with the head up.

    ``right`` and ``down`` (mm) are at the sheet's middle, ``turn_deg`` goes clockwise; ``across``
    and ``along`` (mm) are how much longer the back is than the front, over the whole sheet.
    """

    right: float
    down: float
    turn_deg: float
    across: float
    along: float


def describe_lie(readings: Registration, sheet: Size) -> BackLie:
    """Give how the back lies on the front by the readings of the four marks."""
    marks = list_marks(sheet)
    landed = [
        Point(at.x + off.x, at.y + off.y) for at, off in zip(marks, readings.offsets, strict=True)
    ]
    seen = fit_affine(marks, landed)
    middle = Point(sheet.width / 2, sheet.height / 2)
    there = seen.apply(middle)
    turns = (math.atan2(seen.b, seen.a), math.atan2(-seen.c, seen.d))
    return BackLie(
        there.x - middle.x,
        there.y - middle.y,
        math.degrees(sum(turns) / 2),
        (math.hypot(seen.a, seen.b) - 1.0) * sheet.width,
        (math.hypot(seen.c, seen.d) - 1.0) * sheet.height,
    )


def measure_misreading(readings: Registration, sheet: Size) -> float:
    """Give by how much (mm) one of the readings is at odds with the other three.

    Three marks settle an affine map; what the fourth is off by is spread over all four alike, so
    which of them was misread cannot be told.
    """
    marks = list_marks(sheet)
    landed = [
        Point(at.x + off.x, at.y + off.y) for at, off in zip(marks, readings.offsets, strict=True)
    ]
    fitted = fit_affine(marks, landed)
    return 4 * max(
        math.hypot(fitted.apply(at).x - there.x, fitted.apply(at).y - there.y)
        for at, there in zip(marks, landed, strict=True)
    )


def make_good(
    sheets: Sequence[Laid], readings: Registration | None, size: Size, duplex: Duplex
) -> tuple[Laid, ...]:
    """Give sheets with the contrary of what the printer does done to each side.

    ``size`` is that of the sheet that was read; a printer feeds others otherwise, so those stay.
    """
    if readings is None:
        return tuple(sheets)
    misprint = find_misprint(readings, size, turns_heads=turns_heads(size, duplex))
    good = []
    for sheet in sheets:
        if sheet.size != size:
            good.append(sheet)
            continue
        front = replace(sheet.front, made_good=misprint.front.inverse())
        back = replace(sheet.back, made_good=misprint.back.inverse())
        good.append(replace(sheet, front=front, back=back))
    return tuple(good)


def fit_affine(points: Sequence[Point], images: Sequence[Point]) -> Affine:
    """Give the affine map that takes points to their images with the least sum of squares.

    Raises ZeroDivisionError for points on one line.
    """
    # The points are taken from their mean, so that what remains are two rows of normal equations.
    n = len(points)
    px, py = sum(p.x for p in points) / n, sum(p.y for p in points) / n
    qx, qy = sum(q.x for q in images) / n, sum(q.y for q in images) / n
    xx = sum((p.x - px) ** 2 for p in points)
    yy = sum((p.y - py) ** 2 for p in points)
    xy = sum((p.x - px) * (p.y - py) for p in points)
    det = xx * yy - xy * xy
    rows = []
    for values in ([q.x - qx for q in images], [q.y - qy for q in images]):
        along_x = sum((p.x - px) * v for p, v in zip(points, values, strict=True))
        along_y = sum((p.y - py) * v for p, v in zip(points, values, strict=True))
        rows.append(((along_x * yy - along_y * xy) / det, (along_y * xx - along_x * xy) / det))
    (a, c), (b, d) = rows
    return Affine(a, b, c, d, qx - a * px - c * py, qy - b * px - d * py)
