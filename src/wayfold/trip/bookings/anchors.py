"""Where bookings say that one was, and when: evidence for clocks, and places for pictures."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, time, timedelta

from wayfold.trip.bookings.model import Bookings, Lodging, Visit, Way
from wayfold.trip.clocks.model import Anchor
from wayfold.trip.zones import find_zone, instant_of

AT_AIRPORT = timedelta(hours=1)
"""Before its departure, and after its arrival, one is where a way begins and ends."""
VISIT = timedelta(hours=1)
EVENING, MORNING = time(22), time(7)


def list_anchors(bookings: Bookings) -> tuple[Anchor, ...]:
    """Give the times at which bookings tell where one was, in order."""
    found = [
        *(anchor for way in bookings.ways for anchor in _of_way(way)),
        *(anchor for lodging in bookings.lodgings for anchor in _of_lodging(lodging)),
        *(anchor for visit in bookings.visits for anchor in _of_visit(visit)),
    ]
    return tuple(sorted(found, key=lambda a: (a.first, a.last, a.words)))


def _of_way(way: Way) -> Iterator[Anchor]:
    if way.depart:
        yield Anchor(way.depart.utc - AT_AIRPORT, way.depart.utc, way.start.place, way.words)
    if way.arrive:
        yield Anchor(way.arrive.utc, way.arrive.utc + AT_AIRPORT, way.end.place, way.words)


def _of_lodging(lodging: Lodging) -> Iterator[Anchor]:
    zone = find_zone(lodging.spot.place) if lodging.spot else None
    if lodging.spot is None or zone is None:
        return
    for night in range(lodging.nights):
        evening = lodging.first + timedelta(days=night)
        yield Anchor(
            instant_of(datetime.combine(evening, EVENING), zone),
            instant_of(datetime.combine(evening + timedelta(days=1), MORNING), zone),
            lodging.spot.place,
            lodging.name,
        )


def _of_visit(visit: Visit) -> Iterator[Anchor]:
    zone = find_zone(visit.spot.place) if visit.spot else None
    if visit.spot is None or visit.at is None or zone is None:
        return
    at = instant_of(visit.at, zone)
    yield Anchor(at, at + VISIT, visit.spot.place, visit.name)
