"""The journey of a book's folder: photographs, calendars and the person's words put together."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from wayfold.app.evidence import gather_evidence
from wayfold.app.kept_zones import keep_zones
from wayfold.app.picture_files import FileList, list_files
from wayfold.app.scenes import read_clocks_with_scenes
from wayfold.app.towns import KeptTowns
from wayfold.base.findings import Finding, Severity
from wayfold.base.memory import Aside, Memory
from wayfold.book.state import Book
from wayfold.book.trip_choices import TripChoices
from wayfold.disk.refusals import explain_os_errors
from wayfold.photos.catalogue import Catalogue
from wayfold.photos.model import Photo
from wayfold.project.cache import DiskCache
from wayfold.project.files import BookFolder
from wayfold.trip.bookings.anchors import list_anchors
from wayfold.trip.bookings.model import Bookings
from wayfold.trip.bookings.presences import list_presences
from wayfold.trip.bookings.reach import calendar_days, journey_places
from wayfold.trip.bookings.read import read_bookings
from wayfold.trip.build import build_trip
from wayfold.trip.calendars.model import Calendar
from wayfold.trip.clocks.evidence import Evidence
from wayfold.trip.journey.build import build_journey
from wayfold.trip.journey.model import Journey
from wayfold.trip.journey.said import name_stops
from wayfold.trip.model import Trip
from wayfold.trip.tracks import Fix
from wayfold.trip.tracks_place import Tracks


def derive_journey(
    folder: BookFolder, book: Book, catalogue: Catalogue, memory: Memory | None = None
) -> tuple[Trip, Journey]:
    """Give the trip as the photographs tell it, and the journey as everything does.

    What is in ``memory`` from the last time is not worked out again.
    """
    memory = memory or Memory()
    photos, said, language = catalogue.photos, book.journey, book.language
    towns = memory.recall(_open_towns, folder)
    timed = TripChoices(clocks=said.clocks, clocks_shown=said.clocks_shown, left_out=said.left_out)
    files = list_files([*folder.list_tracks(), *folder.list_calendars()])
    with keep_zones(folder):
        made, booked, runs = memory.recall(
            _build_trip, folder, timed, photos, language, files, Aside(towns), Aside(memory)
        )
        trip = memory.recall(name_stops, made, said)
        journey = memory.recall(build_journey, trip, booked, said, towns, runs, language)
    towns.keep()
    return trip, journey


def _open_towns(folder: BookFolder) -> KeptTowns:
    return KeptTowns(DiskCache(folder.cache, "towns"))


def _build_trip(
    folder: BookFolder,
    said: TripChoices,
    photos: tuple[Photo, ...],
    language: str,
    _files: FileList,
    towns: Aside[KeptTowns],
    memory: Aside[Memory],
) -> tuple[Trip, Bookings, tuple[tuple[Fix, ...], ...]]:
    about = Book("", language=language, journey=said)
    booked, evidence = read_evidence(folder, about, photos, towns.value, memory.value)
    clocks = read_clocks_with_scenes(folder, photos, evidence)
    presences = list_presences(booked)
    made = build_trip(photos, towns.value, language, evidence, presences, clocks)
    return made, booked, tuple(Tracks(evidence.tracks).runs)


def read_evidence(
    folder: BookFolder,
    book: Book,
    photos: Sequence[Photo],
    towns: KeptTowns,
    memory: Memory | None = None,
) -> tuple[Bookings, Evidence]:
    """Give the bookings, and all that tells of the cameras' clocks beside the photographs.

    Calendars and tracks in ``memory`` that lie there as they did are not read again.
    """
    memory = memory or Memory()
    booked = _read_bookings(folder, book, photos, towns, memory)
    return booked, gather_evidence(folder, book.journey, photos, list_anchors(booked), memory)


def _read_bookings(
    folder: BookFolder, book: Book, photos: Sequence[Photo], towns: KeptTowns, memory: Memory
) -> Bookings:
    """Give what the calendars in the book's folder say of the journey."""
    days = calendar_days(photos)
    files = folder.list_calendars()
    if days is None:
        return Bookings(findings=tuple(_explain_timeless(folder.name_of(f)) for f in files))
    calendars = [
        memory.recall(_read_calendar, folder, file, *days, list_files([file]), at=file)
        for file in files
    ]
    return read_bookings(calendars, journey_places(photos), towns, book.journey.left_out)


def _read_calendar(
    folder: BookFolder, file: Path, first: date, last: date, _seen: FileList
) -> Calendar:
    # Most books have none and do without the library of calendars.
    from wayfold.trip.calendars.read import read_calendar

    with explain_os_errors(file):
        return read_calendar(file.read_bytes(), folder.name_of(file), first, last)


def _explain_timeless(name: str) -> Finding:
    what = "No picture tells its day, so nobody knows which of the calendar's events are of the "
    what += "journey, and none is used."
    return Finding("calendar.no-days", Severity.WARN, name, what, "Use the camera's own files.")
