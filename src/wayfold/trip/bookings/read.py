"""From events to bookings: flights, other ways, lodgings and visits."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta

from wayfold.base.findings import Finding, Severity
from wayfold.base.mends import Mend
from wayfold.base.world import LonLat
from wayfold.book.trip_choices import Mode
from wayfold.trip.bookings.cues import find_mode, speaks_of_lodging
from wayfold.trip.bookings.model import Bookings, Lodging, Source, Spot, Visit, Way
from wayfold.trip.bookings.routes import (
    End,
    end_of_airport,
    find_airports,
    find_flight_number,
    find_service,
    find_towns,
)
from wayfold.trip.bookings.times import judge_wall, judge_way, read_time
from wayfold.trip.calendars.model import Calendar, Event
from wayfold.trip.earth import distance_m
from wayfold.trip.gazetteer import Town
from wayfold.trip.town_names import NameFinder, find_meant

VISIT_M = 60_000.0
"""What is to be of the journey happens this near to one of its places."""
_ABOUT_LODGING = re.compile(
    r"^(?:(?:stay|booking|reservation|check[- ]?in|night)s?\s*(?:at|in|:|-|–)\s*)+", re.IGNORECASE
)
_ROUTE_SIGN = re.compile(r"→|⇒|➔|➜|->|–>|=>")


def read_bookings(
    calendars: Sequence[Calendar],
    near: Sequence[LonLat],
    finder: NameFinder,
    left_out: Iterable[str] = (),
) -> Bookings:
    """Give what calendars book. ``near`` are places of the journey, to tell namesakes by.

    The findings are those of the calendars and of the bookings.

    Events called as in ``left_out`` are passed over. One event in several calendars counts once.
    What looks like a booking but cannot be placed is a finding, and so is the sum of what was
    left out as none of the journey's business.
    """
    reading = _Reading(near, finder)
    names = {name.casefold() for name in left_out}
    told: set[tuple[object, ...]] = set()
    for calendar in calendars:
        reading.tell(calendar.findings)
        for event in calendar.events:
            key = (event.summary, event.start, event.end)
            if event.summary.casefold() not in names and key not in told:
                told.add(key)
                reading.take(event)
    return reading.finish()


def order_way(way: Way) -> tuple[date, str]:
    """Give what ways are put in order by."""
    return way.day, way.depart.utc.isoformat() if way.depart else ""


class _Reading:
    """Bookings as they gather."""

    def __init__(self, near: Sequence[LonLat], finder: NameFinder) -> None:
        self._near, self._finder = list(near), finder
        self._ways: list[Way] = []
        self._lodgings: list[tuple[Lodging, bool]] = []
        self._visits: list[Visit] = []
        self._findings: list[Finding] = []
        self._strangers: list[str] = []
        self._meant: dict[str, Town | None] = {}
        """What texts mean: those of a repeated event are the same hundreds of times."""

    def tell(self, findings: Iterable[Finding]) -> None:
        self._findings += findings

    def take(self, event: Event) -> None:
        mode = find_mode(event.summary, *event.categories)
        airports = find_airports(event)
        if airports and (mode in (None, Mode.FLIGHT)):
            start, end = (end_of_airport(a, self._near, self._finder) for a in airports)
            self._add_way(event, start, end, Mode.FLIGHT, find_flight_number(event))
        elif mode or _ROUTE_SIGN.search(event.summary):
            self._take_way(event, mode)
        elif self._looks_like_lodging(event):
            self._take_lodging(event)
        else:
            self._take_visit(event)

    def _take_way(self, event: Event, mode: Mode | None) -> None:
        ends = find_towns(event, self._near, self._finder)
        if ends is not None:
            service = find_flight_number(event) if mode is Mode.FLIGHT else find_service(event)
            self._add_way(event, *ends, mode, service)
        elif self._looks_like_lodging(event):
            self._take_lodging(event)
        elif mode in (Mode.ROAD, Mode.FOOT):
            self._take_visit(event)  # a walk or a drive that comes back is a thing of the day
        else:
            what = f"{event.words} looks like a way, but between which places cannot be told."
            remedy = 'Name it "Train: Milan → Rome" or "IB 3312 BIO → BCN" in your calendar, or '
            remedy += f"say which way it was: {Mend.LEGS}."
            self._find("calendar.way", event, what, remedy)

    def _add_way(self, event: Event, start: End, end: End, mode: Mode | None, service: str) -> None:
        depart, arrive = read_time(event.start, start.zone), read_time(event.end, end.zone)
        if depart and arrive and depart.utc == arrive.utc:
            arrive = None  # an event without an end
        for stamp, zone in ((event.start, start.zone), (event.end, end.zone)):
            if stamp.utc is None:
                self._findings += judge_wall(stamp.wall, zone, event.words, event.calendar)
        way = Way(
            start.spot, end.spot, depart.local.date() if depart else event.start.day, depart,
            arrive, mode, Source.BOOKING, event.words, service,
        )  # fmt: skip
        self._findings += judge_way(way, event.calendar)
        if way.duration is not None and way.duration <= timedelta():
            way = replace(way, arrive=None)
        self._ways.append(way)

    def _looks_like_lodging(self, event: Event) -> bool:
        nights = (event.end.day - event.start.day).days
        if speaks_of_lodging(event.summary, *event.categories):
            return nights >= 1 or event.start.whole_day
        return nights >= 1 and bool(event.location or event.place) and nights <= 60

    def _take_lodging(self, event: Event) -> None:
        spot = self._find_spot(event)
        if spot is None:
            what = f"{event.words} looks like a lodging, but in which town cannot be told."
            remedy = "Give the event its address or town as the location, or say where it was: "
            remedy += f"{Mend.LODGINGS}."
            self._find("calendar.lodging", event, what, remedy)
            return
        name = _ABOUT_LODGING.sub("", event.summary).strip() or event.summary
        nights = (event.end.day - event.start.day).days + event.start.whole_day
        lodging = Lodging(name, spot, event.start.day, max(nights, 1), Source.BOOKING)
        self._lodgings.append((lodging, event.start.whole_day))

    def _take_visit(self, event: Event) -> None:
        spot = self._find_spot(event)
        if spot is None or not self._is_near(spot.place):
            self._strangers.append(event.words)
            return
        wall = event.start.wall
        time = read_time(event.start, event.start.zone) if event.start.zone else None
        at = time.local if time else wall
        self._visits.append(Visit(event.summary, at.date() if at else event.start.day, at, spot))

    def _find_spot(self, event: Event) -> Spot | None:
        if event.place is not None:
            town = self._finder.find(event.place)
            return Spot(town.name, town.country, event.place) if town else None
        for text in (event.location, event.summary):
            if text not in self._meant:
                self._meant[text] = find_meant(text, self._near, self._finder) if text else None
            town = self._meant[text]
            if town is not None:
                return Spot(town.name, town.country, town.place)
        return None

    def _is_near(self, place: LonLat) -> bool:
        return any(distance_m(place, other) <= VISIT_M for other in self._near)

    def _find(self, rule: str, event: Event, what: str, remedy: str) -> None:
        self._findings.append(Finding(rule, Severity.WARN, event.calendar, what, remedy))

    def finish(self) -> Bookings:
        """Give it all in order of time."""
        if self._strangers:
            shown = ", ".join(self._strangers[:4])
            more = len(self._strangers) - 4
            what = f"Left out, having no place near the journey: {shown}"
            what += f" and {more} more events." if more > 0 else "."
            remedy = "If one belongs to the journey, give it a location in your calendar."
            self._findings.append(
                Finding("calendar.left-out", Severity.NOTE, "calendars", what, remedy)
            )
        ways = sorted(
            self._ways, key=lambda w: (w.day, w.depart.utc.isoformat() if w.depart else "")
        )
        lodgings = self._settle_last_nights(ways)
        visits = sorted(self._visits, key=lambda v: (v.day, v.at.isoformat() if v.at else ""))
        return Bookings(tuple(ways), lodgings, tuple(visits), tuple(self._findings))

    def _settle_last_nights(self, ways: Sequence[Way]) -> tuple[Lodging, ...]:
        """Whole-day lodgings may or may not count the day of leaving as theirs.

        The standard's end is the day after the last, which would be the day of leaving; but many
        calendars show the day of leaving as one of the days. Where another lodging begins or a
        way departs on it, it is that.
        """
        found = sorted(self._lodgings, key=lambda f: f[0].first)
        settled = []
        for lodging, whole_days in found:
            shown_last = lodging.first + timedelta(days=lodging.nights - 1)
            leaves = any(other.first == shown_last for other, _ in found if other is not lodging)
            leaves = leaves or any(way.day == shown_last for way in ways)
            shorter = whole_days and leaves and lodging.nights > 1
            settled.append(replace(lodging, nights=lodging.nights - 1) if shorter else lodging)
        return tuple(settled)
