"""Distances on the earth, and cells of latitude and longitude to look places up by.

Distances are straight, between earth-centred positions on the WGS84 ellipsoid: they put places
in the order that ways over ground do (to a few millimetres within a day's travel), at the poles
and the antimeridian no less.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from wayfold.base.world import LonLat

SEMI_MAJOR_M = 6378137.0
"""Equatorial radius of WGS84 (defining constant, NGA.STND.0036)."""
ECCENTRICITY_2 = 6.69437999014e-3
"""First eccentricity squared of WGS84 (same source)."""

DEGREE_AT_LEAST_M = 110_000.0
"""A degree of latitude is nowhere shorter: 110,574 m at the equator, 111,694 m at the poles."""

CELL_DEG = 0.25
CELLS_ROUND = round(360.0 / CELL_DEG)


def distance_m(one: LonLat, other: LonLat) -> float:
    """Give the straight distance through the earth in metres.

    Shorter than the way over ground by less than 0.01 % up to 300 km.
    """
    return math.dist(to_ecef(one.longitude, one.latitude), to_ecef(other.longitude, other.latitude))


def to_ecef(longitude: float, latitude: float) -> tuple[float, float, float]:
    """Give earth-centred coordinates (m) of a place on the WGS84 ellipsoid."""
    lon, lat = math.radians(longitude), math.radians(latitude)
    normal = SEMI_MAJOR_M / math.sqrt(1.0 - ECCENTRICITY_2 * math.sin(lat) ** 2)
    ring = normal * math.cos(lat)
    polar = normal * (1.0 - ECCENTRICITY_2) * math.sin(lat)
    return ring * math.cos(lon), ring * math.sin(lon), polar


def cell_of(longitude: float, latitude: float) -> tuple[int, int]:
    """Give row and column of the cell a position lies in."""
    row = math.floor(latitude / CELL_DEG)
    return row, math.floor((longitude + 180.0) / CELL_DEG) % CELLS_ROUND


def list_cells(place: LonLat, radius_m: float) -> Iterator[tuple[int, int]]:
    """Give every cell that anything within ``radius_m`` (straight) of ``place`` can lie in.

    Two points on parallels of radii p, q at an angle w of longitude are at least
    2 sqrt(p q) sin(w/2) apart, and no parallel between is smaller than that of the highest
    latitude, whose radius is at least the equator's times its cosine.
    """
    reach = radius_m / DEGREE_AT_LEAST_M
    low, high = place.latitude - reach, place.latitude + reach
    rows = range(math.floor(low / CELL_DEG), math.floor(high / CELL_DEG) + 1)
    highest = max(abs(low), abs(high))
    smallest_m = SEMI_MAJOR_M * math.cos(math.radians(highest)) if highest < 90.0 else 0.0
    if radius_m < smallest_m:
        width = math.degrees(2.0 * math.asin(radius_m / (2.0 * smallest_m)))
        first = math.floor((place.longitude + 180.0 - width) / CELL_DEG)
        last = math.floor((place.longitude + 180.0 + width) / CELL_DEG)
    else:
        first, last = 0, CELLS_ROUND - 1
    for row in rows:
        for column in range(first, min(last, first + CELLS_ROUND - 1) + 1):
            yield row, column % CELLS_ROUND
