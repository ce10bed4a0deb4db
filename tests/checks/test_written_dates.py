"""Dates in prose, held against the forms of the Unicode CLDR (as the library Babel has it)."""

from datetime import date, timedelta

import pytest
from babel.dates import format_date

from wayfold.checks.rules.date_style import write_as_book
from wayfold.checks.written_dates import find_dates
from wayfold.words.dates import write_date, write_day_month

DAYS = [date(2024, 1, 2) + timedelta(days=5 * n) for n in range(73)]
LANGUAGES = ("en", "de", "fr", "it", "es")


def _plain(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("form", ["full", "long", "medium", "short"])
def test_every_form_of_the_cldr_is_read(language: str, form: str) -> None:
    for day in DAYS:
        # English as Britain has it.
        locale = "en_GB" if language == "en" else language
        text = format_date(day, form, locale=locale)
        found = list(find_dates(f"… {text}, …", language, day))
        assert [(d.year, d.month, d.day) for d in found] == [(day.year, day.month, day.day)], text
        # The long form is the book's own (in French, Babel writes "1 mai" for 1er mai).
        own = format_date(day, "long", locale=locale) in text and (language, day.day) != ("fr", 1)
        assert (_plain(found[0].text) == _plain(write_as_book(found[0], language))) == own, text


def test_american_order_is_read_and_rewritten() -> None:
    for day in DAYS:
        for form in ("long", "medium"):
            (found,) = find_dates(format_date(day, form, locale="en_US"), "en")
            assert (found.month, found.day) == (day.month, day.day)
            assert write_as_book(found, "en") == write_date(day, "en")


@pytest.mark.parametrize("language", LANGUAGES)
def test_what_the_book_writes_is_its_own_form(language: str) -> None:
    for day in [*DAYS, date(2024, 1, 1), date(2025, 12, 31)]:
        for text in (write_date(day, language), write_day_month(day, language)):
            (found,) = find_dates(f"So {text}.", language)
            assert _plain(write_as_book(found, language)) == _plain(text)


@pytest.mark.parametrize(
    ("text", "language", "form"),
    [
        ("the 12th of May, 2025", "en", "12 May 2025"),
        ("May 12th", "en", "12 May"),
        ("May 12–15, 2025", "en", "12–15 May 2025"),
        ("March 3-5", "en", "3–5 March"),
        ("am 12.5. in Bonn", "de", "12. Mai"),
        ("am 12. 5. 2025", "de", "12. Mai 2025"),
        ("le 1 mai", "fr", "1er mai"),
        ("il 3/10/25", "it", "3 ottobre 2025"),
        ("el 12 mayo 2025", "es", "12 de mayo de 2025"),
    ],
)
def test_other_forms(text: str, language: str, form: str) -> None:
    (found,) = find_dates(text, language)
    assert _plain(write_as_book(found, language)) == form
    assert _plain(found.text) != form


@pytest.mark.parametrize(
    ("text", "language"),
    [
        ("In May 2025 we may 12 times have asked; at 12 may be noon", "en"),
        ("24/7, room 3/12, 1.2.3, 10-12, 99/99/2025, May 45, 12:30", "en"),
        ("She marches on; on march 12 dogs", "en"),
        ("um 10.10. Uhr, 3.5 Grad, 12.5 km", "de"),
        ("rue du 11 novembre, place du 8 mai", "fr"),
        ("via XX settembre, piazza 4 novembre, 3 mar", "it"),
    ],
)
def test_what_is_no_date(text: str, language: str) -> None:
    assert list(find_dates(text, language)) == []


def test_figures_are_read_as_the_journey_has_them() -> None:
    (found,) = find_dates("5/10/2025", "en", date(2025, 5, 12))
    assert (found.day, found.month) == (10, 5)
    (found,) = find_dates("5/10/2025", "en", date(2025, 10, 12))
    assert (found.day, found.month) == (5, 10)
    (found,) = find_dates("5/10/2025", "en-US")
    assert (found.day, found.month) == (10, 5)
