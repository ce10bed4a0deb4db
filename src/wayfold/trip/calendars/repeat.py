"""Repeated events: their instances within a journey's days, however the rule is written."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from typing import Any

from dateutil.rrule import rrulestr
from icalendar import Component
from icalendar.prop import vRecur

from wayfold.trip.calendars.model import Event, Stamp
from wayfold.trip.calendars.stamps import read_part

MOST_INSTANCES = 400
MOST_STEPS = 20_000
"""A rule is followed no longer: once a day for over fifty years, a fifth of a second."""
MOST_RULES = 8
"""Of one event; there should be no more than one (RFC 5545, 3.8.5.3), and each may take a while."""
TOO_OFTEN = frozenset({"SECONDLY", "MINUTELY", "HOURLY"})
MIDNIGHT = time()


class UnusableRuleError(Exception):
    """A rule of repetition that is not followed; says why."""


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
    for rule in _list_rules(component):
        starts.update(_follow(rule, anchor, event, first, last))
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


def _list_rules(component: Component) -> list[vRecur]:
    """Give the rules that an event repeats by, each once."""
    rules = _list(component.get("RRULE"))
    if not all(isinstance(rule, vRecur) for rule in rules):
        raise UnusableRuleError("its rule of repetition cannot be read")
    different = {repr(rule): rule for rule in rules}
    if len(different) > MOST_RULES:
        raise UnusableRuleError("it has too many rules of repetition")
    return list(different.values())


def _follow(
    rule: vRecur, anchor: datetime, event: Event, first: date, last: date
) -> Iterator[datetime]:
    often = {str(f).upper() for f in _list(rule.get("FREQ"))}
    if often & TOO_OFTEN:
        raise UnusableRuleError("it repeats within a day")
    steps = _list(rule.get("INTERVAL"))
    if any(not str(step).isdecimal() or int(step) < 1 for step in steps):
        # The library goes from such a time to the same for ever.
        raise UnusableRuleError("it repeats after no time at all")
    # The library must not walk to the end of all calendars after a rule that never comes true.
    parts = {k: v for k, v in rule.items() if k.upper() not in ("UNTIL", "COUNT")}
    ends = [datetime.combine(last, time.max)]
    for until in _list(rule.get("UNTIL")):
        ends.append(_naive(until, event) if isinstance(until, date) else ends[0])
    count = next(iter(_list(rule.get("COUNT"))), None)
    if anchor > min(ends):
        return
    if count is None:
        start = _skip(often, int(steps[0]) if steps else 1, anchor, first)
    elif (first - anchor.date()).days > MOST_STEPS:
        raise UnusableRuleError("it began too long ago for its times to be counted")
    else:
        start = anchor
    try:
        walk = rrulestr(_spell(vRecur(parts)), dtstart=start)
        walk = walk.replace(until=min(ends))
        for number, at in enumerate(walk):
            if count is not None and number >= int(count):
                return
            if number > MOST_STEPS:
                raise UnusableRuleError("it repeats too often")
            if at.date() >= first:
                yield at
    except (ValueError, TypeError, KeyError, AttributeError, OverflowError) as error:
        raise UnusableRuleError("its rule of repetition cannot be followed") from error


def _skip(often: set[str], step: int, anchor: datetime, first: date) -> datetime:
    """Give a start from which a rule gives the same times since ``first`` as from its anchor.

    It is whole steps of the rule later, so that its periods lie as they did.
    """
    days = (first - anchor.date()).days - 1
    a_step = {"DAILY": step, "WEEKLY": 7 * step}.get("".join(often))
    if a_step and days > 0:
        return anchor + timedelta(days=days // a_step * a_step)
    a_step = {"MONTHLY": step, "YEARLY": 12 * step}.get("".join(often))
    months = 12 * (first.year - anchor.year) + first.month - anchor.month - 1
    # Not every month has the days after the 28th.
    if a_step and months > 0 and anchor.day <= 28:
        years, month = divmod(anchor.month - 1 + months // a_step * a_step, 12)
        return anchor.replace(year=anchor.year + years, month=month + 1)
    return anchor


def _spell(rule: Any) -> str:
    return str(rule.to_ical().decode())


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
    found = [entry.dt for part in _list(value) for entry in read_part(part, "dts") or ()]
    starts = [entry[0] if isinstance(entry, tuple) else entry for entry in found]
    return [start for start in starts if isinstance(start, date)]


def _list(value: Any) -> list[Any]:
    if value is None:
        return []
    return list(value) if isinstance(value, list | tuple) else [value]
