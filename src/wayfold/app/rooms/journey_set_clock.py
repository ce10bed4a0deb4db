"""Set a camera's clock right at the desk: by moving its pictures, or by a clock in one of them."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta
from statistics import median
from typing import Literal

from wayfold.app.rooms.journey_clocks import (
    LocalTime,
    list_lateness,
    shown_at,
    trace_local_time,
)
from wayfold.app.session import Session
from wayfold.app.stages import Results
from wayfold.base.errors import NotFoundError, UserError
from wayfold.book.edits import SetClock, SetClockShown
from wayfold.book.trip_choices import ClockShown
from wayfold.photos.model import Photo
from wayfold.trip.clocks.bodies import name_pictures
from wayfold.trip.clocks.chosen import read_clock_line
from wayfold.trip.clocks.model import ClockReading
from wayfold.trip.clocks.read import read_nominal
from wayfold.trip.clocks.words import say_zone
from wayfold.trip.model import Moment
from wayfold.trip.zones import load_zone

Keeping = Literal["one", "local"]
"""Whether a clock was never set on the way, or put to the local time wherever one came."""
FARTHEST = timedelta(days=400)
"""A clock that is wrong by more is one that was never set; its pictures are not moved by hand."""


def move_clock(session: Session, body: str, by_s: int, keeping: Keeping) -> str:
    """Take a camera's pictures to be ``by_s`` later than they were taken for until now.

    It becomes the person's own line on that clock, which is given. A line of theirs that is there
    keeps its setting. Raises NotFoundError for a camera that is none of the book's, UserError
    where the pictures would be moved by more than ``FARTHEST``.
    """
    if abs(by_s) > FARTHEST.total_seconds():
        raise UserError(
            "That is more than a year: so wrong is no clock that somebody set.",
            where=body,
            remedy="Look at the dates of both rows, and lay pictures of one day above each other.",
        )
    results = session.results
    line = write_line(results, _find_reading(results, body), by_s, keeping)
    session.edit(SetClock(body, line))
    return line


def write_clock(session: Session, body: str, line: str | None) -> None:
    """Put the person's own line on a clock down; None leaves it to the evidence again.

    Raises UserError for a line that says nothing of a clock.
    """
    _find_reading(session.results, body)
    if line is not None:
        line = line.strip()
        read_clock_line(body, line, where=body)
    session.edit(SetClock(body, line))


def show_clock(session: Session, photo_id: str, shows: datetime | None, zone: str | None) -> None:
    """Say that a picture shows a right clock, and what it showed; None takes it back.

    ``shows`` is naive; ``zone`` None is that of the picture's place. Raises NotFoundError for a
    picture that is not there, UserError for an unknown zone.
    """
    results = session.results
    photo = results.photos.get(photo_id)
    if photo is None:
        raise NotFoundError("The book has no such photograph.", where=photo_id)
    names = name_pictures(results.catalogue.photos)
    name = names[photo_id]
    said = results.book.journey.clocks_shown
    before = next((c.photo for c in said if c.photo in (photo_id, name)), None)
    # The file's name is what the person reads in trip.toml, where no other file is called so.
    key = before or (name if list(names.values()).count(name) == 1 else photo_id)
    if shows is None:
        session.edit(SetClockShown(key, None))
        return
    if zone is not None:
        load_zone(zone)
    session.edit(SetClockShown(key, ClockShown(key, shows.replace(microsecond=0), zone)))


def write_line(results: Results, reading: ClockReading, by_s: int, keeping: Keeping) -> str:
    """Give the line that says how a clock was set, its pictures being ``by_s`` later than now."""
    body = reading.body.key
    lines = {clock.body: clock.line for clock in results.book.journey.clocks}
    if body in lines:
        setting = lines[body].partition(",")[0].strip()
        return _join(setting, read_clock_line(body, lines[body]).slip_s - by_s)
    photos = results.photos
    nominal = read_nominal(reading.body, photos)
    middle = photos[reading.body.photos[len(reading.body.photos) // 2]]
    if nominal.tagged:
        shown = nominal.shown[middle.id]
        span = reading.span_at(shown)
        return _join("own", (span.ahead_at(shown) if span else 0.0) - by_s)
    moments = {moment.photo: moment for moment in results.trip.moments}
    times = trace_local_time(results.trip)
    if keeping == "local":
        return _join("local", -median(list_lateness(reading, photos, moments)) - by_s)
    east = _offset_of(middle, moments, times)
    late_s = _lateness_of(middle, moments, times)
    return _join(say_zone(east), -late_s - by_s)


def _find_reading(results: Results, body: str) -> ClockReading:
    reading = next((r for r in results.trip.clocks if r.body.key == body), None)
    if reading is None:
        raise NotFoundError(f"No picture of the book is of a camera called {body!r}.")
    return reading


def _offset_of(photo: Photo, moments: Mapping[str, Moment], times: LocalTime) -> int:
    moment = moments[photo.id]
    assert moment.local is not None
    return times.offset_at(moment.utc or times.take_for(moment.local))


def _lateness_of(photo: Photo, moments: Mapping[str, Moment], times: LocalTime) -> float:
    """Give how late the clock was at a picture against the time of where the party was, in s."""
    moment = moments[photo.id]
    assert moment.local is not None
    utc = moment.utc or times.take_for(moment.local)
    return (times.tell(utc) - shown_at(photo)).total_seconds()


def _join(setting: str, slip_s: float) -> str:
    """Give a clock's line: ``+02:00, 3m20s fast``."""
    left = round(abs(slip_s))
    if not left:
        return setting
    hours, minutes, seconds = left // 3600, left // 60 % 60, left % 60
    parts = ((hours, "h"), (minutes, "m"), (seconds, "s"))
    said = "".join(f"{amount}{unit}" for amount, unit in parts if amount)
    return f"{setting}, {said} {'fast' if slip_s > 0 else 'slow'}"
