"""A scale bar that is right where it stands: its ends are a round distance apart on the ground."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from wayfold.maps.sheet import Sheet

KM_PER_MILE = 1.609344
_SHORTEST_MM = 16.0
LONGEST_MM = 42.0


@dataclass(frozen=True, slots=True)
class ScaleBar:
    """A bar of ``length`` mm for a ground distance of ``metres``, and what to write at it."""

    length: float
    metres: float
    text: str


def measure_bar(
    sheet: Sheet, x: float, y: float, *, leftwards: bool = False, miles: bool = False
) -> ScaleBar | None:
    """Give the longest fitting bar of a round length that starts (or ends) at ``x``, ``y`` (mm).

    The ground distance is the geodesic on WGS84 between the bar's two ends; None where one of
    them is off the earth.
    """
    unit = 1000.0 * KM_PER_MILE if miles else 1000.0
    way = -1.0 if leftwards else 1.0
    longest = ground_distance(sheet, x, y, way * LONGEST_MM)
    if not math.isfinite(longest) or longest <= 0.0:
        return None
    rounds = [n * 10.0**p for p in range(-3, 5) for n in (1.0, 2.0, 5.0)]
    fitting = [n for n in rounds if n * unit <= longest] or rounds[:1]
    metres = fitting[-1] * unit
    length = LONGEST_MM * metres / longest
    # Scale changes along the bar on a small map of much ground: correct the length a few times.
    for _ in range(6):
        length *= metres / ground_distance(sheet, x, y, way * length)
    return ScaleBar(length, metres, _write(fitting[-1], miles))


def ground_distance(sheet: Sheet, x: float, y: float, length: float) -> float:
    """Give the metres over ground between (x, y) and the point ``length`` mm to its right."""
    import pyproj

    lon, lat = sheet.to_ground(np.array([x, x + length]), np.array([y, y]))
    if not (np.isfinite(lon).all() and np.isfinite(lat).all()):
        return math.nan
    _, _, metres = pyproj.Geod(ellps="WGS84").inv(lon[0], lat[0], lon[1], lat[1])
    return float(metres)


def _write(amount: float, miles: bool) -> str:
    if not miles and amount < 1.0:
        return f"{amount * 1000:.0f} m"
    figures = f"{amount:,.0f}".replace(",", "\u202f") if amount >= 1 else f"{amount:g}"
    return f"{figures} {('mile' if amount == 1 else 'miles') if miles else 'km'}"
