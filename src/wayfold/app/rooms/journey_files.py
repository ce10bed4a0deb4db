"""Tracks and calendars at the desk: handed in, looked through, taken away and put back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from pathlib import Path

from wayfold.app.journey_files import (
    FileKind,
    KeptFile,
    clean_name,
    find_file,
    keep_file,
    list_files,
    put_back,
    take_away,
)
from wayfold.app.rooms.journey_clocks import LocalTime, trace_local_time
from wayfold.app.session import Session
from wayfold.base.errors import UserError
from wayfold.base.findings import Finding, Severity
from wayfold.book.trip_choices import Unit
from wayfold.trip.bookings.reach import calendar_days
from wayfold.trip.calendars.model import Calendar
from wayfold.trip.calendars.read import read_calendar
from wayfold.trip.tracks import Track
from wayfold.trip.tracks_gpx import parse_gpx
from wayfold.words.numbers import write_distance

EVER = date(1900, 1, 1), date(2200, 1, 1)
MOST_BYTES = {FileKind.TRACK: 50_000_000, FileKind.CALENDAR: 20_000_000}
READ_KEPT = 400
HARDLY_M = 50.0


@dataclass(frozen=True, slots=True)
class FileView:
    """A track or a calendar, and what it holds.

    ``count`` is of a track's fixes, or of a calendar's events within the journey's days;
    ``length`` a track's in the book's unit, empty where one hardly moved. ``first`` and ``last``
    are its local days, None where it tells none. ``trouble`` is what was found in reading it.
    """

    handle: str
    name: str
    kind: str
    away: bool
    count: int
    length: str
    first: date | None
    last: date | None
    trouble: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class BroughtView:
    """A file that was handed in: ``fresh`` unless its content was there already."""

    file: FileView
    fresh: bool


def view_files(session: Session) -> tuple[FileView, ...]:
    """Give all tracks and calendars, those that were taken away last."""
    times = trace_local_time(session.results.trip)
    days = calendar_days(session.results.catalogue.photos) or EVER
    unit = session.results.book.journey.unit
    return tuple(_view(file, times, days, unit) for file in list_files(session.folder))


def bring_file(session: Session, kind: FileKind, name: str, data: bytes) -> BroughtView:
    """Take a track or calendar into the book, once it was read and found to be one.

    Raises UserError for what is none, is damaged or empty, and for one that is too large; then
    nothing is written. A file is never overwritten.
    """
    called = clean_name(name, kind)
    most = MOST_BYTES[kind]
    if len(data) > most:
        raise UserError(
            f"The file is larger than the {most // 1_000_000} MB that are taken.",
            where=called,
            remedy="Divide it, or put it into the book's folder yourself.",
        )
    _check(kind, called, data)
    kept, fresh = keep_file(session.folder, kind, name, data)
    if fresh:
        session.look_again()
    return BroughtView(_find_view(session, kept), fresh)


def take_file_away(session: Session, handle: str) -> FileView:
    """Let a file count no more; it is kept, and can be put back."""
    moved = take_away(session.folder, find_file(session.folder, handle))
    session.look_again()
    return _find_view(session, moved)


def put_file_back(session: Session, handle: str) -> FileView:
    """Let a file count again."""
    moved = put_back(session.folder, find_file(session.folder, handle))
    session.look_again()
    return _find_view(session, moved)


def _check(kind: FileKind, name: str, data: bytes) -> None:
    if kind is FileKind.TRACK:
        track = parse_gpx(data, name)
        if not track.segments and not track.lines:
            raise _refuse(track.findings, "The file holds no track that could be used.", name)
        return
    calendar = read_calendar(data, name, *EVER)
    if not calendar.events:
        raise _refuse(calendar.findings, "The calendar has no events.", name)


def _refuse(findings: tuple[Finding, ...], what: str, name: str) -> UserError:
    # What was found last is why there is nothing in it.
    if findings:
        return UserError(findings[-1].message, where=name, remedy=findings[-1].remedy)
    return UserError(what, where=name, remedy="Look whether the right file was exported.")


def _find_view(session: Session, file: KeptFile) -> FileView:
    return next(view for view in view_files(session) if view.handle == file.handle)


def _view(file: KeptFile, times: LocalTime, days: tuple[date, date], unit: Unit) -> FileView:
    seen = file.path.stat()
    name = file.path.name
    if file.kind is FileKind.TRACK:
        track = _read_track(file.path, seen.st_mtime_ns, seen.st_size)
        fixes = track.fixes
        far = track.length_m >= HARDLY_M
        length = write_distance(track.length_m, unit, "en") if far else ""
        ends = [times.tell(fix.utc).date() for fix in (*fixes[:1], *fixes[-1:])]
        return FileView(
            file.handle, name, file.kind.value, file.away, len(fixes), length,
            min(ends, default=None), max(ends, default=None), track.findings,
        )  # fmt: skip
    calendar = _read_calendar(file.path, seen.st_mtime_ns, seen.st_size, days)
    ends = [event.start.day for event in calendar.events]
    return FileView(
        file.handle, name, file.kind.value, file.away, len(calendar.events), "",
        min(ends, default=None), max(ends, default=None), calendar.findings,
    )  # fmt: skip


@lru_cache(maxsize=READ_KEPT)
def _read_track(path: Path, _changed_ns: int, _size: int) -> Track:
    try:
        return parse_gpx(path.read_bytes(), path.name)
    except UserError as error:
        trouble = Finding("tracks.unread", Severity.WARN, path.name, error.what, error.remedy)
        return Track(path.name, findings=(trouble,))


@lru_cache(maxsize=READ_KEPT)
def _read_calendar(path: Path, _changed_ns: int, _size: int, days: tuple[date, date]) -> Calendar:
    return read_calendar(path.read_bytes(), path.name, *days)
