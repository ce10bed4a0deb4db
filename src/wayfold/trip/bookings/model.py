"""Bookings: ways with their times, lodgings with their nights, and visits."""

from __future__ import annotations

import enum
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from wayfold.base.findings import Finding
from wayfold.base.world import LonLat
from wayfold.book.trip_choices import Mode
from wayfold.trip.zones import load_zone, wall_time


class Source(enum.IntEnum):
    """Where a statement comes from; the lower wins."""

    SAID = 1
    """The person says so, in trip.toml."""
    BOOKING = 2
    """A calendar says so."""
    TRACK = 3
    """A track shows it."""
    SPEED = 4
    """Nothing else goes so far in so short a time."""


@dataclass(frozen=True, slots=True)
class ZonedTime:
    """An instant (aware, UTC) and the zone whose clocks tell it."""

    utc: datetime
    zone: str

    @property
    def local(self) -> datetime:
        """What clocks there showed (naive)."""
        return wall_time(self.utc, self.zone)

    @property
    def aware(self) -> datetime:
        """The same with its offset from UTC."""
        return self.utc.astimezone(load_zone(self.zone))


@dataclass(frozen=True, slots=True)
class Spot:
    """A place with the name that the journey knows it by; ``country`` is an ISO 3166-1 code."""

    name: str
    country: str
    place: LonLat


@dataclass(frozen=True, slots=True)
class Way:
    """A way of a day, with its times where they are told. ``words`` is how findings call it.

    ``start`` and ``end`` have the names of towns and the positions of where exactly the way
    begins and ends (an airport).
    """

    start: Spot
    end: Spot
    day: date
    depart: ZonedTime | None
    arrive: ZonedTime | None
    mode: Mode | None
    source: Source
    words: str
    service: str = ""
    note: str = ""
    distance_km: float | None = None
    mode_source: Source | None = None
    """Where the mode comes from, if not from the same source as the times."""

    @property
    def duration(self) -> timedelta | None:
        """How long it took, across all zones."""
        return self.arrive.utc - self.depart.utc if self.arrive and self.depart else None


@dataclass(frozen=True, slots=True)
class Lodging:
    """Where one slept ``nights`` from the evening of ``first``; ``spot`` None: town not known."""

    name: str
    spot: Spot | None
    first: date
    nights: int
    source: Source
    note: str = ""

    @property
    def last(self) -> date:
        """The day of leaving."""
        return self.first + timedelta(days=self.nights)

    def covers(self, evening: date) -> bool:
        """Whether one slept there in the night that begins on ``evening``."""
        return self.first <= evening < self.last


@dataclass(frozen=True, slots=True)
class Visit:
    """Something else of a day: its name, where that is, and its time on the clock, if told."""

    name: str
    day: date
    at: datetime | None
    spot: Spot | None


@dataclass(frozen=True, slots=True)
class Bookings:
    """All that calendars book, in order of time, and what was found in reading them."""

    ways: tuple[Way, ...] = ()
    lodgings: tuple[Lodging, ...] = ()
    visits: tuple[Visit, ...] = ()
    findings: tuple[Finding, ...] = ()
