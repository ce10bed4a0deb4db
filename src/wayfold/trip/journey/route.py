"""The journey as a map draws it: each place once, and the legs between them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from wayfold.base.world import LonLat
from wayfold.book.trip_choices import Mode
from wayfold.trip.earth import distance_m
from wayfold.trip.journey.model import Journey, Leg, Stay
from wayfold.trip.journey.timeline import AIRPORT_M


@dataclass(frozen=True, slots=True)
class RoutePlace:
    """A place of the journey. ``visits`` are the first and last day of each stay there.

    ``country`` is an ISO 3166-1 code, for a flag.
    """

    name: str
    country: str
    country_name: str
    place: LonLat
    visits: tuple[tuple[date, date], ...]
    nights: int


@dataclass(frozen=True, slots=True)
class RouteLeg:
    """A way between two places, by their indices, over all the changes between them.

    ``mode`` is that of its longest part. ``track`` is empty where none was recorded all the way.
    """

    start: int
    end: int
    mode: Mode | None
    distance_m: float
    day: date
    track: tuple[LonLat, ...] = ()


@dataclass(frozen=True, slots=True)
class Route:
    """Places in the order in which one first came there, and the legs in order of time."""

    places: tuple[RoutePlace, ...] = ()
    legs: tuple[RouteLeg, ...] = ()


def list_route(journey: Journey) -> Route:
    """Give the journey's places, each once however often one came back, and the legs between.

    Two places of one name are two. Where one only changed is no place.
    """
    groups: list[list[Stay]] = []
    index_of: list[int | None] = []
    for stay in journey.stays:
        if stay.change:
            index_of.append(None)
            continue
        found = next((i for i, g in enumerate(groups) if _is_same(g[0], stay)), len(groups))
        if found == len(groups):
            groups.append([])
        groups[found].append(stay)
        index_of.append(found)
    legs: list[RouteLeg] = []
    parts: list[Leg] = []
    for leg in journey.legs:
        parts.append(leg)
        end = index_of[leg.end]
        if end is not None:
            start = index_of[parts[0].start]
            if start is not None:
                legs.append(_join_legs(start, end, parts))
            parts = []
    return Route(tuple(_join_stays(group) for group in groups), tuple(legs))


def _is_same(one: Stay, other: Stay) -> bool:
    return (one.name, one.spot.country) == (other.name, other.spot.country) and distance_m(
        one.place, other.place
    ) <= AIRPORT_M


def _join_legs(start: int, end: int, parts: list[Leg]) -> RouteLeg:
    longest = max(parts, key=lambda leg: leg.distance_m)
    recorded = all(leg.track for leg in parts)
    return RouteLeg(
        start,
        end,
        longest.mode,
        sum(leg.distance_m for leg in parts),
        parts[0].day,
        tuple(place for leg in parts for place in leg.track) if recorded else (),
    )


def _join_stays(stays: list[Stay]) -> RoutePlace:
    # Where pictures were taken the place is the town's, not that of an airport.
    best = next((stay for stay in stays if stay.stop is not None), stays[0])
    return RoutePlace(
        best.name,
        best.spot.country,
        best.country_name,
        best.place,
        tuple((stay.first, stay.last) for stay in stays),
        sum(stay.nights for stay in stays),
    )
