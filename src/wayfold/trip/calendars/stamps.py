"""Times in calendars: whole days, floating times, zones of the tz database and of the file."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

from icalendar import Component
from icalendar.error import BrokenCalendarProperty

from wayfold.trip.calendars.model import Stamp

ONE_DAY = timedelta(days=1)


class UnusableTimeError(Exception):
    """An event without a time that can be used; says why."""


def read_part(value: Any, name: str) -> Any:
    """Give a part of a property, or None: one that could not be read refuses all questions."""
    try:
        return getattr(value, name, None)
    except BrokenCalendarProperty:
        return None


def read_stamp(value: Any) -> tuple[Stamp, str | None]:
    """Give the time in an iCalendar property, and the name of its zone if that is not known.

    A time in an unknown zone is taken as floating. Raises UnusableTimeError for what is no time.
    """
    moment = read_part(value, "dt")
    if isinstance(moment, datetime):
        written = str((read_part(value, "params") or {}).get("TZID", ""))
        return _of_datetime(moment, written)
    if isinstance(moment, date):
        return Stamp(moment), None
    raise UnusableTimeError("its time is none that can be read")


def _of_datetime(moment: datetime, written: str) -> tuple[Stamp, str | None]:
    wall = moment.replace(tzinfo=None)
    if moment.tzinfo is None:
        return Stamp(wall.date(), wall), written or None
    try:
        utc = moment.astimezone(UTC)
    except OverflowError as error:
        raise UnusableTimeError("its time is at the end of all calendars") from error
    except Exception as error:  # Zones are made of what the file says of them, whatever that is.
        raise UnusableTimeError("its time zone is damaged") from error
    name = getattr(moment.tzinfo, "key", None)
    return Stamp(wall.date(), wall, utc, name if name and name != "UTC" else None), None


def read_span(component: Component) -> tuple[Stamp, Stamp, list[str]]:
    """Give the start and the end of an event, and the names of zones that are not known.

    Without an end: by its duration; else the same day, or the same moment (RFC 5545, 3.6.1).
    Raises UnusableTimeError where there is no start, or the end comes before it.
    """
    if component.get("DTSTART") is None:
        raise UnusableTimeError("it has no start")
    if _is_list(component["DTSTART"]):
        raise UnusableTimeError("it has more than one start")
    start, unknown = read_stamp(component["DTSTART"])
    zones = [unknown] if unknown else []
    end = start
    given = component.get("DTEND")
    if given is not None and not _is_list(given):
        end, unknown = read_stamp(given)
        zones += [unknown] if unknown else []
        if end.whole_day and start.whole_day and end.day > start.day:
            end = Stamp(end.day - ONE_DAY)  # the file names the day after the last
    elif isinstance(length := read_part(component.get("DURATION"), "dt"), timedelta):
        end = _add(start, length)
    if _ends_early(start, end):
        raise UnusableTimeError("it ends before it starts")
    return start, end, zones


def _add(start: Stamp, length: timedelta) -> Stamp:
    """Add a length: whole days keep the time on the clock, hours are hours (RFC 5545, 3.3.6)."""
    try:
        if start.wall is None:
            return Stamp(start.day + max(length - ONE_DAY, timedelta()))
        wall = start.wall + length
        return Stamp(wall.date(), wall, start.utc + length if start.utc else None, start.zone)
    except OverflowError as error:
        raise UnusableTimeError("its length reaches beyond all calendars") from error


def _ends_early(start: Stamp, end: Stamp) -> bool:
    if start.utc and end.utc:
        return end.utc < start.utc
    # Between zones that are not known, clocks may differ by a day and more.
    slack = ONE_DAY if (start.utc is None) is not (end.utc is None) or start.wall else timedelta()
    return start.day - end.day > slack


def _is_list(value: object) -> bool:
    return isinstance(value, list)


def list_values(value: Any) -> list[Any]:
    """Give what a property has as a list: it has none, one, or several of a line each."""
    if value is None:
        return []
    return list(value) if isinstance(value, list | tuple) else [value]
