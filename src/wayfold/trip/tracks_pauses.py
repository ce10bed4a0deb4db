"""Where a track paused for a while."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from wayfold.base.world import LonLat
from wayfold.trip.earth import to_ecef
from wayfold.trip.tracks import Fix
from wayfold.trip.tracks_place import JOIN_GAP_S

PAUSE_M = 30.0
"""A receiver at rest wanders by some ten metres (common practice, no single source)."""
PAUSE_FOR = timedelta(seconds=90)
PAUSE_MOST = timedelta(minutes=15)
"""A longer rest is a meal or a visit: its middle tells nothing of when pictures were taken."""
PAUSE_STEP = timedelta(seconds=10)
"""Fixes nearer in time than this tell no more of a pause."""


@dataclass(frozen=True, slots=True)
class Pause:
    """Time spent at one spot; ``place`` is that of the middle fix."""

    first: datetime
    last: datetime
    place: LonLat


def find_pauses(fixes: Sequence[Fix]) -> tuple[Pause, ...]:
    """Give the pauses between ``PAUSE_FOR`` and ``PAUSE_MOST``, in order.

    ``fixes`` are in order of time. A pause is a run of fixes within ``PAUSE_M`` of its first one
    without a gap in the recording; of runs that overlap the longest is the pause, so that a slow
    walk up to it does not count.
    """
    thin = _thin(fixes)
    spots = [to_ecef(f.place.longitude, f.place.latitude) for f in thin]
    gap = timedelta(seconds=JOIN_GAP_S)
    runs: list[tuple[timedelta, int, int]] = []
    start = 0
    while start < len(thin):
        end = start
        while (
            end + 1 < len(thin)
            and thin[end + 1].utc - thin[end].utc <= gap
            and math.dist(spots[start], spots[end + 1]) <= PAUSE_M
        ):
            end += 1
        rest = thin[end].utc - thin[start].utc
        if rest >= PAUSE_FOR:
            runs.append((-rest, start, end))
        start = end + 1 if rest > PAUSE_MOST else start + 1
    taken: set[int] = set()
    pauses = []
    for rest, start, end in sorted(runs):
        if taken.isdisjoint(range(start, end + 1)):
            taken.update(range(start, end + 1))
            if -rest <= PAUSE_MOST:
                middle = thin[(start + end) // 2].place
                pauses.append(Pause(thin[start].utc, thin[end].utc, middle))
    return tuple(sorted(pauses, key=lambda p: p.first))


def _thin(fixes: Sequence[Fix]) -> list[Fix]:
    kept: list[Fix] = []
    for fix in fixes:
        if not kept or fix.utc - kept[-1].utc >= PAUSE_STEP:
            kept.append(fix)
    return kept
