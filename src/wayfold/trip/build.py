"""Rebuild the journey from its photographs."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from itertools import groupby

from wayfold.photos.model import Photo
from wayfold.trip.countries import name_country
from wayfold.trip.gazetteer import Town, TownFinder
from wayfold.trip.judge import judge_trip
from wayfold.trip.model import Day, Moment, Stop, Trip
from wayfold.trip.places import Sighting, Stay, assign_stays, borrow_places, find_stays


def build_trip(photos: Sequence[Photo], gazetteer: TownFinder, language: str = "en") -> Trip:
    """Give the journey: moments in order of local time, days and stops.

    The order is that of the wall time in the files (which is local already, with or without an
    offset), across camera bodies; equal times go by path, undated pictures last by path. A
    picture without a place borrows one (``places.borrow_places``). ``language`` is that of the
    countries' names. Nothing is raised for poor pictures; the findings say what is missing.
    """
    dated = sorted(
        ((p.taken.local.replace(tzinfo=None), p) for p in photos if p.taken),
        key=lambda d: (d[0], d[1].path, d[1].id),
    )
    sightings = borrow_places([Sighting(p.id, at, _find_town(p, gazetteer)) for at, p in dated])
    stays = find_stays(sightings)
    stops = tuple(_describe_stop(stay, sightings, language) for stay in stays)
    moments = [
        Moment(s.photo, s.local, stop)
        for s, stop in zip(sightings, assign_stays(sightings, stays), strict=True)
    ]
    for photo in sorted((p for p in photos if not p.taken), key=lambda p: (p.path, p.id)):
        moments.append(Moment(photo.id, None, _only_stay(_find_town(photo, gazetteer), stays)))
    days = _number_days([(s.photo, s.local) for s in sightings])
    return Trip(tuple(moments), days, stops, judge_trip(photos, moments, days))


def _find_town(photo: Photo, gazetteer: TownFinder) -> Town | None:
    return gazetteer.find(photo.place) if photo.place else None


def _only_stay(town: Town | None, stays: Sequence[Stay]) -> int | None:
    """Give the stay an undated picture must be of: where its town was visited just once."""
    at_town = [i for i, stay in enumerate(stays) if town and stay.town == town]
    return at_town[0] if len(at_town) == 1 else None


def _describe_stop(stay: Stay, sightings: Sequence[Sighting], language: str) -> Stop:
    town = stay.town
    first, last = sightings[stay.first].local.date(), sightings[stay.last].local.date()
    country_name = name_country(town.country, language)
    return Stop(town.name, town.country, country_name, town.place, first, last)


def _number_days(timed: Sequence[tuple[str, datetime]]) -> tuple[Day, ...]:
    """Give the days with pictures; numbers follow the calendar from the first, gaps included."""
    days = []
    for date, run in groupby(timed, key=lambda t: t[1].date()):
        number = (date - timed[0][1].date()).days + 1
        days.append(Day(number, date, tuple(photo for photo, _ in run)))
    return tuple(days)
