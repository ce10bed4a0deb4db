"""The journey as it goes over the wire: the views of ``app.rooms``, field by field."""

from __future__ import annotations

import datetime as dt
from typing import Literal

from wayfold.desk.wire import Wire
from wayfold.desk.wording import Told

Mode = Literal["flight", "train", "road", "boat", "on foot"]
Unit = Literal["km", "miles"]
KnownBy = Literal["you", "calendar", "track", "speed"]
ClockState = Literal["chosen", "own", "known", "rough", "unknown"]


class DayPicture(Wire):
    """A picture of a day: ``of`` are digits its content begins with, ``at`` its local time."""

    photo: str
    of: str
    aspect: float
    at: dt.datetime | None
    taken: bool


class DayEvent(Wire):
    """Something a calendar tells of a day."""

    name: str
    at: dt.datetime | None


class JourneyDay(Wire):
    """A day: its stays and ways by their indices, its pictures and words."""

    date: dt.date
    number: int | None
    stays: list[int]
    legs: list[int]
    note: str
    text: str
    slept: str
    events: list[DayEvent]
    pictures: list[DayPicture]


class JourneyStay(Wire):
    """Time at one place; ``place`` and ``visit`` are null where it cannot be named otherwise."""

    name: str
    place: str | None
    visit: int | None
    country: str
    first: dt.date
    last: dt.date
    nights: int
    change: bool
    lodgings: list[int]


class LegOwn(Wire):
    """What the person says of a way; null where they say nothing."""

    mode: Mode | None
    depart: dt.datetime | None
    arrive: dt.datetime | None
    service: str | None
    distance_km: float | None
    note: str | None


class JourneyLeg(Wire):
    """The way from one stay to the next; times are on the clocks of their own places."""

    start: int
    end: int
    day: dt.date
    mode: Mode | None
    mode_by: KnownBy | None
    depart: dt.datetime | None
    arrive: dt.datetime | None
    times_by: KnownBy | None
    lasts: str
    service: str
    note: str
    distance_km: float
    distance: str
    along_track: bool
    said: LegOwn | None


class JourneyLodging(Wire):
    """Where one slept; ``place`` is empty where its town is not known."""

    name: str
    place: str
    first: dt.date
    nights: int
    note: str
    known_by: KnownBy


class Doubt(Wire):
    """A judgement on the journey: what is not clear, and what to do about it."""

    rule: str
    severity: Literal["note", "warn", "block"]
    where: Told
    message: Told
    remedy: Told


class Journey(Wire):
    """The whole journey."""

    unit: Unit
    distance: str
    days: list[JourneyDay]
    undated: list[DayPicture]
    stays: list[JourneyStay]
    legs: list[JourneyLeg]
    lodgings: list[JourneyLodging]
    left_out: list[str]
    findings: list[Doubt]


class ClockEvidence(Wire):
    """One kind of evidence: how many pieces, how many agree, and an example."""

    kind: str
    pieces: int
    agreeing: int
    words: Told


class ClockShown(Wire):
    """A picture of a right clock, as the person said."""

    photo: str
    name: str
    shows: dt.datetime
    zone: str | None


class ClockPictures(Wire):
    """A camera's pictures in columns; instants in s since 1970 UTC, and what its clock showed."""

    photo: list[str]
    of: list[str]
    name: list[str]
    aspect: list[float]
    at_s: list[int]
    shown_s: list[int]


class Clock(Wire):
    """What is known of one camera's clock; ``late_s`` is how late it was against local time."""

    body: str
    name: str
    state: ClockState
    words: Told
    error_s: float | None
    late_s: float
    steady: bool
    crosses: bool
    line: str | None
    evidence: list[ClockEvidence]
    shown: list[ClockShown]
    pictures: ClockPictures


class Clocks(Wire):
    """All clocks; ``zones`` are the party's minutes east of UTC with the s since 1970 of each."""

    clocks: list[Clock]
    zones: list[tuple[int, int]]


class MapSpot(Wire):
    """Where something lies on the map (mm): a stay, by its index, or a picture."""

    x: float
    y: float
    stay: int | None
    photo: str | None


class JourneyMap(Wire):
    """A map as an SVG, its size, and what lies where on it."""

    svg: str
    width_mm: float
    height_mm: float
    spots: list[MapSpot]


class JourneyFile(Wire):
    """A track or a calendar, and what it holds; ``away`` where it does not count."""

    handle: str
    name: str
    kind: Literal["track", "calendar"]
    away: bool
    count: int
    length: str
    first: dt.date | None
    last: dt.date | None
    trouble: list[Doubt]


class Brought(Wire):
    """A file that was handed in: ``fresh`` unless its content was there already."""

    file: JourneyFile
    fresh: bool
