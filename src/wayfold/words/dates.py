"""One form of date for the whole book: day, month by name, year; ranges say nothing twice.

Forms follow the Unicode CLDR's long dates of each language; the closed en rule within a month and
the spaced one between months are common practice in British book typography.
"""

from __future__ import annotations

from datetime import date

_MONTHS: dict[str, tuple[str, ...]] = {
    "en": (
        *("January", "February", "March", "April", "May", "June", "July"),
        *("August", "September", "October", "November", "December"),
    ),
    "de": (
        *("Januar", "Februar", "März", "April", "Mai", "Juni", "Juli"),
        *("August", "September", "Oktober", "November", "Dezember"),
    ),
    "fr": (
        *("janvier", "février", "mars", "avril", "mai", "juin", "juillet"),
        *("août", "septembre", "octobre", "novembre", "décembre"),
    ),
    "it": (
        *("gennaio", "febbraio", "marzo", "aprile", "maggio", "giugno", "luglio"),
        *("agosto", "settembre", "ottobre", "novembre", "dicembre"),
    ),
    "es": (
        *("enero", "febrero", "marzo", "abril", "mayo", "junio", "julio"),
        *("agosto", "septiembre", "octubre", "noviembre", "diciembre"),
    ),
}
NO_BREAK = "\N{NO-BREAK SPACE}"
EN_RULE = "\N{EN DASH}"


def name_months(language: str) -> tuple[str, ...]:
    """Give the twelve months as the language writes them within a date."""
    return _MONTHS[_key(language)]


def write_date(day: date, language: str) -> str:
    """Give a date in words: "12 May 2025". Languages without a form of their own read English."""
    return _with_year(_day_month(day, language), day, language)


def write_day_month(day: date, language: str) -> str:
    """Give a date without its year: "12 May"."""
    return _day_month(day, language)


def write_dates(first: date, last: date, language: str) -> str:
    """Give a span of days: "12–15 May 2025", "30 May – 2 June 2025", or one date if they agree."""
    if last < first:
        first, last = last, first
    if first == last:
        return write_date(first, language)
    end = write_date(last, language)
    if (first.year, first.month) == (last.year, last.month):
        return f"{_day(first, language)}{EN_RULE}{end}"
    start = _day_month(first, language) if first.year == last.year else write_date(first, language)
    return f"{start}{NO_BREAK}{EN_RULE} {end}"


def _key(language: str) -> str:
    primary = language.replace("_", "-").split("-")[0].lower()
    return primary if primary in _MONTHS else "en"


def _day(day: date, language: str) -> str:
    key = _key(language)
    if key == "de":
        return f"{day.day}."
    if day.day == 1 and key == "fr":
        return "1er"
    return str(day.day)


def _day_month(day: date, language: str) -> str:
    key = _key(language)
    joint = f"{NO_BREAK}de " if key == "es" else NO_BREAK
    return f"{_day(day, language)}{joint}{_MONTHS[key][day.month - 1]}"


def _with_year(text: str, day: date, language: str) -> str:
    return f"{text} de {day.year}" if _key(language) == "es" else f"{text} {day.year}"
