"""The journey as a table for other programs: comma-separated values (RFC 4180)."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from wayfold.trip.bookings.model import ZonedTime
from wayfold.trip.journey.model import Journey, JourneyDay, Leg

COLUMNS = (
    "date",
    "day",
    "places",
    "from",
    "to",
    "mode",
    "service",
    "depart",
    "arrive",
    "minutes",
    "distance_km",
    "night",
    "notes",
)
_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def dump_rows(journey: Journey) -> bytes:
    """Give the itinerary as CSV: a row for each leg, and one for each day without.

    In UTF-8 with a byte order mark, without which common spreadsheets take it for something
    else. A text that a spreadsheet would run as a formula has an apostrophe before it. Times are
    ISO 8601 with the offset of their place; there are no coordinates.
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for day in journey.days:
        for row in _list_rows(journey, day):
            writer.writerow([_guard(cell) for cell in row])
    return text.getvalue().encode("utf-8-sig")


def _list_rows(journey: Journey, day: JourneyDay) -> Iterator[list[str]]:
    stays = [journey.stays[i] for i in day.stays]
    places = "; ".join(dict.fromkeys(s.name for s in stays if not s.change))
    number = journey.number_of(day.date)
    start = [day.date.isoformat(), str(number or ""), places]
    night = _say_night(journey, day)
    notes = [v.name for v in day.visits] + ([day.note] if day.note else [])
    legs = [journey.legs[i] for i in day.legs]
    if not legs:
        yield [*start, *[""] * 8, night, "; ".join(notes)]
    for i, leg in enumerate(legs):
        told = [*(notes if i == 0 else []), *([leg.note] if leg.note else [])]
        yield [*start, *_describe(journey, leg), night if i == len(legs) - 1 else "",
               "; ".join(told)]  # fmt: skip


def _describe(journey: Journey, leg: Leg) -> list[str]:
    minutes = leg.duration.total_seconds() / 60.0 if leg.duration else None
    return [
        journey.stays[leg.start].name,
        journey.stays[leg.end].name,
        leg.mode.value if leg.mode else "",
        leg.service,
        _iso(leg.depart),
        _iso(leg.arrive),
        f"{minutes:.0f}" if minutes is not None else "",
        f"{leg.distance_m / 1000.0:.1f}",
    ]


def _iso(time: ZonedTime | None) -> str:
    return time.aware.isoformat(timespec="minutes") if time else ""


def _say_night(journey: Journey, day: JourneyDay) -> str:
    if day.night is None:
        return ""
    if day.night.lodging is not None:
        return day.night.lodging.name
    if day.night.stay is not None:
        return journey.stays[day.night.stay].name
    return "on the way" if day.night.leg is not None else ""


def _guard(cell: str) -> str:
    return f"'{cell}" if cell.startswith(_FORMULA) else cell
