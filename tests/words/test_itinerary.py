"""The itinerary's words. Dates, weekdays and numbers against the Unicode CLDR (package Babel)."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from babel.dates import get_day_names
from babel.numbers import format_decimal

from tests.trip.journey_world import event, shots, travel
from wayfold.book.state import Book
from wayfold.book.trip_choices import DayNote, LegChoice, Mode, TripChoices, Unit
from wayfold.trip.journey.model import Journey
from wayfold.words.itinerary import wants_itinerary, write_itinerary
from wayfold.words.journey_terms import say_weekday
from wayfold.words.numbers import write_distance, write_duration, write_number

LANGUAGES = ("en", "de", "fr", "it", "es")
CLDR = {"en": "en_GB", "de": "de", "fr": "fr", "it": "it", "es": "es"}


@pytest.mark.parametrize("language", LANGUAGES)
def test_numbers_and_weekdays_are_those_of_the_cldr(language: str) -> None:
    for number in (0, 7, 999, 1000, 1234, 9999, 10_000, 123_456, 1_234_567):
        theirs = format_decimal(number, locale=CLDR[language])
        if language == "es" and 1000 <= number < 10_000:
            # Babel passes over CLDR's minimum of grouping digits; the Real Academia's Ortografía
            # (2010) has four digits stand together too (from memory).
            theirs = str(number)
        assert write_number(number, language) == theirs
    assert write_number(7.5, language, 1) == format_decimal(7.5, locale=CLDR[language])
    names = get_day_names("abbreviated", context="stand-alone", locale=CLDR[language])
    for weekday in range(7):
        ours = say_weekday(weekday, language)
        assert ours.rstrip(".") == names[weekday].rstrip(".")


def test_distances_and_durations() -> None:
    assert write_distance(468_400, Unit.KM, "en") == "468\u00a0km"
    assert write_distance(9_940, Unit.KM, "de") == "9,9\u00a0km"
    assert write_distance(1_609_344, Unit.MILES, "en") == "1,000\u00a0mi"  # 1 mi = 1609.344 m
    assert write_duration(timedelta(hours=6, minutes=38)) == "6\u00a0h\u00a038\u00a0min"
    assert write_duration(timedelta(minutes=50)) == "50\u00a0min"
    assert write_duration(timedelta(hours=9)) == "9\u00a0h"


ROWS = (
    "Bilbao 2025-05-03T10:00 120",
    "Bilbao 2025-05-05T21:00 120",
    "Barcelona 2025-05-06T18:00 120",
    "Barcelona 2025-05-08T21:30 120",
)
EVENTS = (
    event("VY 1423 BIO → BCN", "20250506T101500", "20250506T113000"),
    event("Hotel Arriaga", "20250503", "20250506", "Bilbao"),
    event("Museum", "20250504T110000", "", "Bilbao"),
)


def spring(book: Book) -> Journey:
    return travel(shots(*ROWS), *EVENTS, choices=book.journey)


def texts(book: Book, journey: Journey) -> list[list[str]]:
    table = write_itinerary(book, journey).table
    return [["\n".join(p.plain for p in cell) for cell in row] for row in table.rows]


def test_a_row_for_each_day_with_all_there_is() -> None:
    book = Book("T", journey=TripChoices(days=(DayNote(date(2025, 5, 4), "Rain."),)))
    rows = texts(book, spring(book))
    paged = write_itinerary(book, spring(book), {date(2025, 5, 4): 12}).table
    assert ["".join(p.plain for p in row[-1]) for row in paged.rows] == ["", "12", "", "", "", ""]
    assert len(rows) == 6
    assert rows[0] == [
        "1",
        "Sat\u00a03\u00a0May",
        "Bilbao, Spain",
        "",
        "Hotel Arriaga\n3 nights",
        "",
        "888",
    ]
    assert [row[4] for row in rows[1:]] == ["", "", "2 nights", "", ""]
    assert rows[1][5] == "11:00\u00a0 Museum\nRain."
    assert rows[3][2] == "Bilbao\nBarcelona"
    way = rows[3][3].replace("\u00a0", " ")
    assert way.startswith("10:15–11:30  Bilbao – Barcelona\nFlight VY 1423, 1 h 15 min, ")
    assert way.endswith(" km")


def test_columns_that_nobody_fills_are_left_out() -> None:
    journey = travel(shots(*ROWS))
    book = Book("T", journey=TripChoices(itinerary=True))
    heads = ["".join(p.plain for p in cell) for cell in write_itinerary(book, journey).table.head]
    assert heads == ["Day", "", "Place", "Way", "Night", "Page"]


def test_arrivals_on_another_date_say_so() -> None:
    journey = travel(
        shots("Auckland 2025-06-08T12:00 720", "Honolulu 2025-06-11T12:00 -600"),
        event("Flight AKL-HNL", "20250610T235500", "20250610T105500"),
    )
    ways = [row[3] for row in texts(Book("T"), journey) if row[3]]
    assert ways[0].startswith("23:55–10:55\u00a0 ")
    night = travel(
        shots(*ROWS), event("Train Bilbao → Barcelona", "20250505T220000", "20250506T073000")
    )
    (way,) = (row[3] for row in texts(Book("T"), night) if row[3])
    assert way.startswith("22:00–07:30\u2009+1")


def test_who_gets_an_itinerary() -> None:
    bare, booked = travel(shots(*ROWS)), travel(shots(*ROWS), *EVENTS)
    book = Book("T")
    assert not wants_itinerary(book, bare)
    assert wants_itinerary(book, booked)
    assert wants_itinerary(replace(book, journey=TripChoices(itinerary=True)), bare)
    assert not wants_itinerary(replace(book, journey=TripChoices(itinerary=False)), booked)
    said = TripChoices(legs=(LegChoice("Bilbao", "Barcelona", Mode.ROAD),))
    assert wants_itinerary(replace(book, journey=said), travel(shots(*ROWS), choices=said))


def test_namesakes_bear_their_countries_every_time() -> None:
    journey = travel(
        shots("Santiago/CL 2025-05-03T10:00 -240", "Santiago/CL 2025-05-04T10:00 -240",
              "Santiago/ES 2025-05-09T10:00 120")
    )  # fmt: skip
    places = [row[2] for row in texts(Book("T"), journey)]
    assert places[:2] == ["Santiago, Chile", "Santiago, Chile"]
    assert places[-1] == "Santiago, Spain"


@pytest.mark.parametrize("language", LANGUAGES)
def test_totals_in_each_language(language: str) -> None:
    book = Book("T", language=language)
    title, totals = write_itinerary(book, spring(book)).title
    assert title.plain
    assert "6" in totals.plain
    assert totals.plain.endswith("km")
