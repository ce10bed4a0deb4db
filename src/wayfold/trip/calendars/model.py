"""A calendar as read: events with their times as they were written, and what was wrong."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from wayfold.base.days import say_day
from wayfold.base.findings import Finding
from wayfold.base.world import LonLat


@dataclass(frozen=True, slots=True)
class Stamp:
    """A time as a calendar gives it.

    A whole day has a ``day`` only. ``wall`` is the (naive) time on the clock; ``utc`` (aware) the
    instant, None for a floating time, whose zone is that of the place where it is kept. ``zone``
    is the name of the zone it was written in, where that is one of the tz database.
    """

    day: date
    wall: datetime | None = None
    utc: datetime | None = None
    zone: str | None = None

    @property
    def whole_day(self) -> bool:
        """Whether no time of day was given."""
        return self.wall is None


@dataclass(frozen=True, slots=True)
class Event:
    """One event, or one instance of a repeated one.

    ``end`` of a whole-day event is its last day, not the day after it as the file has it.
    ``place`` is that of the event's own coordinates. ``calendar`` is the file's name.
    """

    calendar: str
    uid: str
    summary: str
    location: str
    description: str
    categories: tuple[str, ...]
    start: Stamp
    end: Stamp
    place: LonLat | None = None

    @property
    def words(self) -> str:
        """How findings call it: its summary and day."""
        return f"“{self.summary or 'an event without a name'}” of {say_day(self.start.day)}"


@dataclass(frozen=True, slots=True)
class Calendar:
    """One calendar file: its events in order of time, and what was found in reading it."""

    name: str
    events: tuple[Event, ...]
    findings: tuple[Finding, ...] = ()
