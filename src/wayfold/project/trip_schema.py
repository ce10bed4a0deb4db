"""The form of trip.toml."""

from __future__ import annotations

from datetime import date, datetime
from typing import Annotated

from pydantic import Field, field_validator

from wayfold.book.trip_choices import Mode, TripChoices, Unit
from wayfold.project.schema import Table

TRIP_VERSION = 1
_JOURNEY = TripChoices()
date_type = date  # a field called date would hide it


class StopTable(Table):
    """A stop's name; ``place`` is what Wayfold calls it."""

    place: str = Field(min_length=1)
    name: str = Field(min_length=1)
    visit: Annotated[int, Field(ge=1)] | None = None


class LegTable(Table):
    """A way from one place to the next."""

    start: str = Field(alias="from", min_length=1)
    end: str = Field(alias="to", min_length=1)
    mode: Mode | None = None
    depart: datetime | None = None
    arrive: datetime | None = None
    service: str | None = None
    distance_km: Annotated[float, Field(gt=0, le=45_000)] | None = None
    note: str | None = None
    day: date | None = None


class LodgingTable(Table):
    """Where one slept."""

    place: str = Field(min_length=1)
    name: str = Field(min_length=1)
    first: date
    nights: Annotated[int, Field(ge=1, le=1000)] = 1
    note: str | None = None


class DayTable(Table):
    """A line on a day."""

    date: date_type
    note: str = Field(min_length=1)


class PlaceTable(Table):
    """A place on a town's map; ``at`` is its latitude and longitude in degrees."""

    town: str = Field(min_length=1)
    name: str = Field(min_length=1)
    at: tuple[Annotated[float, Field(ge=-90, le=90)], Annotated[float, Field(ge=-180, le=180)]]
    note: str = ""


class ClockPictureTable(Table):
    """A photograph of a right clock."""

    photo: str = Field(min_length=1)
    shows: datetime
    zone: str | None = None

    @field_validator("shows")
    @classmethod
    def _check_local(cls, shows: datetime) -> datetime:
        if shows.tzinfo is not None:
            raise ValueError("write the time as the clock shows it, without a zone")
        return shows


class TripFile(Table):
    """trip.toml."""

    version: int
    units: Unit = _JOURNEY.unit
    itinerary: bool | None = None
    overview: bool | None = None
    flags: bool | None = None
    leave_out: tuple[str, ...] = ()
    stop: tuple[StopTable, ...] = ()
    leg: tuple[LegTable, ...] = ()
    lodging: tuple[LodgingTable, ...] = ()
    day: tuple[DayTable, ...] = ()
    place: tuple[PlaceTable, ...] = ()
    clocks: dict[str, str] = Field(default_factory=dict)
    clock_picture: tuple[ClockPictureTable, ...] = ()
