"""Read a calendar: its events within the days of a journey, and all that is odd about them."""

from __future__ import annotations

import math
import re
import warnings
from collections.abc import Iterable, Iterator
from datetime import date, datetime, time
from typing import Any

from icalendar import Component

from wayfold.base.findings import Finding, Severity
from wayfold.base.mends import Mend
from wayfold.base.world import LonLat
from wayfold.trip.calendars.model import Calendar, Event
from wayfold.trip.calendars.repeat import is_repeated, repeat_event
from wayfold.trip.calendars.rules import UnusableRuleError
from wayfold.trip.calendars.stamps import UnusableTimeError, read_part, read_span, read_stamp
from wayfold.trip.calendars.text import open_calendar

MOST_EVENTS = 20_000
_GEO_URI = re.compile(
    r"^\s*geo:\s*(-?\d+(?:\.\d+)?)\s*,\s*(-?\d+(?:\.\d+)?)", re.IGNORECASE
)  # RFC 5870


def read_calendar(data: bytes, name: str, first: date, last: date) -> Calendar:
    """Give the events of a calendar file that touch the days from ``first`` to ``last``.

    Repeated events are followed through these days, with the exceptions that the file makes. A
    file that is no calendar gives no events and the reason; an event that cannot be used is named
    with what is wrong, and the rest is read.
    """
    reading = _Reading(name, first, last)
    with warnings.catch_warnings():
        # The library warns of zones that it guesses from a maker's own names; it guesses right.
        warnings.simplefilter("ignore")
        opened = open_calendar(data, name)
        for component in opened.components[:MOST_EVENTS]:
            reading.take(component)
    findings = [*opened.findings, *reading.tell()]
    if not opened.components and not opened.findings:
        what = "The calendar has no events."
        findings.append(Finding("calendar.empty", Severity.NOTE, name, what))
    if len(opened.components) > MOST_EVENTS:
        count = f"{len(opened.components):,} events"
        what = f"The calendar has {count}; the first {MOST_EVENTS:,} were read."
        findings.append(Finding("calendar.long", Severity.WARN, name, what, "Export fewer years."))
    events = sorted(reading.instances(), key=_order)
    return Calendar(name, tuple(events), tuple(findings))


def _order(event: Event) -> tuple[datetime, str, str]:
    start = event.start.wall or datetime.combine(event.start.day, time())
    return start, event.summary, event.uid


class _Reading:
    """The reading of one file: events gather, exceptions replace instances, oddities are told."""

    def __init__(self, name: str, first: date, last: date) -> None:
        self._name, self._first, self._last = name, first, last
        self._single: dict[tuple[str, datetime | None], Event] = {}
        self._replaced: set[tuple[str, datetime]] = set()
        self._repeated: list[tuple[str, datetime, Event]] = []
        self._unusable: list[str] = []
        self._zones: dict[str, int] = {}
        self._damaged: list[str] = []
        self._cancelled = 0

    def take(self, component: Component) -> None:
        try:
            start, end, zones = read_span(component)
        except UnusableTimeError as error:
            self._unusable.append(f"{_call(component)}: {error}")
            return
        place, damage = _read_place(component)
        event = Event(
            self._name,
            _text(component, "UID"),
            _text(component, "SUMMARY"),
            _text(component, "LOCATION"),
            _text(component, "DESCRIPTION"),
            _read_categories(component),
            start,
            end,
            place,
        )
        self._damaged += [f"{event.words}: {d}" for d in (*damage, *_list_errors(component))]
        for zone in zones:
            self._zones[zone] = self._zones.get(zone, 0) + 1
        instance = self._instance_of(component, event)
        cancelled = _text(component, "STATUS").upper() == "CANCELLED"
        if instance is not None:
            self._replaced.add((event.uid, instance))
        if cancelled:
            self._cancelled += start.day <= self._last and end.day >= self._first
        elif is_repeated(component) and instance is None:
            self._repeat(component, event)
        else:
            # A second version of the same event replaces the first, as SEQUENCE means it to.
            key = (event.uid or f"{len(self._single)}", instance or _start_of(event))
            self._single[key] = event

    def _instance_of(self, component: Component, event: Event) -> datetime | None:
        value = component.get("RECURRENCE-ID")
        if value is None or isinstance(value, list):
            return None
        try:
            stamp, _ = read_stamp(value)
        except UnusableTimeError:
            return None
        if stamp.wall is None:
            return datetime.combine(stamp.day, time())
        if stamp.utc and not stamp.zone and event.start.utc and event.start.wall:
            ahead = event.start.wall - event.start.utc.replace(tzinfo=None)
            return stamp.utc.replace(tzinfo=None) + ahead
        return stamp.wall

    def _repeat(self, component: Component, event: Event) -> None:
        try:
            for at, instance in repeat_event(component, event, self._first, self._last):
                self._repeated.append((event.uid, at, instance))
        except UnusableRuleError as error:
            self._damaged.append(f"{event.words}: {error}; its first time stands")
            self._single[(event.uid, None)] = event

    def instances(self) -> Iterator[Event]:
        for uid, at, event in self._repeated:
            if (uid, at) not in self._replaced:
                yield event
        for event in self._single.values():
            if event.start.day <= self._last and event.end.day >= self._first:
                yield event

    def tell(self) -> Iterator[Finding]:
        if self._unusable:
            what = _some("An event cannot be used", "events cannot be used", self._unusable)
            remedy = "Give them a start in your calendar and export it again, or say what they "
            remedy += f"book: {Mend.LEGS}, or {Mend.LODGINGS}."
            yield Finding("calendar.unusable", Severity.WARN, self._name, what, remedy)
        for zone, count in self._zones.items():
            what = f"The time zone {zone!r} is not known, neither in the file nor to the tz "
            times = "one time is" if count == 1 else f"{count} times are"
            what += f"database; {times} taken as local to the place."
            remedy = f"Compare them with your tickets; what is wrong can be put right: {Mend.LEGS}."
            yield Finding("calendar.zone", Severity.WARN, self._name, what, remedy)
        if self._damaged:
            what = _some("An event is damaged", "faults in events", self._damaged)
            remedy = f"Look whether the itinerary has them right; else say it: {Mend.LEGS}."
            yield Finding("calendar.damaged", Severity.NOTE, self._name, what, remedy)
        if self._cancelled:
            what = f"Left out as cancelled: {self._cancelled}."
            yield Finding("calendar.cancelled", Severity.NOTE, self._name, what)


def _some(one: str, many: str, rows: list[str], most: int = 4) -> str:
    more = f" and {len(rows) - most} more" if len(rows) > most else ""
    count = one if len(rows) == 1 else f"{len(rows)} {many}"
    return f"{count}: {'; '.join(rows[:most])}{more}."


def _start_of(event: Event) -> datetime:
    return event.start.wall or datetime.combine(event.start.day, time())


def _call(component: Component) -> str:
    return (
        f"“{_text(component, 'SUMMARY') or _text(component, 'UID') or 'an event without a name'}”"
    )


def _text(component: Component, key: str) -> str:
    value: Any = component.get(key)
    if isinstance(value, list):
        value = value[0] if value else None
    # Line ends and tabs inside a name are the file's, not the person's.
    return " ".join(str(value).split()) if value is not None else ""


def _read_categories(component: Component) -> tuple[str, ...]:
    value: Any = component.get("CATEGORIES")
    parts = value if isinstance(value, list) else [value] if value is not None else []
    return tuple(str(c) for part in parts for c in read_part(part, "cats") or [part])


def _read_place(component: Component) -> tuple[LonLat | None, list[str]]:
    """Give an event's own coordinates: of GEO, or of any property that is a geo: URI."""
    for latitude, longitude in _list_coordinates(component):
        if not (math.isfinite(latitude) and math.isfinite(longitude)) or latitude == longitude == 0:
            return None, ["its coordinates are empty"]
        try:
            return LonLat(longitude, latitude), []
        except ValueError:
            return None, [f"its coordinates ({latitude}, {longitude}) are nowhere on earth"]
    return None, []


def _list_coordinates(component: Component) -> Iterable[tuple[float, float]]:
    geo: Any = component.get("GEO")
    geo = geo[0] if isinstance(geo, list) and geo else geo
    latitude, longitude = read_part(geo, "latitude"), read_part(geo, "longitude")
    if latitude is not None and longitude is not None:
        yield float(latitude), float(longitude)
    for key, value in component.items():
        if key.upper().startswith("X-") and (found := _GEO_URI.match(str(value))):
            yield float(found[1]), float(found[2])


def _list_errors(component: Component) -> list[str]:
    errors: Any = getattr(component, "errors", ())
    return [f"{key or 'a line'} cannot be read" for key, _ in errors]
