"""Dates against the Unicode CLDR, through Babel."""

from datetime import date

import pytest

from wayfold.words.dates import write_date, write_dates

LANGUAGES = {"en": "en_GB", "de": "de", "fr": "fr", "it": "it", "es": "es"}


def plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("month", range(1, 13))
def test_long_dates_are_those_of_the_cldr(language, month):
    dates = pytest.importorskip("babel.dates")
    day = date(2025, month, 12)
    assert plain(write_date(day, language)) == dates.format_date(
        day, "long", locale=LANGUAGES[language]
    )


@pytest.mark.parametrize(
    ("first", "last", "language", "text"),
    [
        # The form asked for, in the house style of British book typography (closed en rule
        # between numbers, spaced between phrases: common practice, no single source).
        ((2025, 5, 12), (2025, 5, 12), "en", "12 May 2025"),
        ((2025, 5, 12), (2025, 5, 15), "en", "12–15 May 2025"),
        ((2025, 5, 30), (2025, 6, 2), "en", "30 May – 2 June 2025"),
        ((2025, 12, 30), (2026, 1, 2), "en", "30 December 2025 – 2 January 2026"),
        ((2025, 5, 12), (2025, 5, 15), "de", "12.–15. Mai 2025"),
        ((2025, 5, 30), (2025, 6, 2), "de", "30. Mai – 2. Juni 2025"),
        # French and only French writes the first as an ordinal (Imprimerie nationale's rules).
        ((2025, 5, 1), (2025, 5, 1), "fr", "1er mai 2025"),
        ((2025, 5, 30), (2025, 6, 2), "fr", "30 mai – 2 juin 2025"),
        ((2025, 5, 1), (2025, 5, 3), "it", "1–3 maggio 2025"),
        ((2025, 5, 30), (2025, 6, 2), "es", "30 de mayo – 2 de junio de 2025"),
        # The order the days come in does not matter; a region does not either.
        ((2025, 5, 15), (2025, 5, 12), "en-US", "12–15 May 2025"),
        ((2025, 5, 12), (2025, 5, 12), "nl", "12 May 2025"),
    ],
)
def test_spans_say_nothing_twice(first, last, language, text):
    assert plain(write_dates(date(*first), date(*last), language)) == text


def test_a_date_does_not_break_after_its_day():
    assert "12\N{NO-BREAK SPACE}May 2025" in write_date(date(2025, 5, 12), "en")
