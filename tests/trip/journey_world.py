"""Journeys to order: real towns at their published positions, pictures, calendars."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from wayfold.base.world import LonLat
from wayfold.book.trip_choices import TripChoices
from wayfold.photos.model import CaptureTime, Photo, SizePx
from wayfold.trip.bookings.model import Bookings
from wayfold.trip.bookings.reach import calendar_days, journey_places
from wayfold.trip.bookings.read import read_bookings
from wayfold.trip.build import build_trip
from wayfold.trip.calendars.read import read_calendar
from wayfold.trip.gazetteer import Gazetteer, Town
from wayfold.trip.journey.build import build_journey
from wayfold.trip.journey.model import Journey
from wayfold.trip.journey.said import name_stops
from wayfold.trip.town_names import TownNames
from wayfold.trip.tracks import Fix

# Name, country, latitude, longitude (to a hundredth of a degree), people.
_ROWS = """
Bilbao ES 43.26 -2.93 345000
Barcelona ES 41.39 2.17 1620000
Milan IT 45.46 9.19 1370000
Rome IT 41.89 12.49 2870000
London GB 51.51 -0.13 8960000
Madrid ES 40.42 -3.70 3255000
Lisbon PT 38.72 -9.14 545000
Paris FR 48.86 2.35 2140000
Nice FR 43.70 7.27 340000
Auckland NZ -36.85 174.76 1440000
Honolulu US 21.31 -157.86 345000
Nadi FJ -17.80 177.42 71000
Kathmandu NP 27.70 85.32 1440000
Delhi IN 28.65 77.23 10900000
Santiago CL -33.45 -70.67 4840000
Santiago ES 42.88 -8.55 95000
Barcelona VE 10.13 -64.69 815000
Tokyo JP 35.69 139.69 8300000
"""
TOWNS = [
    Town(name, country, LonLat(float(lon), float(lat)), int(people))
    for name, country, lat, lon, people in (line.split() for line in _ROWS.strip().splitlines())
]
GAZETTEER = Gazetteer(TOWNS)
NAMES = TownNames(GAZETTEER)


def place_of(name: str, country: str = "") -> LonLat:
    return next(t.place for t in TOWNS if t.name == name and country in ("", t.country))


def shots(*rows: str) -> list[Photo]:
    """Pictures from rows of "town ISO-time offset-in-minutes" (a country after a slash)."""
    photos = []
    for number, row in enumerate(rows):
        town, at, offset = row.split()
        name, _, country = town.partition("/")
        photos.append(
            Photo(
                f"p{number}",
                f"content {number}",
                f"/p/{number:03}.jpg",
                SizePx(6000, 4000),
                taken=CaptureTime(datetime.fromisoformat(at), int(offset)),
                place=place_of(name, country),
            )
        )
    return photos


def event(summary: str, start: str, end: str = "", location: str = "", more: str = "") -> str:
    """One event; start and end as they stand behind DTSTART and DTEND ("TZID=…:…" or ":…")."""
    lines = [f"UID:{summary}{start}", f"SUMMARY:{summary}", f"DTSTART{_value(start)}"]
    lines += [f"DTEND{_value(end)}"] if end else []
    lines += [f"LOCATION:{location}"] if location else []
    return "BEGIN:VEVENT\n" + "\n".join([*lines, *([more] if more else [])]) + "\nEND:VEVENT\n"


def _value(text: str) -> str:
    if ":" in text:
        return f";{text}"
    return f";VALUE=DATE:{text}" if len(text) == 8 else f":{text}"


def book(photos: Sequence[Photo], *events: str, left_out: Sequence[str] = ()) -> Bookings:
    first, last = calendar_days(photos) or (date.min, date.max)
    data = f"BEGIN:VCALENDAR\nVERSION:2.0\n{''.join(events)}END:VCALENDAR\n".encode()
    calendar = read_calendar(data, "trip.ics", first, last)
    return read_bookings([calendar] if events else [], journey_places(photos), NAMES, left_out)


def travel(
    photos: Sequence[Photo],
    *events: str,
    choices: TripChoices | None = None,
    runs: Sequence[Sequence[Fix]] = (),
) -> Journey:
    said = choices or TripChoices()
    booked = book(photos, *events, left_out=said.left_out)
    trip = name_stops(build_trip(photos, GAZETTEER), said)
    return build_journey(trip, booked, said, NAMES, runs)


def legs_of(journey: Journey) -> list[str]:
    """The legs in words: "Bilbao > Barcelona train"."""
    return [
        f"{journey.stays[leg.start].name} > {journey.stays[leg.end].name} {leg.mode or '?'}"
        for leg in journey.legs
    ]


def rules(journey: Journey) -> set[str]:
    return {finding.rule for finding in journey.findings}
