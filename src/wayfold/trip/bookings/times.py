"""Times of bookings on the clocks of their places, and whether they can be true."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

from wayfold.base.findings import Finding, Severity
from wayfold.base.mends import Mend
from wayfold.book.trip_choices import Mode
from wayfold.trip.bookings.model import Way, ZonedTime
from wayfold.trip.calendars.model import Stamp
from wayfold.trip.geodesy import geodesic_m
from wayfold.trip.zones import instant_of, is_repeated, is_skipped

FASTEST_KM_H: dict[Mode | None, float] = {
    Mode.FLIGHT: 1300.0,  # an airliner in a strong jet stream, over ground
    Mode.TRAIN: 450.0,
    Mode.ROAD: 160.0,
    Mode.BOAT: 110.0,
    Mode.FOOT: 15.0,
    None: 1300.0,
}
"""The fastest one travels, over the shortest way. From memory; meant wide."""
LONGEST = timedelta(hours=40)
"""No flight takes longer; the longest ones take about 19 hours."""


def read_time(stamp: Stamp, zone: str) -> ZonedTime | None:
    """Give a calendar's time on the clocks of ``zone``; a floating one is local there."""
    if stamp.utc is not None:
        return ZonedTime(stamp.utc, zone)
    return ZonedTime(instant_of(stamp.wall, zone), zone) if stamp.wall else None


def read_said(time: datetime | None, zone: str) -> ZonedTime | None:
    """Give a time the person wrote: local at ``zone`` where it is naive."""
    if time is None:
        return None
    naive = time.tzinfo is None
    return ZonedTime(instant_of(time, zone) if naive else time.astimezone(UTC), zone)


def judge_way(way: Way, where: str) -> Iterator[Finding]:
    """Give what cannot be true of a way's times."""
    duration = way.duration
    if duration is None:
        return
    hours = duration.total_seconds() / 3600.0
    km = geodesic_m(way.start.place, way.end.place) / 1000.0
    remedy = "Compare with the ticket; give departure and arrival, each in the time of its own "
    remedy += f"place: {Mend.LEGS}."
    if hours <= 0:
        what = f"{way.words} arrives before it departs, by the clocks of both places."
        yield Finding("journey.times", Severity.WARN, where, what, remedy)
    elif km / hours > FASTEST_KM_H[way.mode]:
        what = (
            f"{way.words} goes {km:,.0f} km in {hours:.1f} hours, which nothing of the kind does."
        )
        yield Finding("journey.times", Severity.WARN, where, what, remedy)
    elif way.mode is Mode.FLIGHT and duration > LONGEST:
        what = f"{way.words} takes {hours:.0f} hours, longer than any flight."
        yield Finding("journey.times", Severity.WARN, where, what, remedy)


def judge_wall(wall: datetime | None, zone: str, words: str, where: str) -> Iterator[Finding]:
    """Give what is odd about a time on the clock: skipped, or shown twice, by summer time."""
    if wall is None or wall.tzinfo is not None:
        return
    if is_skipped(wall, zone):
        what = f"{words}: clocks in {zone} skipped {wall:%H:%M on %d %B %Y}, being put forward."
        remedy = "It is taken as the same moment by the time before. Compare with the ticket."
        yield Finding("journey.skipped-hour", Severity.WARN, where, what, remedy)
    elif is_repeated(wall, zone):
        what = f"{words}: clocks in {zone} showed {wall:%H:%M on %d %B %Y} twice, being put back."
        remedy = f"The first is meant, as Wayfold takes it; if not, give the offset: {Mend.LEGS}."
        yield Finding("journey.repeated-hour", Severity.NOTE, where, what, remedy)
