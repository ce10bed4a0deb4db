"""The journey in words: where one was, how one went on, and how each is known."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from wayfold.app.journey import derive_journey
from wayfold.app.journey_files import FileKind, keep_file
from wayfold.app.stages import read_catalogue
from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.findings import Finding
from wayfold.base.progress import Progress
from wayfold.book.trip_choices import Unit
from wayfold.disk.refusals import explain_os_errors
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book, remember_photos
from wayfold.trip.bookings.model import Source, ZonedTime
from wayfold.trip.journey.model import Journey, Leg
from wayfold.words.numbers import write_distance, write_duration

SCHEMA = "wayfold.journey/1"
_SOURCES = {
    Source.SAID: "you say so",
    Source.BOOKING: "calendar",
    Source.TRACK: "track",
    Source.SPEED: "nothing else is as fast",
}


def read_book_journey(root: Path, progress: Progress) -> tuple[Journey, Unit, tuple[Finding, ...]]:
    """Give the journey of the book in ``root``, the unit of its distances, and all findings.

    Raises UserError for what the person has to mend first.
    """
    folder = BookFolder(root.resolve())
    stored = load_book(folder)
    catalogue = read_catalogue(folder, stored, progress)
    remember_photos(folder, stored.known, catalogue.photos)
    trip, journey = derive_journey(folder, stored.book, catalogue)
    return journey, stored.book.journey.unit, (*trip.findings, *journey.findings)


def import_files(root: Path, files: Sequence[Path]) -> tuple[str, ...]:
    """Copy calendars and tracks into the book's folder; say of each what became of it.

    A file whose content is there already is passed over. Raises NotFoundError for a file that is
    not there, UserError for one that is neither; then none is copied.
    """
    folder = BookFolder(root.resolve())
    folder.require()
    kinds = {kind.ending: kind for kind in FileKind}
    for file in files:
        if not file.is_file():
            raise NotFoundError("There is no such file.", where=str(file), remedy="Check its name.")
        if file.suffix.lower() not in kinds:
            raise UserError(
                "This is neither a calendar nor a track.",
                where=str(file),
                remedy="Give calendars as .ics and tracks as .gpx files.",
            )
    return tuple(_import(file, kinds[file.suffix.lower()], folder) for file in files)


def _import(file: Path, kind: FileKind, folder: BookFolder) -> str:
    with explain_os_errors(file):
        data = file.read_bytes()
    kept, fresh = keep_file(folder, kind, file.name, data)
    where = folder.name_of(kept.path)
    return f"{file.name}: {'copied to' if fresh else 'is there already, as'} {where}"


def tell_journey(journey: Journey, unit: Unit) -> Iterator[str]:
    """Give the journey in lines: stays, and the legs between them with how each is known."""
    if not journey.stays:
        yield "Nothing tells where the journey went."
        return
    legs = {leg.start: leg for leg in journey.legs}
    for number, stay in enumerate(journey.stays):
        nights = "1 night" if stay.nights == 1 else f"{stay.nights} nights"
        dates = f"{stay.first}" if stay.first == stay.last else f"{stay.first} to {stay.last}"
        kind = "change" if stay.change else nights
        yield f"{stay.name}, {stay.country_name}: {dates}, {kind}"
        if number in legs:
            yield f"  {_tell_leg(legs[number], unit)}"
    yield f"{write_distance(journey.distance_m, unit, 'en')} in all"


def _tell_leg(leg: Leg, unit: Unit) -> str:
    mode = f"{leg.mode.value} {leg.service}".strip() if leg.mode else "not known how"
    source = f" ({_SOURCES[leg.mode_source]})" if leg.mode_source else ""
    parts = [mode + source]
    if leg.depart or leg.arrive:
        parts.append(f"{_clock(leg.depart)} to {_clock(leg.arrive)}")
    if leg.duration:
        parts.append(write_duration(leg.duration))
    along = " along the track" if leg.along_track else ""
    parts.append(write_distance(leg.distance_m, unit, "en") + along)
    return ", ".join(parts)


def _clock(time: ZonedTime | None) -> str:
    return f"{time.local:%Y-%m-%d %H:%M}" if time else "?"


def describe_journey(journey: Journey, findings: Sequence[Finding]) -> dict[str, Any]:
    """Give the journey as plain values: distances in m, times in ISO 8601 with their offsets."""
    return {
        "schema": SCHEMA,
        "stays": [
            {
                "name": stay.name,
                "country": stay.spot.country,
                "first": stay.first.isoformat(),
                "last": stay.last.isoformat(),
                "nights": stay.nights,
                "change": stay.change,
            }
            for stay in journey.stays
        ],
        "legs": [
            {
                "from": journey.stays[leg.start].name,
                "to": journey.stays[leg.end].name,
                "mode": leg.mode.value if leg.mode else None,
                "known_by": leg.mode_source.name.lower() if leg.mode_source else None,
                "service": leg.service,
                "depart": leg.depart.aware.isoformat() if leg.depart else None,
                "arrive": leg.arrive.aware.isoformat() if leg.arrive else None,
                "distance_m": round(leg.distance_m),
                "along_track": leg.along_track,
            }
            for leg in journey.legs
        ],
        "findings": [finding.to_json() for finding in findings],
    }
