"""Which zone the party was in at any instant, from where it was seen."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

from wayfold.base.world import LonLat
from wayfold.trip.zones import find_zone, offset_minutes

NEAREST_WITHIN = timedelta(hours=36)
"""Between two zones the nearer sighting tells the zone, if it is no farther away in time."""


@dataclass(frozen=True, slots=True)
class ZoneSighting:
    """The party, or one of it, in a zone at an instant (aware, UTC)."""

    utc: datetime
    zone: str


@dataclass(frozen=True, slots=True)
class ZoneTimeline:
    """Sightings on land in order of time; those at sea are left out, for no clock follows them."""

    sightings: tuple[ZoneSighting, ...] = ()

    def zone_at(self, utc: datetime) -> str | None:
        """Give the zone of the nearest sighting in time.

        Between two sightings of one zone that zone, however far they lie; otherwise the nearer
        (of two equally near the earlier) within ``NEAREST_WITHIN``; None where there is none.
        """
        index = bisect_left(self.sightings, utc, key=lambda s: s.utc)
        around = self.sightings[max(0, index - 1) : index + 1]
        if len(around) == 2 and around[0].zone == around[1].zone:
            return around[0].zone
        near = min(around, key=lambda s: abs(s.utc - utc), default=None)
        return near.zone if near and abs(near.utc - utc) <= NEAREST_WITHIN else None

    def changes(self) -> tuple[tuple[datetime, datetime], ...]:
        """Give the spans of time within which the clocks of the places passed changed.

        Borders, flights and, between two sightings in one zone, the nights of daylight saving.
        """
        return tuple(
            (one.utc, other.utc)
            for one, other in pairwise(self.sightings)
            if offset_minutes(one.utc, one.zone) != offset_minutes(other.utc, other.zone)
        )


def trace_zones(seen: Iterable[tuple[datetime, LonLat]]) -> ZoneTimeline:
    """Give the timeline of places seen at instants (aware, UTC), in any order."""
    zoned = ((utc, find_zone(place)) for utc, place in seen)
    kept = sorted({(utc, zone) for utc, zone in zoned if zone is not None})
    return ZoneTimeline(tuple(ZoneSighting(utc, zone) for utc, zone in kept))
