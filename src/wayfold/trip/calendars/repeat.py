"""Repeated events: their instances within a journey's days, however the rule is written."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from functools import partial
from typing import Any

from icalendar import Component

from wayfold.trip.calendars.model import Event, Stamp
from wayfold.trip.calendars.rules import UnusableRuleError, follow_rule, list_rules
from wayfold.trip.calendars.stamps import list_values, read_part

MOST_INSTANCES = 400
MIDNIGHT = time()


def repeat_event(
    component: Component, event: Event, first: date, last: date
) -> list[tuple[datetime, Event]]:
    """Give the instances of an event from ``first`` to ``last``, with the (naive) start of each.

    Wall times stay when clocks are put forward or back. Raises UnusableRuleError for a rule that
    is none, that repeats within a day, or that leads beyond the last year there is.
    """
    anchor = event.start.wall or datetime.combine(event.start.day, MIDNIGHT)
    left_out = {_naive(value, event) for value in _list_dates(component.get("EXDATE"))}
    starts = {anchor} if _touches(event, first, last) else set()
    most = MOST_INSTANCES + len(left_out)
    for rule in list_rules(component):
        read_time = partial(_naive, event=event)
        starts.update(follow_rule(rule, anchor, first, last, most, read_time))
    for value in _list_dates(component.get("RDATE")):
        at = _naive(value, event)
        if first <= at.date() <= last:
            starts.add(at)
    zone = _zone_of(component)
    wanted = sorted(starts - left_out)[:MOST_INSTANCES]
    try:
        return [(at, _move(event, anchor, at, zone)) for at in wanted]
    except OverflowError as error:
        raise UnusableRuleError("a repetition of it would end after the year 9999") from error


def is_repeated(component: Component) -> bool:
    """Whether an event has a rule or a list of further dates."""
    return any(component.get(key) is not None for key in ("RRULE", "RDATE"))


def _touches(event: Event, first: date, last: date) -> bool:
    return event.start.day <= last and event.end.day >= first


def _move(event: Event, anchor: datetime, at: datetime, zone: tzinfo | None) -> Event:
    if at == anchor:
        return event
    shift = at - anchor
    start = _shift(event.start, shift, zone)
    if event.start.utc and event.end.utc and event.end.wall and start.utc:
        utc = start.utc + (event.end.utc - event.start.utc)
        wall = event.end.wall + shift
        return replace(event, start=start, end=Stamp(wall.date(), wall, utc, event.end.zone))
    return replace(event, start=start, end=_shift(event.end, shift, None))


def _shift(stamp: Stamp, shift: timedelta, zone: tzinfo | None) -> Stamp:
    if stamp.wall is None:
        return Stamp(stamp.day + shift)
    wall = stamp.wall + shift
    utc = None
    if stamp.utc is not None:
        utc = wall.replace(tzinfo=zone).astimezone(UTC) if zone else stamp.utc + shift
    return Stamp(wall.date(), wall, utc, stamp.zone)


def _zone_of(component: Component) -> tzinfo | None:
    moment = read_part(component.get("DTSTART"), "dt")
    return moment.tzinfo if isinstance(moment, datetime) else None


def _naive(value: date, event: Event) -> datetime:
    """Give a time as the event's own clock shows it."""
    if not isinstance(value, datetime):
        at = event.start.wall.time() if event.start.wall else MIDNIGHT
        return datetime.combine(value, at)
    if value.tzinfo is None or event.start.utc is None or event.start.wall is None:
        return value.replace(tzinfo=None)
    # How far the event's clock is ahead of UTC at its start is near enough to name an instance.
    ahead = event.start.wall - event.start.utc.replace(tzinfo=None)
    own = value.replace(tzinfo=None)
    same_zone = value.utcoffset() != timedelta() or event.start.zone is None
    if same_zone:
        return own
    try:
        return own + ahead
    except OverflowError:
        return own  # where all calendars begin or end, and no journey does


def _list_dates(value: Any) -> list[date]:
    """Give the dates and times of a property; of a period its start, of nonsense nothing."""
    found = [entry.dt for part in list_values(value) for entry in read_part(part, "dts") or ()]
    starts = [entry[0] if isinstance(entry, tuple) else entry for entry in found]
    return [start for start in starts if isinstance(start, date)]
