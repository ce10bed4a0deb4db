"""Put the journey together: stays, legs, nights and days, from all that tells of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

from wayfold.book.trip_choices import LegChoice, TripChoices
from wayfold.trip.bookings.model import Bookings
from wayfold.trip.countries import name_country
from wayfold.trip.journey.judge import judge_journey
from wayfold.trip.journey.legs import apply_choice, join_leg, says_of
from wayfold.trip.journey.model import Journey, JourneyDay, Leg, Night, Stay
from wayfold.trip.journey.nights import tell_nights
from wayfold.trip.journey.said import Said, merge_said
from wayfold.trip.journey.timeline import (
    describe_stay,
    join_sightings,
    list_sightings,
    zone_of,
)
from wayfold.trip.model import Trip
from wayfold.trip.town_names import NameFinder, NoNames
from wayfold.trip.tracks import Fix
from wayfold.trip.zones import wall_time

NO_CHOICES = TripChoices()
NO_BOOKINGS = Bookings()


def build_journey(
    trip: Trip,
    booked: Bookings = NO_BOOKINGS,
    choices: TripChoices = NO_CHOICES,
    finder: NameFinder | None = None,
    runs: Sequence[Sequence[Fix]] = (),
    language: str = "en",
) -> Journey:
    """Give the journey. The person's word comes before bookings, these before tracks and speed.

    ``trip`` has its stops named already (``said.name_stops``). ``runs`` are the fixes of each
    track in order of time; ``finder`` finds towns by the names that calendars and the person
    use. Nothing is raised for what contradicts itself; the findings say so.
    """
    names = finder or NoNames()
    said = merge_said(booked, choices, trip, names)
    ways, lodgings = said.bookings.ways, said.bookings.lodgings
    stretches = join_sightings(list_sightings(trip, ways, lodgings))
    stays: list[Stay] = [
        describe_stay(
            stretch, name_country(stretch.spot.country, language), 0 < i < len(stretches) - 1
        )
        for i, stretch in enumerate(stretches)
    ]
    legs = [join_leg(i, stays, stretches, ways, runs) for i in range(len(stays) - 1)]
    legs, missed = _apply_choices(legs, said.overrides, stays)
    hours = [_hours(stay) for stay in stays]
    nights = tell_nights(stays, legs, lodgings, hours)
    stays = [
        replace(stay, nights=sum(night.stay == i for night in nights))
        for i, stay in enumerate(stays)
    ]
    tells = bool(ways or lodgings or said.bookings.visits or choices.says_anything)
    findings = (
        *said.bookings.findings,
        *judge_journey(stays, legs, nights, lodgings, missed, tells),
    )
    days = _list_days(stays, legs, nights, said, trip)
    start = min((day.date for day in trip.days), default=None)
    return Journey(tuple(stays), tuple(legs), days, lodgings, findings, tells, start)


def _apply_choices(
    legs: Sequence[Leg], overrides: Sequence[LegChoice], stays: Sequence[Stay]
) -> tuple[list[Leg], list[LegChoice]]:
    told = list(legs)
    missed = []
    for choice in overrides:
        matching = [i for i, leg in enumerate(told) if says_of(choice, leg, stays)]
        if not matching:
            missed.append(choice)
        for index in matching:
            told[index] = apply_choice(told[index], choice, stays)
    return told, missed


def _hours(stay: Stay) -> tuple[int, int]:
    zone = zone_of(stay.spot)
    return wall_time(stay.seen_first, zone).hour, wall_time(stay.seen_last, zone).hour


def _list_days(
    stays: Sequence[Stay],
    legs: Sequence[Leg],
    nights: Sequence[Night],
    said: Said,
    trip: Trip,
) -> tuple[JourneyDay, ...]:
    """Give every day from the first to the last, days on which nothing is known included."""
    visits, lodgings = said.bookings.visits, said.bookings.lodgings
    notes = {note.date: note.note for note in said.notes}
    photos: dict[date, tuple[str, ...]] = {}
    for taken in trip.days:
        photos[taken.date] = photos.get(taken.date, ()) + taken.photos
    known = [d for stay in stays for d in (stay.first, stay.last)]
    known += [visit.day for visit in visits] + list(notes)
    known += [
        d for lodging in lodgings if lodging.spot is None for d in (lodging.first, lodging.last)
    ]
    if not known:
        return ()
    slept = {night.evening: night for night in nights}
    days = []
    for count in range((max(known) - min(known)).days + 1):
        day = min(known) + timedelta(days=count)
        lodging = next((s for s in lodgings if s.covers(day)), None)
        night = slept.get(day) or (Night(day, lodging=lodging) if lodging else None)
        days.append(
            JourneyDay(
                day,
                tuple(i for i, stay in enumerate(stays) if stay.first <= day <= stay.last),
                tuple(i for i, leg in enumerate(legs) if leg.day == day),
                night,
                tuple(visit for visit in visits if visit.day == day),
                notes.get(day, ""),
                photos.get(day, ()),
            )
        )
    return tuple(days)
