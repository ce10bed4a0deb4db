"""Where a track lingered, and which local days it covers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import groupby

from wayfold.base.world import LonLat
from wayfold.trip.earth import distance_m
from wayfold.trip.tracks import Fix
from wayfold.trip.zones import wall_time
from wayfold.trip.zones_timeline import ZoneTimeline

STAY_M = 200.0
STAY_FOR = timedelta(minutes=20)
"""Within so far for so long is a stay: the stay points of Li et al. 2008 (ACM GIS)."""


@dataclass(frozen=True, slots=True)
class TrackStay:
    """Time spent within ``STAY_M`` of one spot; ``place`` is that of the middle fix."""

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
