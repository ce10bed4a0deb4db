"""Rebuild the journey from its photographs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from itertools import groupby

from wayfold.base.world import LonLat
from wayfold.photos.model import Photo
from wayfold.trip.bookings.presences import Presence, find_presence
from wayfold.trip.clocks.bodies import name_pictures
from wayfold.trip.clocks.evidence import Evidence
from wayfold.trip.clocks.judge import judge_clocks
from wayfold.trip.clocks.read import Clocks, read_clocks
from wayfold.trip.countries import name_country
from wayfold.trip.gazetteer import Town, TownFinder
from wayfold.trip.judge import judge_trip
from wayfold.trip.model import Day, Moment, Stop, Trip
from wayfold.trip.moments import date_photos
from wayfold.trip.places import Sighting, Stay, assign_stays, borrow_places, find_stays
from wayfold.trip.tracks_place import Tracks


def build_trip(
    photos: Sequence[Photo],
    gazetteer: TownFinder,
    language: str = "en",
    evidence: Evidence | None = None,
    presences: Sequence[Presence] = (),
    clocks: Clocks | None = None,
) -> Trip:
    """Give the journey: moments in order of time, days and stops.

    Each camera's clock is read from ``evidence`` and the pictures (``clocks.read_clocks``), unless
    ``clocks`` has the readings already; what is known of it corrects its pictures' times, and what
    is not leaves them as they are. Local times are those of the places (``moments.date_photos``).
    Undated pictures come last by path.
    A picture without a place takes that of a track, else borrows one (``places.borrow_places``),
    else takes that of a booking (``presences``).
    ``language`` is that of the countries' names. Nothing is raised for poor pictures; the
    findings say what is missing.
    """
    given = evidence or Evidence()
    clocks = clocks or read_clocks(photos, given)
    dated = date_photos(photos, clocks, Tracks(given.tracks))
    found = [Sighting(t.photo.id, t.local, _find_town(t.place, gazetteer)) for t in dated]
    sightings = _place_by_bookings(borrow_places(found), presences, gazetteer)
    stays = find_stays(sightings)
    stops = tuple(_describe_stop(stay, sightings, language) for stay in stays)
    moments = [
        Moment(t.photo.id, t.local, stop, t.utc, t.zone, t.place, t.doubtful)
        for t, stop in zip(dated, assign_stays(sightings, stays), strict=True)
    ]
    for photo in sorted((p for p in photos if not p.taken), key=lambda p: (p.path, p.id)):
        stop = _only_stay(_find_town(photo.place, gazetteer), stays)
        moments.append(Moment(photo.id, None, stop, place=photo.place))
    days = _number_days([(s.photo, s.local) for s in sightings])
    findings = (
        *judge_trip(photos, moments, days),
        *judge_clocks(clocks.readings, moments, name_pictures(photos)),
        *(finding for track in given.tracks for finding in track.findings),
    )
    return Trip(tuple(moments), days, stops, findings, clocks.readings)


def _place_by_bookings(
    sightings: Sequence[Sighting], presences: Sequence[Presence], gazetteer: TownFinder
) -> list[Sighting]:
    """Give pictures that still have no town the one that a booking of their time is in."""
    placed = []
    for one in sightings:
        presence = None if one.town else find_presence(one.local, presences)
        town = _find_town(presence.place, gazetteer) if presence else None
        placed.append(replace(one, town=town) if town else one)
    return placed


def _find_town(place: LonLat | None, gazetteer: TownFinder) -> Town | None:
    return gazetteer.find(place) if place else None


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
    """Give the days with pictures; numbers follow the calendar from the first, gaps included.

    A date that comes again, or an earlier one (the date line, eastwards), gets the next number.
    """
    days: list[Day] = []
    for date, run in groupby(timed, key=lambda t: t[1].date()):
        number = (date - timed[0][1].date()).days + 1
        if days:
            number = max(number, days[-1].number + 1)
        days.append(Day(number, date, tuple(photo for photo, _ in run)))
    return tuple(days)
