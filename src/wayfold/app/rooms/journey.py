"""The journey as the desk shows it: days with their pictures, stays, ways, lodgings, doubts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from wayfold.app.rooms.journey_said import LegWords
from wayfold.app.session import Session
from wayfold.app.stages import Results
from wayfold.base.findings import Finding
from wayfold.book.trip_choices import TripChoices
from wayfold.trip.bookings.model import Lodging, Source, ZonedTime
from wayfold.trip.journey.legs import says_of
from wayfold.trip.journey.model import Journey, Leg, Stay
from wayfold.words.numbers import write_distance, write_duration

KNOWN_BY = {
    Source.SAID: "you",
    Source.BOOKING: "calendar",
    Source.TRACK: "track",
    Source.SPEED: "speed",
}


@dataclass(frozen=True, slots=True)
class PictureView:
    """A picture of a day: ``of`` are digits its content begins with, ``at`` its local time."""

    photo: str
    of: str
    aspect: float
    at: datetime | None
    taken: bool
    """Whether the book shows it."""


@dataclass(frozen=True, slots=True)
class EventView:
    """Something a calendar tells of a day; ``at`` on the clocks there, None for a whole day."""

    name: str
    at: datetime | None


@dataclass(frozen=True, slots=True)
class DayView:
    """A day: its stays and the ways that begin on it by their indices, its pictures and words.

    ``number`` counts the days from the first with pictures. ``slept`` is where, as far as known.
    """

    date: date
    number: int | None
    stays: tuple[int, ...]
    legs: tuple[int, ...]
    note: str
    text: str
    slept: str
    events: tuple[EventView, ...]
    pictures: tuple[PictureView, ...]


@dataclass(frozen=True, slots=True)
class StayView:
    """Time at one place.

    ``place`` is what the journey calls it by itself, ``visit`` which of the stays there it is,
    from 1; None where no picture was taken there: then it cannot be named otherwise.
    ``lodgings`` are indices into ``JourneyView.lodgings``.
    """

    name: str
    place: str | None
    visit: int | None
    country: str
    first: date
    last: date
    nights: int
    change: bool
    lodgings: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class LegView:
    """The way from one stay to the next; times are on the clocks of their own places.

    ``mode_by`` and ``times_by`` say how each is known; ``said`` is what the person says of it.
    """

    start: int
    end: int
    day: date
    mode: str | None
    mode_by: str | None
    depart: datetime | None
    arrive: datetime | None
    times_by: str | None
    lasts: str
    service: str
    note: str
    distance_km: float
    distance: str
    along_track: bool
    said: LegWords | None


@dataclass(frozen=True, slots=True)
class LodgingView:
    """Where one slept; ``place`` is empty where its town is not known."""

    name: str
    place: str
    first: date
    nights: int
    note: str
    known_by: str


@dataclass(frozen=True, slots=True)
class JourneyView:
    """The whole journey. ``left_out`` are calendar events that do not count."""

    unit: str
    distance: str
    days: tuple[DayView, ...]
    undated: tuple[PictureView, ...]
    stays: tuple[StayView, ...]
    legs: tuple[LegView, ...]
    lodgings: tuple[LodgingView, ...]
    left_out: tuple[str, ...]
    findings: tuple[Finding, ...]


def view_journey(session: Session) -> JourneyView:
    """Give the journey as it is now."""
    results = session.results
    journey, said = results.journey, results.book.journey
    pictures = _list_pictures(results)
    dated = {photo for day in journey.days for photo in day.photos}
    return JourneyView(
        unit=said.unit.value,
        distance=write_distance(journey.distance_m, said.unit, "en"),
        days=tuple(_list_days(results, pictures)),
        undated=tuple(view for photo, view in pictures.items() if photo not in dated),
        stays=tuple(_list_stays(results)),
        legs=tuple(_view_leg(leg, journey, said) for leg in journey.legs),
        lodgings=tuple(_view_lodging(lodging) for lodging in journey.lodgings),
        left_out=said.left_out,
        findings=(*results.trip.findings, *journey.findings),
    )


def _list_pictures(results: Results) -> Mapping[str, PictureView]:
    """Give the pictures by id, in the journey's order."""
    shown = {photo for block in results.story.blocks for photo in block.photos}
    views = {}
    for moment in results.trip.moments:
        photo = results.photos[moment.photo]
        views[photo.id] = PictureView(
            photo.id,
            photo.content[:8],
            photo.size.aspect,
            moment.local,
            photo.id in shown,
        )
    return views


def _list_days(results: Results, pictures: Mapping[str, PictureView]) -> list[DayView]:
    journey, texts = results.journey, results.book.texts
    days = []
    for day in journey.days:
        night = day.night
        slept = ""
        if night is not None:
            slept = night.lodging.name if night.lodging else ""
            slept = slept or ("" if night.stay is None else journey.stays[night.stay].name)
        days.append(
            DayView(
                day.date,
                journey.number_of(day.date),
                day.stays,
                day.legs,
                day.note,
                texts.get(day.date.isoformat(), ""),
                slept,
                tuple(EventView(visit.name, visit.at) for visit in day.visits),
                tuple(pictures[photo] for photo in day.photos),
            )
        )
    return days


def _list_stays(results: Results) -> list[StayView]:
    journey, stops = results.journey, results.trip.stops
    visits: dict[str, int] = {}
    numbers = []
    for stop in stops:
        visits[stop.own_name] = visits.get(stop.own_name, 0) + 1
        numbers.append(visits[stop.own_name])
    views = []
    for stay in journey.stays:
        stop_at = stay.stop
        views.append(
            StayView(
                stay.name,
                None if stop_at is None else stops[stop_at].own_name,
                None if stop_at is None else numbers[stop_at],
                stay.country_name,
                stay.first,
                stay.last,
                stay.nights,
                stay.change,
                tuple(i for i, s in enumerate(journey.lodgings) if _slept_at(s, stay)),
            )
        )
    return views


def _slept_at(lodging: Lodging, stay: Stay) -> bool:
    spot = lodging.spot
    meets = lodging.first <= stay.last and stay.first <= lodging.last
    return spot is not None and spot.name == stay.name and meets


def _view_leg(leg: Leg, journey: Journey, said: TripChoices) -> LegView:
    return LegView(
        leg.start,
        leg.end,
        leg.day,
        leg.mode.value if leg.mode else None,
        KNOWN_BY[leg.mode_source] if leg.mode_source else None,
        _local(leg.depart),
        _local(leg.arrive),
        KNOWN_BY[leg.time_source] if leg.time_source else None,
        write_duration(leg.duration) if leg.duration else "",
        leg.service,
        leg.note,
        leg.distance_m / 1000.0,
        write_distance(leg.distance_m, said.unit, "en"),
        leg.along_track,
        _find_said(leg, journey, said),
    )


def _find_said(leg: Leg, journey: Journey, said: TripChoices) -> LegWords | None:
    choices = [choice for choice in said.legs if says_of(choice, leg, journey.stays)]
    # Of words on this very day and words on all such ways the former hold.
    choice = max(choices, key=lambda c: c.on is not None, default=None)
    if choice is None:
        return None
    return LegWords(
        choice.mode.value if choice.mode else None,
        choice.depart,
        choice.arrive,
        choice.service,
        choice.distance_km,
        choice.note,
    )


def _local(time: ZonedTime | None) -> datetime | None:
    return time.local.replace(fold=0) if time else None


def _view_lodging(lodging: Lodging) -> LodgingView:
    return LodgingView(
        lodging.name,
        lodging.spot.name if lodging.spot else "",
        lodging.first,
        lodging.nights,
        lodging.note,
        KNOWN_BY[lodging.source],
    )
