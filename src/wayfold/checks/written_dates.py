"""Dates in prose, in whatever form: by name or in figures, in the languages the book knows.

Months and their abbreviations are those of the Unicode CLDR (gregorian, format and stand-alone).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from wayfold.words.dates import name_months

_SHORT = {
    "en": "Jan Feb Mar Apr May Jun Jul Aug Sep|Sept Oct Nov Dec",
    "de": "Jan Feb Mär|Mrz Apr Mai Jun Jul Aug Sep|Sept Okt Nov Dez",
    "fr": "janv févr mars avr mai juin juil août sept oct nov déc",
    "it": "gen feb mar apr mag giu lug ago set|sett ott nov dic",
    "es": "ene feb mar abr may jun jul ago sep|sept oct nov dic",
}
_WORDS = frozenset({"mar", "set", "ago", "gen", "may", "jan", "sept", "nov"})
"""Short forms that are words or names too: a date only with a full stop or a year."""
_VERBS = frozenset({"may", "march"})
"""English months that are other words where they are not capitalised."""
LEAP = 2024
"""Stands in where no year is written, so that 29 February is a day."""
REACH = 40
"""So many signs before a date are looked at for what it belongs to."""
_STREETS = re.compile(
    r"\b(rue|place|quai|avenue|boulevard|calle|plaza|avenida|via|piazza|viale|corso|straße|platz)"
    r"\s+(\w+\s+){0,2}$",
    re.IGNORECASE,
)
"""A date that is the name of a street stays as the street is called."""
_FIGURES = re.compile(
    r"(?<![\d./-])(?:(?P<y>\d{4})-(?P<m>\d\d)-(?P<d>\d\d)"
    r"|(?P<a>\d{1,2})(?P<sep>[./-])[ \N{NO-BREAK SPACE}]?(?P<b>\d{1,2})(?P=sep)"
    r"[ \N{NO-BREAK SPACE}]?(?P<c>\d{4}|\d\d))(?![\d/-]|\.\d)"
)
_GERMAN = re.compile(r"(?<![\d.,])(?P<a>\d{1,2})\.[ \N{NO-BREAK SPACE}]?(?P<b>\d{1,2})\.(?!\d)")
_HOURS = re.compile(r"\b(um|gegen|ab|bis)\s+$")


@dataclass(frozen=True, slots=True)
class WrittenDate:
    """A date as it stands in a text. ``year`` is None where none is written.

    ``last`` is the last day of a span within a month ("May 12–15"). ``sure`` says that it can be
    read in one way only: figures of day and month may each be the other.
    """

    text: str
    day: int
    month: int
    year: int | None = None
    last: int | None = None
    sure: bool = True


def find_dates(text: str, language: str, near: date | None = None) -> Iterator[WrittenDate]:
    """Give the dates of a text in their order of kind: by name first, then in figures.

    Of figures that can be read two ways (4/5/2025), the reading nearer to ``near`` is given, and
    the day first where that does not tell. What cannot be a date gives none.
    """
    key = _key(language)
    for match in _by_name(key).finditer(text):
        if found := _read_named(match, key, text):
            yield found
    for match in _FIGURES.finditer(text):
        if found := _read_figures(match, language, near):
            yield found
    for match in _GERMAN.finditer(text) if key == "de" else ():
        if (
            not _HOURS.search(text[max(0, match.start() - REACH) : match.start()])
            and _FIGURES.match(text, match.start()) is None
        ):
            day, month = int(match["a"]), int(match["b"])
            if _is_day(LEAP, month, day):
                # It may also be the number of a chapter.
                yield WrittenDate(match[0], day, month, sure=False)


@lru_cache(maxsize=8)
def _by_name(key: str) -> re.Pattern[str]:
    names = name_months(key)
    short = [form for forms in _list_short(key) for form in forms]
    month = "|".join(sorted({*names, *short}, key=len, reverse=True))
    space = r"[ \N{NO-BREAK SPACE}]"
    year = rf"(?:,?{space}(?:del?{space})?(?P<YEAR>\d{{4}})(?!\d|-\d))?"
    day_first = (
        rf"(?<![\d.,:])(?P<d1>\d{{1,2}})(?:st|nd|rd|th|er|re|\.|º|°|ª)?{space}?(?:(?:of|de){space})?"
        rf"(?:the{space})?(?P<m1>{month})(?P<dot1>\.?)(?!\w){year.replace('YEAR', 'y1')}"
    )
    if key != "en":
        return re.compile(day_first, re.IGNORECASE)
    month_first = (
        rf"\b(?P<m2>{month})(?P<dot2>\.?){space}(?:the{space})?(?P<d2>\d{{1,2}})(?:st|nd|rd|th)?"
        rf"(?:{space}?[-–]{space}?(?P<last>\d{{1,2}})(?:st|nd|rd|th)?)?(?![\d:.,]\d|\d|{space}?%)"
        rf"{year.replace('YEAR', 'y2')}"
    )
    return re.compile(f"{day_first}|{month_first}", re.IGNORECASE)


def _read_named(match: re.Match[str], key: str, text: str) -> WrittenDate | None:
    parts = match.groupdict()
    at = "1" if parts["d1"] else "2"
    name, year = parts[f"m{at}"], parts[f"y{at}"]
    if key == "en" and name.lower() in _VERBS and name[0].islower():
        return None
    full = [n.lower() for n in name_months(key)]
    if name.lower() in full:
        month = full.index(name.lower()) + 1
        ends_sentence = True
    else:
        short = [[form.lower() for form in forms] for forms in _list_short(key)]
        month = next(i for i, forms in enumerate(short, start=1) if name.lower() in forms)
        ends_sentence = False
        if name.lower() in _WORDS and not (parts[f"dot{at}"] or year):
            return None
        if key in ("en", "de") and name[0].islower():
            return None
    day, last = int(parts[f"d{at}"]), int(parts.get("last") or 0)
    before = text[max(0, match.start() - REACH) : match.start()]
    if not _is_day(int(year or LEAP), month, day) or _STREETS.search(before):
        return None
    if last and not (last > day and _is_day(int(year or LEAP), month, last)):
        # "May 12–45" is no span: what follows the first day belongs to something else.
        return WrittenDate(text[match.start() : match.end("d2")], day, month)
    # The full stop after a whole month ends the sentence and is no part of the date.
    written = match[0].rstrip(".") if ends_sentence else match[0]
    return WrittenDate(written, day, month, int(year) if year else None, last or None)


def _read_figures(match: re.Match[str], language: str, near: date | None) -> WrittenDate | None:
    if match["y"]:
        year, month, day = int(match["y"]), int(match["m"]), int(match["d"])
        return WrittenDate(match[0], day, month, year) if _is_day(year, month, day) else None
    one, other, year = int(match["a"]), int(match["b"]), int(match["c"])
    year += 2000 if year < 70 else 1900 if year < 100 else 0
    ways = [(one, other), (other, one)]
    if language.replace("_", "-").lower() == "en-us":
        ways.reverse()
    days = [date(year, month, day) for day, month in ways if _is_day(year, month, day)]
    if not days:
        return None
    best = min(days, key=lambda d: abs((d - near).days)) if near else days[0]
    sure = len(set(days)) == 1 and len(match["c"]) == len("2025")
    return WrittenDate(match[0], best.day, best.month, best.year, sure=sure)


def _list_short(key: str) -> list[list[str]]:
    return [forms.split("|") for forms in _SHORT[key].split()]


def _is_day(year: int, month: int, day: int) -> bool:
    try:
        date(year, month, day)
    except ValueError:
        return False
    return True


def _key(language: str) -> str:
    primary = language.replace("_", "-").split("-")[0].lower()
    return primary if primary in _SHORT else "en"
