"""Where bookings say that one was: for pictures that nothing better gives a place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, time, timedelta

from wayfold.base.world import LonLat
from wayfold.trip.bookings.model import Bookings, Lodging, Way

CHECK_IN, CHECK_OUT = time(15), time(11)
"""The usual hours of lodgings, where no way says when one came and left."""
AROUND_WAY = timedelta(hours=1)
VISIT = timedelta(hours=1)


@dataclass(frozen=True, slots=True)
class Presence:
    """One was at ``place`` from ``first`` to ``last`` on the clocks there (naive)."""

    first: datetime
    last: datetime
    place: LonLat

    @property
    def length(self) -> timedelta:
        """How long; the shorter tells more."""
        return self.last - self.first


def list_presences(bookings: Bookings) -> tuple[Presence, ...]:
    """Give what visits, ways and lodgings tell of where one was, in order of time.

    A lodging holds for the days between its nights too, but not for what a way leads to and
    from on the days of coming and leaving.
    """
    visits = [
        Presence(v.at, v.at + VISIT, v.spot.place) for v in bookings.visits if v.at and v.spot
    ]
    ways = [p for way in bookings.ways for p in _of_way(way)]
    lodgings = [
        Presence(*span, lodging.spot.place)
        for lodging in bookings.lodgings
        if lodging.spot and (span := _span(lodging, bookings.ways))
    ]
    return tuple(sorted([*visits, *ways, *lodgings], key=lambda p: (p.first, p.last)))


def _of_way(way: Way) -> Iterator[Presence]:
    if way.depart:
        left = way.depart.local
        yield Presence(left - AROUND_WAY, left, way.start.place)
    if way.arrive:
        came = way.arrive.local
        yield Presence(came, came + AROUND_WAY, way.end.place)


def _span(lodging: Lodging, ways: Sequence[Way]) -> tuple[datetime, datetime] | None:
    first = datetime.combine(lodging.first, CHECK_IN)
    last = datetime.combine(lodging.last, CHECK_OUT)
    for way in ways:
        came = way.arrive.local if way.arrive else None
        left = way.depart.local if way.depart else None
        if came and lodging.first <= came.date() <= lodging.first + timedelta(days=1):
            first = came
        if left and lodging.last - timedelta(days=1) < left.date() <= lodging.last:
            last = left
    return (first, last) if first < last else None


def find_presence(local: datetime, presences: Sequence[Presence]) -> Presence | None:
    """Give what tells most closely where one was at a local time; None where nothing does."""
    holding = [p for p in presences if p.first <= local <= p.last]
    return min(holding, key=lambda p: (p.length, p.first), default=None)
