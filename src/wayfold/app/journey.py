"""The journey of a book's folder: photographs, calendars and the person's words put together."""

from __future__ import annotations

from collections.abc import Sequence

from wayfold.app.evidence import gather_evidence
from wayfold.app.scenes import read_clocks_with_scenes
from wayfold.app.towns import KeptTowns
from wayfold.base.findings import Finding, Severity
from wayfold.book.state import Book
from wayfold.photos.model import Catalogue, Photo
from wayfold.project.cache import DiskCache
from wayfold.project.files import BookFolder, explain_os_errors
from wayfold.trip.bookings.anchors import list_anchors
from wayfold.trip.bookings.model import Bookings
from wayfold.trip.bookings.presences import list_presences
from wayfold.trip.bookings.reach import calendar_days, journey_places
from wayfold.trip.bookings.read import read_bookings
from wayfold.trip.build import build_trip
from wayfold.trip.calendars.model import Calendar
from wayfold.trip.calendars.read import read_calendar
from wayfold.trip.clocks.evidence import Evidence
from wayfold.trip.journey.build import build_journey
from wayfold.trip.journey.model import Journey
from wayfold.trip.journey.said import name_stops
from wayfold.trip.model import Trip
from wayfold.trip.tracks_place import Tracks


def derive_journey(folder: BookFolder, book: Book, catalogue: Catalogue) -> tuple[Trip, Journey]:
    """Give the trip as the photographs tell it, and the journey as everything does."""
    photos = catalogue.photos
    towns = KeptTowns(DiskCache(folder.cache, "towns"))
    booked, evidence = read_evidence(folder, book, photos, towns)
    clocks = read_clocks_with_scenes(folder, photos, evidence)
    made = build_trip(photos, towns, book.language, evidence, list_presences(booked), clocks)
    trip = name_stops(made, book.journey)
    runs = Tracks(evidence.tracks).runs
    journey = build_journey(trip, booked, book.journey, towns, runs, book.language)
    towns.keep()
    return trip, journey


def read_evidence(
    folder: BookFolder, book: Book, photos: Sequence[Photo], towns: KeptTowns
) -> tuple[Bookings, Evidence]:
    """Give the bookings, and all that tells of the cameras' clocks beside the photographs."""
    booked = _read_bookings(folder, book, photos, towns)
    return booked, gather_evidence(folder, book.journey, photos, list_anchors(booked))


def _read_bookings(
    folder: BookFolder, book: Book, photos: Sequence[Photo], towns: KeptTowns
) -> Bookings:
    """Give what the calendars in the book's folder say of the journey."""
    days = calendar_days(photos)
    files = folder.list_calendars()
    if days is None:
        return Bookings(findings=tuple(_explain_timeless(folder.name_of(f)) for f in files))
    calendars: list[Calendar] = []
    for file in files:
        with explain_os_errors(file):
            calendars.append(read_calendar(file.read_bytes(), folder.name_of(file), *days))
    return read_bookings(calendars, journey_places(photos), towns, book.journey.left_out)


def _explain_timeless(name: str) -> Finding:
    what = "No picture tells its day, so nobody knows which of the calendar's events are of the "
    what += "journey, and none is used."
    return Finding("calendar.no-days", Severity.WARN, name, what, "Use the camera's own files.")
