"""The itinerary for other programs, read back by other readers.

- CSV: RFC 4180, by the standard library's reader; texts that spreadsheets run as formulas: the
  signs that the OWASP page on CSV injection lists (= + - @, tab, carriage return).
- iCalendar: RFC 5545, by icalendar, and by our own reading of calendars.
"""

from __future__ import annotations

import csv
import io
from datetime import date, datetime

from icalendar import Calendar

from tests.trip.journey_world import book, event, shots, travel
from wayfold.book.trip_choices import DayNote, LodgingChoice, TripChoices
from wayfold.trip.calendars.read import read_calendar
from wayfold.trip.journey.events import dump_events
from wayfold.trip.journey.rows import COLUMNS, dump_rows

ROWS = (
    "Bilbao 2025-05-03T10:00 120",
    "Bilbao 2025-05-05T21:00 120",
    "Barcelona 2025-05-06T18:00 120",
    "Barcelona 2025-05-08T21:30 120",
)
FLIGHT = event("VY 1423 BIO → BCN", "20250506T101500", "20250506T113000")
LONDON = event(
    "LHR-BIO", "TZID=Europe/London:20250502T175000", "TZID=Europe/Madrid:20250502T205000"
)
SAID = TripChoices(
    lodgings=(LodgingChoice("Bilbao", '=HYPERLINK("x"), a "room"', date(2025, 5, 3), 3),),
    days=(DayNote(date(2025, 5, 4), "@noon, rain\nand more"),),
)


def read_rows(data: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline="")))


def test_rows_are_read_back_by_another_reader() -> None:
    rows = read_rows(dump_rows(travel(shots(*ROWS), FLIGHT, LONDON, choices=SAID)))
    assert tuple(rows[0]) == COLUMNS
    (flight,) = (r for r in rows if r["service"] == "VY 1423")
    assert flight["depart"] == "2025-05-06T10:15+02:00"
    assert flight["minutes"] == "75"
    assert flight["mode"] == "flight"
    (london,) = (r for r in rows if r["from"] == "London")
    assert (london["depart"], london["arrive"]) == (
        "2025-05-02T17:50+01:00",
        "2025-05-02T20:50+02:00",
    )
    assert london["day"] == ""  # before the first picture
    assert rows[1]["day"] == "1"


def test_no_cell_is_a_formula_and_nothing_of_it_is_lost() -> None:
    rows = read_rows(dump_rows(travel(shots(*ROWS), choices=SAID)))
    cells = [cell for row in rows for cell in row.values()]
    assert not any(cell.startswith(("=", "+", "-", "@", "\t", "\r")) for cell in cells)
    assert rows[0]["night"] == """'=HYPERLINK("x"), a "room\""""
    assert rows[1]["notes"] == "'@noon, rain\nand more"


def test_events_are_read_back_with_both_zones() -> None:
    journey = travel(shots(*ROWS), FLIGHT, LONDON, choices=SAID)
    parsed = Calendar.from_ical(dump_events(journey, "Spring"))
    events = {str(e["SUMMARY"]): e for e in parsed.walk("VEVENT")}
    flight = events["Flight: London – Bilbao"]
    assert flight["DTSTART"].dt.replace(tzinfo=None) == datetime(2025, 5, 2, 17, 50)
    assert (flight["DTEND"].dt - flight["DTSTART"].dt).total_seconds() == 7200
    assert flight["DTEND"].params["TZID"] == "Europe/Madrid"
    zones = {str(z["TZID"]) for z in parsed.walk("VTIMEZONE")}
    assert zones == {"Europe/London", "Europe/Madrid"}
    room = events['=HYPERLINK("x"), a "room"']
    assert (room["DTSTART"].dt, room["DTEND"].dt) == (date(2025, 5, 3), date(2025, 5, 6))
    assert len({str(e["UID"]) for e in events.values()}) == len(events)


def test_the_same_journey_gives_the_same_bytes_and_no_coordinates() -> None:
    one, other = (travel(shots(*ROWS), FLIGHT, LONDON, choices=SAID) for _ in range(2))
    assert dump_events(one, "Spring") == dump_events(other, "Spring")
    assert dump_rows(one) == dump_rows(other)
    assert b"GEO" not in dump_events(one, "Spring")
    assert b"43.2" not in dump_events(one, "Spring") + dump_rows(one)


def test_our_own_calendar_books_the_same_flights() -> None:
    journey = travel(shots(*ROWS), event("Train Bilbao → Barcelona", "20250506T101500",
                                         "20250506T163000"))  # fmt: skip
    data = dump_events(journey, "Spring")
    again = read_calendar(data, "itinerary.ics", date(2025, 5, 1), date(2025, 5, 10))
    assert again.findings == ()
    (train,) = (e for e in again.events if e.summary.startswith("Train"))
    (way,) = book(shots(*ROWS), event("Train Bilbao → Barcelona", "20250506T101500")).ways
    assert way.depart and train.start.utc == way.depart.utc
