"""Ways over the ground: the shortest line between two places on the WGS84 ellipsoid.

By C. F. F. Karney, Algorithms for geodesics, J. Geodesy 87 (2013), 43-55, in his own library:
exact to some nanometres, and it finds the line between nearly opposite ends of the earth, where
older formulas do not converge. ``earth.distance_m`` is the straight way through the ground, for
comparing and for the short steps of a track; numbers that a reader sees come from here.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from geographiclib.geodesic import Geodesic

from wayfold.base.world import LonLat

METRES_PER_MILE = 1609.344
"""The international mile of 1959, exact."""


def geodesic_m(one: LonLat, other: LonLat) -> float:
    """Give the length in metres of the shortest way over the WGS84 ellipsoid."""
    line = Geodesic.WGS84.Inverse(
        one.latitude, one.longitude, other.latitude, other.longitude, Geodesic.DISTANCE
    )
    return float(line["s12"])


def way_m(places: Sequence[LonLat]) -> float:
    """Give the length in metres of the way through ``places`` in order, along geodesics."""
    return sum(geodesic_m(one, other) for one, other in pairwise(places))
