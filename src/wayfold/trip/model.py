"""The journey as rebuilt from the photographs: days, and stops between which one travelled."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from wayfold.base.findings import Finding
from wayfold.base.world import LonLat
from wayfold.trip.clocks.model import ClockReading


@dataclass(frozen=True, slots=True)
class Moment:
    """One photograph in the journey's order.

    ``local`` is local wall time; None where nothing tells it. ``stop`` is an index into
    ``Trip.stops``; None where no place is known. ``utc`` (aware) is the instant, None where the
    camera's clock is not known: then ``local`` is what the camera showed. ``zone`` names the zone
    ``local`` is told in. ``place`` is that of the picture, or else of a track at the instant;
    ``doubtful`` where the track had no fix close by.
    """

    photo: str
    local: datetime | None
    stop: int | None
    utc: datetime | None = None
    zone: str | None = None
    place: LonLat | None = None
    doubtful: bool = False


@dataclass(frozen=True, slots=True)
class Stop:
    """A stay at one place. A place visited twice is two stops with one name.

    ``town`` is what the journey calls it by itself, where the person gave it another name.
    """

    name: str
    country: str
    """ISO 3166-1 alpha-2 code."""
    country_name: str
    place: LonLat
    first: date
    last: date
    town: str = ""

    @property
    def own_name(self) -> str:
        """What the journey calls it by itself."""
        return self.town or self.name


@dataclass(frozen=True, slots=True)
class Day:
    """One local calendar date; ``number`` counts from 1 on the journey's first day.

    Over the date line a date may be lived twice; its second run of pictures is a day of its own
    with the next number, so that numbers always rise.
    """

    number: int
    date: date
    photos: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Trip:
    """The journey: moments in order of time (undated last), days and stops.

    ``clocks`` tells how each camera's clock was read, with the evidence.
    """

    moments: tuple[Moment, ...]
    days: tuple[Day, ...]
    stops: tuple[Stop, ...]
    findings: tuple[Finding, ...] = ()
    clocks: tuple[ClockReading, ...] = ()

    @property
    def undated(self) -> tuple[str, ...]:
        """The photographs whose day is not known."""
        return tuple(m.photo for m in self.moments if m.local is None)
