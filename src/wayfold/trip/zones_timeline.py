"""Which zone the party was in at any instant, from where it was seen."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import pairwise

from wayfold.base.world import LonLat
from wayfold.trip.zones import find_zone, offset_minutes

NEAREST_WITHIN = timedelta(hours=36)
"""Between two zones the nearer sighting tells the zone, if it is no farther away in time."""

LASTING = timedelta(hours=12)
"""Nobody sets a camera for less."""


@dataclass(frozen=True, slots=True)
class ZoneSighting:
    """The party, or one of it, in a zone at an instant (aware, UTC)."""

    utc: datetime
    zone: str


@dataclass(frozen=True, slots=True)
class ZoneChange:
    """The party's local time changed by ``step_s`` between ``first`` and ``last`` (naive, UTC)."""

    first: datetime
    last: datetime
    step_s: float


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

    def changes(self) -> tuple[ZoneChange, ...]:
        """Give where the party's local time changed for good: borders, flights, summer time.

        Hours spent in another zone on the way (a connecting flight, a valley over the border)
        are no change.
        """
        runs: list[tuple[datetime, datetime, float]] = []
        for seen in self.sightings:
            offset = offset_minutes(seen.utc, seen.zone)
            if runs and runs[-1][2] == offset:
                runs[-1] = (runs[-1][0], seen.utc, offset)
            else:
                runs.append((seen.utc, seen.utc, offset))
        lasting: list[tuple[datetime, datetime, float]] = []
        for number, run in enumerate(runs):
            until = runs[number + 1][0] if number + 1 < len(runs) else run[1]
            ends = number in (0, len(runs) - 1)
            if not ends and until - run[0] < LASTING:
                continue
            if lasting and lasting[-1][2] == run[2]:
                lasting[-1] = (lasting[-1][0], run[1], run[2])
            else:
                lasting.append(run)
        return tuple(
            ZoneChange(_naive(one[1]), _naive(other[0]), (other[2] - one[2]) * 60.0)
            for one, other in pairwise(lasting)
        )


def _naive(utc: datetime) -> datetime:
    return utc.astimezone(UTC).replace(tzinfo=None)


def trace_zones(seen: Iterable[tuple[datetime, LonLat]]) -> ZoneTimeline:
    """Give the timeline of places seen at instants (aware, UTC), in any order."""
    zoned = ((utc, find_zone(place)) for utc, place in seen)
    kept = sorted({(utc, zone) for utc, zone in zoned if zone is not None})
    return ZoneTimeline(tuple(ZoneSighting(utc, zone) for utc, zone in kept))
