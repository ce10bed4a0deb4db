"""The journey from stay to stay: what tables, maps and calendars are made of."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from wayfold.base.findings import Finding
from wayfold.base.world import LonLat
from wayfold.book.trip_choices import Mode
from wayfold.trip.bookings.model import Lodging, Source, Spot, Visit, ZonedTime


@dataclass(frozen=True, slots=True)
class Stay:
    """Time at one place, between two legs. A place visited twice is two stays with one name.

    ``first`` and ``last`` are local dates. ``stop`` is an index into ``Trip.stops`` where pictures
    were taken there. ``nights`` counts those known to be spent there; ``change`` says that one
    only changed there, between two legs of a day.
    """

    spot: Spot
    country_name: str
    first: date
    last: date
    seen_first: datetime
    seen_last: datetime
    """The first and last instants (aware, UTC) that anything shows one there."""
    stop: int | None = None
    nights: int = 0
    change: bool = False

    @property
    def name(self) -> str:
        """Its name, as everywhere in the book."""
        return self.spot.name

    @property
    def place(self) -> LonLat:
        """Where it is."""
        return self.spot.place


@dataclass(frozen=True, slots=True)
class Leg:
    """The way from a stay to the next, by their indices into ``Journey.stays``.

    ``mode``, ``depart`` and ``arrive`` are None where nothing tells them. ``distance_m`` is that
    of the geodesic from ``start_place`` to ``end_place``, or along the track where one was
    recorded all the way (``along_track``), or what the person says. ``day`` is that of departure,
    as well as it is known.
    """

    start: int
    end: int
    day: date
    distance_m: float
    start_place: LonLat
    end_place: LonLat
    mode: Mode | None = None
    depart: ZonedTime | None = None
    arrive: ZonedTime | None = None
    service: str = ""
    note: str = ""
    along_track: bool = False
    track: tuple[LonLat, ...] = ()
    """The places of the recording of the whole way, where there is one."""
    mode_source: Source | None = None
    time_source: Source | None = None

    @property
    def duration(self) -> timedelta | None:
        """How long it took, across all zones."""
        return self.arrive.utc - self.depart.utc if self.arrive and self.depart else None


@dataclass(frozen=True, slots=True)
class Night:
    """The night that begins on ``evening``: at a stay, on the way, or not known (both None)."""

    evening: date
    stay: int | None = None
    leg: int | None = None
    lodging: Lodging | None = None


@dataclass(frozen=True, slots=True)
class JourneyDay:
    """One local date: the stays one was at, the legs that began on it, and what was done.

    ``night`` is the one after it; None on the last day.
    """

    date: date
    stays: tuple[int, ...]
    legs: tuple[int, ...]
    night: Night | None
    visits: tuple[Visit, ...] = ()
    note: str = ""
    photos: tuple[str, ...] = ()
    """The pictures of the day, by id."""


@dataclass(frozen=True, slots=True)
class Journey:
    """Stays and the legs between them, days, lodgings, and what was found on the way."""

    stays: tuple[Stay, ...] = ()
    legs: tuple[Leg, ...] = ()
    days: tuple[JourneyDay, ...] = ()
    lodgings: tuple[Lodging, ...] = ()
    findings: tuple[Finding, ...] = ()
    booked: bool = False
    """Whether a calendar or the person told more than the pictures do."""
    start: date | None = None
    """The first day with pictures: the book counts its days from there."""

    @property
    def distance_m(self) -> float:
        """The length of all legs together, in metres."""
        return sum(leg.distance_m for leg in self.legs)

    @property
    def nights(self) -> tuple[Night, ...]:
        """All nights in order."""
        return tuple(day.night for day in self.days if day.night)

    def number_of(self, day: date) -> int | None:
        """Give a day's number in the book, from 1; None before the first with pictures."""
        if self.start is None or day < self.start:
            return None
        return (day - self.start).days + 1
