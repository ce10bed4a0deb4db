"""Recorded tracks: fixes in order of time, and lines without times."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise

from wayfold.base.findings import Finding
from wayfold.base.world import LonLat
from wayfold.trip.earth import distance_m


@dataclass(frozen=True, slots=True)
class Fix:
    """Where a receiver was at an instant (aware, UTC). ``hdop``: horizontal dilution, no unit."""

    utc: datetime
    place: LonLat
    elevation_m: float | None = None
    hdop: float | None = None


@dataclass(frozen=True, slots=True)
class Track:
    """One recording: segments of fixes, times strictly rising through all of them.

    ``lines`` are the parts without times: of use on a map, not for telling where one was.
    ``findings`` say what was left out of the file, and why.
    """

    name: str
    segments: tuple[tuple[Fix, ...], ...] = ()
    lines: tuple[tuple[LonLat, ...], ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def fixes(self) -> tuple[Fix, ...]:
        """All fixes in order of time."""
        return tuple(fix for segment in self.segments for fix in segment)

    @property
    def length_m(self) -> float:
        """The way along the recorded segments in metres; gaps between segments are not counted."""
        return sum(speed_and_way(a, b)[1] for s in self.segments for a, b in pairwise(s))


def speed_and_way(one: Fix, other: Fix) -> tuple[float, float]:
    """Give speed (m/s, of the straight way) and distance (m) from a fix to a later one."""
    way_m = distance_m(one.place, other.place)
    seconds = (other.utc - one.utc).total_seconds()
    return (way_m / seconds if seconds > 0 else float("inf")), way_m
