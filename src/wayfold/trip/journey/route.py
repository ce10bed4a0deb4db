"""The journey as a map draws it: each place once, and the legs between them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from wayfold.base.world import LonLat
from wayfold.book.trip_choices import Mode
from wayfold.trip.earth import distance_m
from wayfold.trip.journey.model import Journey, Stay
from wayfold.trip.journey.timeline import AIRPORT_M


@dataclass(frozen=True, slots=True)
class RoutePlace:
    """A place of the journey. ``visits`` are the first and last day of each stay there.

    ``country`` is an ISO 3166-1 code, for a flag. ``change`` says that one only changed there.
    """

    name: str
    country: str
    country_name: str
    place: LonLat
    visits: tuple[tuple[date, date], ...]
    nights: int
    change: bool


@dataclass(frozen=True, slots=True)
class RouteLeg:
    """A way between two places, by their indices; ``track`` is empty where none was recorded."""

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
    """Give the journey's places, each once however often one came back, and its legs."""
    groups: list[list[Stay]] = []
    index_of: list[int] = []
    for stay in journey.stays:
        found = next((i for i, g in enumerate(groups) if _is_same(g[0], stay)), None)
        if found is None:
            found = len(groups)
            groups.append([])
        groups[found].append(stay)
        index_of.append(found)
    legs = tuple(
        RouteLeg(
            index_of[leg.start],
            index_of[leg.end],
            leg.mode,
            leg.distance_m,
            leg.day,
            leg.track,
        )
        for leg in journey.legs
    )
    return Route(tuple(_join(group) for group in groups), legs)


def _is_same(one: Stay, other: Stay) -> bool:
    return (one.name, one.spot.country) == (other.name, other.spot.country) and distance_m(
        one.place, other.place
    ) <= AIRPORT_M


def _join(stays: list[Stay]) -> RoutePlace:
    # Where pictures were taken the place is the town's, not that of an airport.
    best = next((stay for stay in stays if stay.stop is not None), stays[0])
    return RoutePlace(
        best.name,
        best.spot.country,
        best.country_name,
        best.place,
        tuple((stay.first, stay.last) for stay in stays if not stay.change),
        sum(stay.nights for stay in stays),
        all(stay.change for stay in stays),
    )
