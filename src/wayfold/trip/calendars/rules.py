"""Rules of repetition, followed through a journey's days only and never for long."""

from __future__ import annotations

from collections.abc import Callable
from datetime import MAXYEAR, date, datetime, time, timedelta
from functools import lru_cache
from typing import Any

from dateutil.rrule import rrulestr
from icalendar import Component
from icalendar.prop import vRecur

from wayfold.trip.calendars.stamps import list_values

MOST_STEPS = 20_000
"""A rule is counted no longer: once a day for over fifty years, a fifth of a second."""
MOST_RULES = 8
"""Of one event; there should be no more than one (RFC 5545, 3.8.5.3), and each may take a while."""
CYCLE_YEARS, CYCLE = 400, timedelta(days=146_097)
"""Of the Gregorian calendar: so many days are 20,871 weeks."""
TOO_OFTEN = frozenset({"SECONDLY", "MINUTELY", "HOURLY"})


class UnusableRuleError(Exception):
    """A rule of repetition that is not followed; says why."""


def list_rules(component: Component) -> list[vRecur]:
    """Give the rules that an event repeats by, each once. Raises UnusableRuleError."""
    rules = list_values(component.get("RRULE"))
    if not all(isinstance(rule, vRecur) for rule in rules):
        raise UnusableRuleError("its rule of repetition cannot be read")
    different = {repr(rule): rule for rule in rules}
    if len(different) > MOST_RULES:
        raise UnusableRuleError("it has too many rules of repetition")
    return list(different.values())


def follow_rule(
    rule: vRecur,
    anchor: datetime,
    first: date,
    last: date,
    most: int,
    read_time: Callable[[date], datetime],
) -> tuple[datetime, ...]:
    """Give the first ``most`` (naive) times of a rule from ``first`` to ``last``.

    It begins at ``anchor``; ``read_time`` gives the time that it ends at as the event's clock shows
    it. Raises UnusableRuleError for a rule that is none, or that repeats within a day.
    """
    often = {str(f).upper() for f in list_values(rule.get("FREQ"))}
    if often & TOO_OFTEN:
        raise UnusableRuleError("it repeats within a day")
    every = list_values(rule.get("INTERVAL"))
    if any(not str(step).isdecimal() or int(step) < 1 for step in every):
        # The library goes from such a time to the same for ever.
        raise UnusableRuleError("it repeats after no time at all")
    parts = {k: v for k, v in rule.items() if k.upper() not in ("UNTIL", "COUNT")}
    ends = [datetime.combine(last, time.max)]
    for until in list_values(rule.get("UNTIL")):
        ends.append(read_time(until) if isinstance(until, date) else ends[0])
    count = next(iter(list_values(rule.get("COUNT"))), None)
    if anchor > min(ends):
        return ()
    if count is None:
        start = _skip(often, int(every[0]) if every else 1, anchor, first)
    elif (first - anchor.date()).days > MOST_STEPS:
        raise UnusableRuleError("it began too long ago for its times to be counted")
    else:
        start = anchor
    try:
        counted = None if count is None else int(count)
        times = _list_times(_spell(vRecur(parts)), start, min(ends), first, most, counted)
    except (ValueError, TypeError, KeyError, AttributeError, OverflowError) as error:
        raise UnusableRuleError("its rule of repetition cannot be followed") from error
    if times is None:
        raise UnusableRuleError("it repeats too often")
    return times


@lru_cache(8)
def _list_times(
    rule: str, start: datetime, end: datetime, first: date, most: int, count: int | None
) -> tuple[datetime, ...] | None:
    """Give the times of a rule, of its first ``count``; None where there are too many before.

    Events that are copies of each other cost no more than one.
    """
    # After what never comes true the library walks to the last year there is. Days, weeks and
    # leap years are the same after every cycle, so it walks where that year is near.
    shift = CYCLE * ((MAXYEAR - end.year) // CYCLE_YEARS)
    walk = rrulestr(rule, dtstart=start + shift).replace(until=end + shift)
    times: list[datetime] = []
    for number, moved in enumerate(walk):
        if len(times) >= most or (count is not None and number >= count):
            break
        if number >= MOST_STEPS:
            return None
        at = moved - shift
        if at.date() >= first:
            times.append(at)
    return tuple(times)


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
