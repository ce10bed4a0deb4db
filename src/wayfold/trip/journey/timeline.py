"""All that shows where one was, in order of time, and the stays it comes to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, time, timedelta

from wayfold.trip.bookings.model import Lodging, Spot, Way
from wayfold.trip.earth import distance_m
from wayfold.trip.journey.model import Stay
from wayfold.trip.model import Moment, Stop, Trip
from wayfold.trip.zones import find_zone, instant_of, wall_time

SAME_PLACE_M = 25_000.0
"""A lodging this near to where the pictures were taken is at the same place."""
AIRPORT_M = 100_000.0
"""An airport serves towns up to this far away."""
AIRPORT_WITHIN = timedelta(hours=36)
"""And is theirs if one was there within this time."""
EVENING, MORNING = time(22), time(7)
NOON = time(12)
CHANGE_WITHIN = timedelta(hours=24)
SEA_ZONE = "Etc/UTC"


@dataclass(frozen=True, slots=True)
class Seen:
    """One was at a spot at an instant (aware, UTC). ``way`` is the way that begins or ends there.

    ``stop`` is the photographs' own stop.
    """

    at: datetime
    spot: Spot
    stop: int | None = None
    way: int | None = None
    departing: bool = False


def list_sightings(
    trip: Trip, ways: Sequence[Way], lodgings: Iterable[Lodging]
) -> tuple[Seen, ...]:
    """Give where one was by pictures, ways and nights, in order of time.

    An airport counts as the town that one was at just before leaving from it, or just after
    landing, if it serves that.
    """
    pictures = [*_from_pictures(trip, ways)]
    ends = [t.utc for way in ways for t in (way.depart, way.arrive) if t]
    last = max([*(s.at for s in pictures), *ends], default=None)
    nights = [*_from_lodgings(lodgings, trip.stops, ways, last)]
    grounded = sorted([*pictures, *nights], key=lambda s: s.at)
    return tuple(sorted([*grounded, *_from_ways(ways, grounded)], key=_order))


def _order(seen: Seen) -> tuple[datetime, bool, int, bool]:
    # Where a way ends as the next begins, the end comes first.
    return seen.at, seen.way is not None, seen.way or 0, not seen.departing


def zone_of(spot: Spot) -> str:
    """Give the zone whose clocks tell a spot's time; UTC's at sea."""
    return find_zone(spot.place) or SEA_ZONE


def _from_pictures(trip: Trip, ways: Sequence[Way]) -> Iterator[Seen]:
    """Give the pictures at stops, but for those on the way whose place is their neighbours'."""
    spans = [(w.depart.utc, w.arrive.utc) for w in ways if w.depart and w.arrive]
    for moment in trip.moments:
        if moment.stop is None:
            continue
        stop = trip.stops[moment.stop]
        spot = Spot(stop.name, stop.country, stop.place)
        at = _instant(moment, spot)
        if at is None:
            continue
        aboard = any(depart < at < arrive for depart, arrive in spans)
        if not aboard or moment.place is not None:
            yield Seen(at, spot, moment.stop)


def _instant(moment: Moment, spot: Spot) -> datetime | None:
    """Give a picture's instant; where its clock is not known, as if it had shown local time."""
    if moment.utc is not None:
        return moment.utc
    return instant_of(moment.local, zone_of(spot)) if moment.local else None


def _from_lodgings(
    lodgings: Iterable[Lodging],
    stops: Sequence[Stop],
    ways: Sequence[Way],
    last: datetime | None,
) -> Iterator[Seen]:
    """Give evenings and mornings at lodgings, but for those that one was still or again away.

    Mornings after everything else do not make the journey longer: one wakes up and it is over.
    """
    for lodging in lodgings:
        if lodging.spot is None:
            continue
        spot, stop = _join_stop(lodging.spot, stops)
        zone = zone_of(spot)
        for night in range(lodging.nights):
            evening = lodging.first + timedelta(days=night)
            morning = evening + timedelta(days=1)
            came = instant_of(datetime.combine(evening, EVENING), zone)
            left = instant_of(datetime.combine(morning, MORNING), zone)
            arrivals = (way.arrive.utc for way in ways if way.arrive)
            if not any(came < at < left for at in arrivals):
                yield Seen(came, spot, stop)
            departures = (way.depart.utc for way in ways if way.depart)
            if not any(came < at < left for at in departures) and (last is None or left <= last):
                yield Seen(left, spot, stop)


def _join_stop(spot: Spot, stops: Sequence[Stop]) -> tuple[Spot, int | None]:
    """Give the stop's own spot where pictures were taken as near."""
    near = [(distance_m(spot.place, s.place), i) for i, s in enumerate(stops)]
    away_m, index = min(near, default=(float("inf"), -1))
    if away_m > SAME_PLACE_M:
        return spot, None
    stop = stops[index]
    return Spot(stop.name, stop.country, stop.place), index


def _from_ways(ways: Sequence[Way], grounded: Sequence[Seen]) -> Iterator[Seen]:
    for number, way in enumerate(ways):
        leave = way.depart.utc if way.depart else _noon(way)
        land = way.arrive.utc if way.arrive else leave
        before = [s for s in grounded if leave - AIRPORT_WITHIN <= s.at <= leave]
        after = [s for s in grounded if land <= s.at <= land + AIRPORT_WITHIN]
        yield _join_end(Seen(leave, way.start, None, number, True), before[::-1])
        yield _join_end(Seen(land, way.end, None, number, False), after)


def _noon(way: Way) -> datetime:
    return instant_of(datetime.combine(way.day, NOON), zone_of(way.start))


def _join_end(end: Seen, nearest_in_time: Sequence[Seen]) -> Seen:
    """Let an airport count as the place one was at; but not past another place in between."""
    for seen in nearest_in_time[:1]:
        if distance_m(seen.spot.place, end.spot.place) <= AIRPORT_M:
            return replace(end, spot=seen.spot, stop=seen.stop)
    return end


@dataclass(frozen=True, slots=True)
class Stretch:
    """A run of sightings at one place."""

    spot: Spot
    seen: tuple[Seen, ...]

    @property
    def departures(self) -> tuple[int, ...]:
        """The ways that begin here, in order."""
        return tuple(s.way for s in self.seen if s.way is not None and s.departing)

    @property
    def arrivals(self) -> tuple[int, ...]:
        """The ways that end here, in order."""
        return tuple(s.way for s in self.seen if s.way is not None and not s.departing)

    @property
    def stop(self) -> int | None:
        """The photographs' stop."""
        return next((s.stop for s in self.seen if s.stop is not None), None)


def join_sightings(sightings: Sequence[Seen]) -> tuple[Stretch, ...]:
    """Give the stretches at one place each, in order of time."""
    stretches: list[Stretch] = []
    for seen in sightings:
        last = stretches[-1] if stretches else None
        if last is not None and _is_same(last.spot, seen.spot):
            # Where there are pictures, their place and name stand for the stretch.
            spot = seen.spot if last.stop is None and seen.stop is not None else last.spot
            stretches[-1] = Stretch(spot, (*last.seen, seen))
        else:
            stretches.append(Stretch(seen.spot, (seen,)))
    return tuple(stretches)


def _is_same(one: Spot, other: Spot) -> bool:
    away_m = distance_m(one.place, other.place)
    if one.name == other.name and one.country == other.country:
        return away_m <= AIRPORT_M
    return away_m <= 1.0


def describe_stay(stretch: Stretch, country_name: str, inner: bool) -> Stay:
    """Give a stretch as a stay; ``inner`` where a leg leads to it and one on from it."""
    zone = zone_of(stretch.spot)
    first, last = stretch.seen[0].at, stretch.seen[-1].at
    only_ways = all(s.way is not None for s in stretch.seen)
    return Stay(
        stretch.spot,
        country_name,
        wall_time(first, zone).date(),
        wall_time(last, zone).date(),
        first.astimezone(UTC),
        last.astimezone(UTC),
        stretch.stop,
        change=inner and only_ways and last - first <= CHANGE_WITHIN,
    )
