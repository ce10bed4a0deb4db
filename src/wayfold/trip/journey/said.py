"""The person's words on the journey: names for stops, ways and lodgings of their own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from wayfold.base.days import say_day
from wayfold.base.findings import Finding, Severity
from wayfold.base.world import LonLat
from wayfold.book.trip_choices import (
    DayNote,
    LegChoice,
    LodgingChoice,
    StopChoice,
    TripChoices,
)
from wayfold.trip.bookings.model import Bookings, Lodging, Source, Spot, Way
from wayfold.trip.bookings.read import order_way
from wayfold.trip.bookings.times import judge_wall, judge_way, read_said
from wayfold.trip.journey.timeline import zone_of
from wayfold.trip.model import Stop, Trip
from wayfold.trip.town_names import NameFinder, find_meant, fold_name

FILE = "trip.toml"
FARTHEST = timedelta(days=60)
"""What the person says of a day farther from all pictures than this is a slip of the pen."""


def name_stops(trip: Trip, choices: TripChoices) -> Trip:
    """Give the trip with the names that the person gave its stops.

    A name for a place that is no stop, or for a visit that was not made, is a finding.
    """
    said = {choice.key: choice for choice in choices.stops}
    used: set[tuple[object, ...]] = set()
    visits: dict[str, int] = {}
    stops = []
    for stop in trip.stops:
        visits[stop.name] = visits.get(stop.name, 0) + 1
        choice = said.get((stop.name, visits[stop.name])) or said.get((stop.name, None))
        if choice:
            used.add(choice.key)
            stop = replace(stop, name=choice.name, town=stop.name)
        stops.append(stop)
    missed = [choice for choice in choices.stops if choice.key not in used]
    findings = (*trip.findings, *(_miss_stop(choice, visits) for choice in missed))
    return replace(trip, stops=tuple(stops), findings=findings)


def _miss_stop(choice: StopChoice, visits: dict[str, int]) -> Finding:
    which = f", visit {choice.visit}" if choice.visit else ""
    return Finding(
        "journey.stop",
        Severity.NOTE,
        f"{FILE}, stop {choice.place}",
        f"No picture was taken at {choice.place}{which}, so the name {choice.name!r} is not used "
        "for a chapter.",
        f"Write the place as the journey knows it: {', '.join(visits) or 'none yet'}.",
    )


@dataclass(frozen=True, slots=True)
class Said:
    """What the person says, with places found: ways with times, lodgings, and words on legs."""

    bookings: Bookings
    overrides: tuple[LegChoice, ...]
    notes: tuple[DayNote, ...] = ()


def merge_said(booked: Bookings, choices: TripChoices, trip: Trip, finder: NameFinder) -> Said:
    """Join the person's words with what calendars book; where both speak, the person's hold.

    A leg with a departure is a way of its own and stands for a booked one of that day between the
    same places. A lodging stands for those that calendars have for the same nights.
    """
    finding = _Finding(trip, booked, finder)
    ways, overrides = list(booked.ways), []
    findings = [*booked.findings, *_judge_dates(trip, choices)]
    for choice in choices.legs:
        if _is_far(choice.on, trip):
            continue
        way = finding.make_way(choice) if choice.depart else None
        if way is None:
            overrides.append(choice)
            continue
        findings += _judge_said(way, choice)
        same = [w for w in ways if _is_same_way(w, way)]
        if same:
            # What the person leaves open stays as booked.
            way = replace(
                way,
                mode=way.mode or same[0].mode,
                mode_source=None if way.mode else same[0].source,
                arrive=way.arrive or same[0].arrive,
                service=way.service if choice.service is not None else same[0].service,
                start=same[0].start,
                end=same[0].end,
            )
        ways = [w for w in ways if w not in same] + [way]
    near = [choice for choice in choices.lodgings if not _is_far(choice.first, trip)]
    said = [finding.make_lodging(choice) for choice in near]
    findings += [_miss_town(lodging) for lodging in said if lodging.spot is None]
    kept = [b for b in booked.lodgings if not any(_overlap(b, s) for s in said)]
    lodgings = sorted([*kept, *said], key=lambda s: (s.first, s.name))
    merged = Bookings(
        tuple(sorted(ways, key=order_way)), tuple(lodgings), booked.visits, tuple(findings)
    )
    notes = tuple(note for note in choices.days if not _is_far(note.date, trip))
    return Said(merged, tuple(overrides), notes)


def _is_far(day: date | None, trip: Trip) -> bool:
    """Whether a day is so far from all pictures that it must be a slip of the pen."""
    if day is None or not trip.days:
        return False
    dates = [d.date for d in trip.days]
    return not min(dates) - FARTHEST <= day <= max(dates) + FARTHEST


def _judge_dates(trip: Trip, choices: TripChoices) -> Iterator[Finding]:
    said: list[tuple[str, date | None]] = [
        *((f"leg from {leg.start} to {leg.end}", leg.on) for leg in choices.legs),
        *((f"lodging {lodging.name}", lodging.first) for lodging in choices.lodgings),
        *((f"day {note.date}", note.date) for note in choices.days),
    ]
    for words, day in said:
        if day is not None and _is_far(day, trip):
            what = f"{say_day(day)} is months away from all pictures, so this is not used."
            first, last = trip.days[0].date, trip.days[-1].date
            remedy = f"Correct the date: the pictures are from {say_day(first)} to {say_day(last)}."
            yield Finding("journey.far-date", Severity.WARN, f"{FILE}, {words}", what, remedy)


def _judge_said(way: Way, choice: LegChoice) -> Iterator[Finding]:
    yield from judge_way(way, FILE)
    yield from judge_wall(choice.depart, zone_of(way.start), way.words, FILE)
    yield from judge_wall(choice.arrive, zone_of(way.end), way.words, FILE)


def _is_same_way(one: Way, other: Way) -> bool:
    return (one.start.name, one.end.name) == (other.start.name, other.end.name) and abs(
        (one.day - other.day).days
    ) <= 1


def _overlap(one: Lodging, other: Lodging) -> bool:
    return one.first < other.last and other.first < one.last


def _miss_town(lodging: Lodging) -> Finding:
    return Finding(
        "journey.lodging",
        Severity.WARN,
        f"{FILE}, lodging {lodging.name}",
        "Its place is none that the journey went to, nor a town that is known; the itinerary has "
        "it, but no map can.",
        "Write the place as the journey knows it, or the town's name in its own language.",
    )


class _Finding:
    """Finds the places that the person names."""

    def __init__(self, trip: Trip, booked: Bookings, finder: NameFinder) -> None:
        self._stops: Sequence[Stop] = trip.stops
        self._ends = [spot for way in booked.ways for spot in (way.start, way.end)]
        self._near: list[LonLat] = [stop.place for stop in trip.stops]
        self._finder = finder

    def find_spot(self, name: str) -> Spot | None:
        for stop in self._stops:
            if fold_name(stop.name) == fold_name(name):
                return Spot(stop.name, stop.country, stop.place)
        for spot in self._ends:
            if fold_name(spot.name) == fold_name(name):
                return spot
        town = find_meant(name, self._near, self._finder)
        return Spot(name, town.country, town.place) if town else None

    def make_way(self, choice: LegChoice) -> Way | None:
        start, end = self.find_spot(choice.start), self.find_spot(choice.end)
        if start is None or end is None or choice.depart is None:
            return None
        depart = read_said(choice.depart, zone_of(start))
        arrive = read_said(choice.arrive, zone_of(end))
        day = depart.local.date() if depart else choice.depart.date()
        return Way(
            start,
            end,
            day,
            depart,
            arrive,
            choice.mode,
            Source.SAID,
            f"The leg from {choice.start} to {choice.end} of {say_day(day)}",
            choice.service or "",
            choice.note or "",
            choice.distance_km,
        )

    def make_lodging(self, choice: LodgingChoice) -> Lodging:
        return Lodging(
            choice.name,
            self.find_spot(choice.place),
            choice.first,
            choice.nights,
            Source.SAID,
            choice.note or "",
        )
