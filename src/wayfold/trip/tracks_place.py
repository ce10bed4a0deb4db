"""Where the party was at an instant, by its tracks: the published rules of gap and distance."""

from __future__ import annotations

import enum
import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from wayfold.base.world import LonLat
from wayfold.trip.tracks import Fix, Track, speed_and_way

JOIN_GAP_S = 300.0
"""Between two fixes no farther apart in time the way was straight."""
HOLD_GAP_S = 1800.0
HOLD_M = 200.0
"""Fixes that near on both sides of a longer gap: one was indoors, and stayed."""
TRANSIT_M_S = 25.0
"""Faster over a long gap: in a train or an aeroplane, anywhere between (proposal)."""
NEAR_S = 1800.0
BEYOND_S = 60.0
"""So long before the first and after the last fix one was still there."""


class How(enum.IntEnum):
    """How a position came about, the best first."""

    BETWEEN = 1
    """Between two fixes close in time."""
    HELD = 2
    """One stayed within ``HOLD_M`` over a gap."""
    BEYOND = 3
    """Just before the first or after the last fix."""
    NEAREST = 4
    """The nearest fix in time, up to half an hour away: to be shown as doubtful."""
    IN_TRANSIT = 5
    """Travelling fast between two fixes far apart: no position."""
    UNKNOWN = 6
    """The tracks tell nothing."""


@dataclass(frozen=True, slots=True)
class Located:
    """A position with how it came about; ``gap_s`` from the fixes that it leans on."""

    how: How
    place: LonLat | None = None
    gap_s: float = 0.0

    @property
    def doubtful(self) -> bool:
        """Whether the place is a guess from afar, to be flagged where it is used."""
        return self.how is How.NEAREST


NOWHERE = Located(How.UNKNOWN)


class Tracks:
    """All recordings of the party. Two receivers that ran at once are asked one by one."""

    def __init__(self, tracks: Sequence[Track]) -> None:
        self._runs = [track.fixes for track in tracks if track.segments]

    @property
    def runs(self) -> Sequence[tuple[Fix, ...]]:
        """The fixes of each recording in order of time."""
        return self._runs

    def locate(self, utc: datetime) -> Located:
        """Give the best position at ``utc`` (aware): the surest kind, then the smallest gap."""
        found = [_locate(fixes, utc) for fixes in self._runs]
        return min(found, key=lambda f: (f.how, f.gap_s), default=NOWHERE)


def _locate(fixes: Sequence[Fix], utc: datetime) -> Located:
    index = bisect_left(fixes, utc, key=lambda f: f.utc)
    if index < len(fixes) and fixes[index].utc == utc:
        return Located(How.BETWEEN, fixes[index].place)
    if index in (0, len(fixes)):
        end = fixes[0] if index == 0 else fixes[-1]
        away_s = abs((utc - end.utc).total_seconds())
        if away_s <= BEYOND_S:
            return Located(How.BEYOND, end.place, away_s)
        return Located(How.NEAREST, end.place, away_s) if away_s <= NEAR_S else NOWHERE
    before, after = fixes[index - 1], fixes[index]
    gap_s = (after.utc - before.utc).total_seconds()
    into_s = (utc - before.utc).total_seconds()
    speed, way_m = speed_and_way(before, after)
    if gap_s <= JOIN_GAP_S:
        return Located(How.BETWEEN, interpolate(before.place, after.place, into_s / gap_s), gap_s)
    nearer = before if into_s <= gap_s / 2 else after
    away_s = min(into_s, gap_s - into_s)
    if gap_s <= HOLD_GAP_S and way_m < HOLD_M:
        return Located(How.HELD, nearer.place, gap_s)
    if speed > TRANSIT_M_S:
        return Located(How.IN_TRANSIT, None, gap_s)
    return Located(How.NEAREST, nearer.place, away_s) if away_s <= NEAR_S else NOWHERE


def interpolate(one: LonLat, other: LonLat, share: float) -> LonLat:
    """Give the point at ``share`` (0-1) of the great circle from one place to another.

    Spherical linear interpolation of unit vectors (Shoemake 1985); over the date line and the
    poles like anywhere. Opposite ends of the earth have no one way between: the start is given.
    """
    a, b = _unit(one), _unit(other)
    angle = math.atan2(
        math.dist((0, 0, 0), _cross(a, b)), sum(p * q for p, q in zip(a, b, strict=True))
    )
    sine = math.sin(angle)
    if angle < 1e-12 or sine < 1e-9:
        return one
    first, second = math.sin((1 - share) * angle) / sine, math.sin(share * angle) / sine
    x, y, z = (first * p + second * q for p, q in zip(a, b, strict=True))
    return LonLat(math.degrees(math.atan2(y, x)), math.degrees(math.atan2(z, math.hypot(x, y))))


def _unit(place: LonLat) -> tuple[float, float, float]:
    lon, lat = math.radians(place.longitude), math.radians(place.latitude)
    return math.cos(lat) * math.cos(lon), math.cos(lat) * math.sin(lon), math.sin(lat)


def _cross(
    a: tuple[float, float, float], b: tuple[float, float, float]
) -> tuple[float, float, float]:
    return (
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    )
