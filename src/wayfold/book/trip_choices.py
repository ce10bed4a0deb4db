"""What the person says of the journey. It wins over all that is derived, and lasts."""

from __future__ import annotations

import enum
from dataclasses import dataclass
from datetime import date, datetime

from wayfold.base.world import LonLat

PLACES_FOR_A_MAP = 3
"""A way from one place to another needs no map."""


class Mode(enum.StrEnum):
    """How one travelled."""

    FLIGHT = "flight"
    TRAIN = "train"
    ROAD = "road"
    BOAT = "boat"
    FOOT = "on foot"


class Unit(enum.StrEnum):
    """What the book gives distances in."""

    KM = "km"
    MILES = "miles"


@dataclass(frozen=True, slots=True)
class StopChoice:
    """The name a stop shall have. ``place`` is what the journey calls it by itself.

    ``visit`` counts from 1 where one was there more than once; None means every time.
    """

    place: str
    name: str
    visit: int | None = None

    @property
    def key(self) -> tuple[object, ...]:
        """What tells it from others."""
        return self.place, self.visit


@dataclass(frozen=True, slots=True)
class LegChoice:
    """The way from one place to the next: what differs from, or adds to, what is derived.

    ``depart`` and ``arrive`` are on the clocks of their own places (naive), or instants (aware).
    ``day`` tells which of several such ways is meant; ``service`` is a flight's or train's number.
    """

    start: str
    end: str
    mode: Mode | None = None
    depart: datetime | None = None
    arrive: datetime | None = None
    service: str | None = None
    distance_km: float | None = None
    note: str | None = None
    day: date | None = None

    @property
    def on(self) -> date | None:
        """The day it is said to be of."""
        return self.day or (self.depart.date() if self.depart else None)

    @property
    def key(self) -> tuple[object, ...]:
        """What tells it from others."""
        return self.start, self.end, self.on


@dataclass(frozen=True, slots=True)
class LodgingChoice:
    """Where one slept: ``nights`` from the evening of ``first`` on."""

    place: str
    name: str
    first: date
    nights: int = 1
    note: str | None = None

    @property
    def key(self) -> tuple[object, ...]:
        """What tells it from others."""
        return self.place, self.first


@dataclass(frozen=True, slots=True)
class DayNote:
    """A line on a day, for the itinerary."""

    date: date
    note: str

    @property
    def key(self) -> tuple[object, ...]:
        """What tells it from others."""
        return (self.date,)


@dataclass(frozen=True, slots=True)
class ClockLine:
    """What a camera's clock was set to, in the person's own line; ``body`` is the camera's name."""

    body: str
    line: str

    @property
    def key(self) -> tuple[object, ...]:
        """What tells it from others."""
        return (self.body,)


@dataclass(frozen=True, slots=True)
class ClockShown:
    """A photograph (file name or id) of a right clock, and the local time it shows.

    ``zone`` is a zone's name; None means that of the photograph's place.
    """

    photo: str
    shows: datetime
    zone: str | None = None

    @property
    def key(self) -> tuple[object, ...]:
        """What tells it from others."""
        return (self.photo,)


@dataclass(frozen=True, slots=True)
class PlaceChoice:
    """A place to be numbered on the map of its town. ``town`` is what the journey calls it."""

    town: str
    name: str
    place: LonLat
    note: str = ""


@dataclass(frozen=True, slots=True)
class TripChoices:
    """All of it.

    ``itinerary`` None lets the book have one where there are bookings to show, ``overview`` None
    a map of the journey where it went to at least ``PLACES_FOR_A_MAP`` places, and ``flags`` None
    flags on that map where it crossed a border.
    ``left_out`` are names of calendar events that are none of the journey's business.
    """

    unit: Unit = Unit.KM
    itinerary: bool | None = None
    overview: bool | None = None
    flags: bool | None = None
    stops: tuple[StopChoice, ...] = ()
    legs: tuple[LegChoice, ...] = ()
    lodgings: tuple[LodgingChoice, ...] = ()
    days: tuple[DayNote, ...] = ()
    left_out: tuple[str, ...] = ()
    places: tuple[PlaceChoice, ...] = ()
    clocks: tuple[ClockLine, ...] = ()
    clocks_shown: tuple[ClockShown, ...] = ()

    @property
    def says_anything(self) -> bool:
        """Whether the person said anything that an itinerary shows."""
        return bool(self.legs or self.lodgings or self.days)
