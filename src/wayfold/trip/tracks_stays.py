"""Where a track lingered or paused, and which local days it covers."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import groupby

from wayfold.base.world import LonLat
from wayfold.trip.earth import distance_m, to_ecef
from wayfold.trip.tracks import Fix
from wayfold.trip.tracks_place import JOIN_GAP_S
from wayfold.trip.zones import wall_time
from wayfold.trip.zones_timeline import ZoneTimeline

STAY_M = 200.0
STAY_FOR = timedelta(minutes=20)
"""Within so far for so long is a stay: the stay points of Li et al. 2008 (ACM GIS)."""
PAUSE_M = 30.0
"""A receiver at rest wanders by some ten metres (common practice, no single source)."""
PAUSE_FOR = timedelta(seconds=90)
PAUSE_MOST = timedelta(minutes=15)
"""A longer rest is a meal or a visit: its middle tells nothing of when pictures were taken."""
PAUSE_STEP = timedelta(seconds=10)
"""Fixes nearer in time than this tell no more of a pause."""


@dataclass(frozen=True, slots=True)
class TrackStay:
    """Time spent at one spot; ``place`` is that of the middle fix."""

    first: datetime
    last: datetime
    place: LonLat


def find_track_stays(fixes: Sequence[Fix]) -> tuple[TrackStay, ...]:
    """Give the stays in order. ``fixes`` are in order of time.

    A run of fixes within ``STAY_M`` of its first one that lasts ``STAY_FOR`` is a stay, gaps in
    the recording included: a receiver indoors is silent.
    """
    stays = []
    index = 0
    while index < len(fixes):
        end = index + 1
        while end < len(fixes) and distance_m(fixes[index].place, fixes[end].place) <= STAY_M:
            end += 1
        run = fixes[index:end]
        if run[-1].utc - run[0].utc >= STAY_FOR:
            stays.append(TrackStay(run[0].utc, run[-1].utc, run[len(run) // 2].place))
            index = end
        else:
            index += 1
    return tuple(stays)


def find_pauses(fixes: Sequence[Fix]) -> tuple[TrackStay, ...]:
    """Give the pauses between ``PAUSE_FOR`` and ``PAUSE_MOST``, in order. ``fixes`` as above.

    A pause is a run of fixes within ``PAUSE_M`` of its first one without a gap in the recording;
    of runs that overlap the longest is the pause, so that a slow walk up to it does not count.
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
                pauses.append(TrackStay(thin[start].utc, thin[end].utc, middle))
    return tuple(sorted(pauses, key=lambda p: p.first))


def _thin(fixes: Sequence[Fix]) -> list[Fix]:
    kept: list[Fix] = []
    for fix in fixes:
        if not kept or fix.utc - kept[-1].utc >= PAUSE_STEP:
            kept.append(fix)
    return kept


def split_track_days(
    fixes: Sequence[Fix], zones: ZoneTimeline
) -> tuple[tuple[date, tuple[Fix, ...]], ...]:
    """Give the fixes of each local day, in order of time.

    Over the date line a date may come twice, or not at all. Where no zone is known (a track all
    at sea) the days are those of UTC.
    """

    def day_of(fix: Fix) -> date:
        zone = zones.zone_at(fix.utc)
        return (wall_time(fix.utc, zone) if zone else fix.utc).date()

    return tuple((day, tuple(run)) for day, run in groupby(fixes, key=day_of))
