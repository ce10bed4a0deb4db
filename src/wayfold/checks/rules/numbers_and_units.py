"""Numbers, units and hours are written in more than one form.

A space parts a number from its unit, and unit symbols are not words: no plural, no other capitals
(BIPM, The International System of Units, 9th edition, 5.4.3, 5.2). Decimal signs are those of the
Unicode CLDR for the language. Which form hours and money take is the maker's choice, that it is one
is common practice (no single source).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from wayfold.base.findings import Finding, Rewording, Severity
from wayfold.base.mends import Mend
from wayfold.book.trip_choices import Unit
from wayfold.checks.odd_forms import find_odd_forms
from wayfold.checks.rewording import offer
from wayfold.checks.subject import Subject
from wayfold.checks.writings import Role, Writing, join_quotes, list_writings
from wayfold.words.numbers import write_number

RULE = "numbers-and-units"
_UNIT = r"km/h|km|kg|cm|mm|mi|°C|m|g|l|min|ha"
_NARROW = re.compile(rf"(?<![\w.,:/])\d+(?:[.,]\d+)?(?:{_UNIT})(?!\w)")
_SYMBOL = re.compile(
    r"(?<![\w.,:/])\d+(?:[.,]\d+)?\s?(?:Km|KM|kms|Kms|kmh|Kmh|kph|Kg|KG|kgs)(?!\w)"
)
_MEASURE = re.compile(r"(\d+)(?:([.,])(\d+))?\s?(\D+)")
_MOST_DECIMALS = 2
"""Three figures after a sign are thousands."""
_RIGHT = {"km": "km", "kms": "km", "kmh": "km/h", "kph": "km/h", "kg": "kg", "kgs": "kg"}
"""The symbol that each spelling of a unit means, in small letters."""
_DECIMAL = re.compile(rf"(?<![\d.,:])\d+(?P<sign>[.,])\d{{1,2}}\s?(?:{_UNIT})(?!\w)")
_MILES = re.compile(r"\b\d+(?:[.,]\d+)*\s(?:miles?|mi)\b")
_KILOMETRES = re.compile(
    r"\b\d+(?:[.,]\d+)*\s?(?:km|kilomet(?:er|re)s?|kilomètres?|chilometri|kilómetros?)\b",
    re.IGNORECASE,
)
_HOURS = {
    "18:00": re.compile(r"(?<![\d:.])(?:[01]?\d|2[0-3]):[0-5]\d(?![\d:])(?!\s?[ap]\.?m)"),
    "6 pm": re.compile(r"(?<![\d:.])\d{1,2}(?:[:.][0-5]\d)?\s?[ap]\.?m\b\.?", re.IGNORECASE),
    "18.00 Uhr": re.compile(r"(?<![\d:.])\d{1,2}\.[0-5]\d\s?Uhr\b"),
    "18h00": re.compile(r"(?<![\d:.])(?:[01]?\d|2[0-3])\s?h\s?[0-5]\d\b(?!\s?min)"),
}
_SHARES = {
    "5 %": re.compile(r"\d\s%"),
    "5%": re.compile(r"\d%"),
}
_SUM = r"\d+(?:[.,]\d+)*"
_MONEY = {
    "€5": re.compile(rf"[€£$]\s?{_SUM}"),
    "5 €": re.compile(rf"{_SUM}\s?[€£$](?!\s?\d)"),
    "5 EUR": re.compile(rf"\b(?:(?:EUR|GBP|USD|CHF)\s{_SUM}|{_SUM}\s(?:EUR|GBP|USD|CHF)\b)"),
}


def find_odd_numbers(subject: Subject) -> Iterator[Finding]:
    """Name the places whose numbers, units, hours, shares or money differ from the book's form."""
    writings = [w for w in list_writings(subject) if w.role is not Role.COLOPHON]
    legs = subject.journey.legs if subject.journey and _has_table(subject) else ()
    told = sum(leg.depart is not None for leg in legs)
    yield from find_odd_forms(
        subject, writings, _HOURS, "hours", RULE, {"18:00": told} if told else None
    )
    yield from find_odd_forms(subject, writings, _SHARES, "per cents", RULE)
    yield from find_odd_forms(subject, writings, _MONEY, "sums of money", RULE)
    for writing in writings:
        yield from _judge_units(writing, subject)


def _has_table(subject: Subject) -> bool:
    return subject.words is not None and subject.words.itinerary is not None


def _judge_units(writing: Writing, subject: Subject) -> Iterator[Finding]:
    text = writing.text
    sign = write_number(0.5, subject.book.language, 1)[1]

    def tell(passages: list[str], what: str, remedy: str) -> Finding:
        right = [(writing, passage, write_measure(passage, sign)) for passage in passages]
        return _tell(writing, passages, what, remedy, offer(subject, right))

    if narrow := _NARROW.findall(text):
        yield tell(narrow, "no space before the unit", "Write it as 5 km.")
    if symbols := _SYMBOL.findall(text):
        yield tell(symbols, "a unit that is not its symbol", "Write km, km/h or kg, as they are.")
    if odd := [m[0] for m in _DECIMAL.finditer(text) if m["sign"] != sign]:
        yield tell(odd, "another decimal sign than the book’s language", f"Write 0{sign}5.")
    miles = subject.book.journey.unit is Unit.MILES
    if other := (_KILOMETRES if miles else _MILES).findall(text):
        unit = "miles" if miles else "kilometres"
        yield _tell(
            writing,
            other,
            f"another measure than the book, which counts in {unit}",
            f"Give the distance as the book does, or let it count otherwise: {Mend.UNITS}.",
        )


def write_measure(passage: str, sign: str) -> str | None:
    """Give a number and its unit as they are written, 12.5 km; ``sign`` is the decimal one."""
    found = _MEASURE.fullmatch(passage)
    if found is None:
        return None
    whole, written, rest, unit = found.groups()
    if rest:
        whole += (sign if len(rest) <= _MOST_DECIMALS else written) + rest
    return f"{whole} {_RIGHT.get(unit.lower(), unit)}"


def _tell(
    writing: Writing,
    passages: list[str],
    what: str,
    remedy: str,
    rewordings: tuple[Rewording, ...] = (),
) -> Finding:
    message = f"The {writing.what} has {what} in {join_quotes(passages)}."
    return Finding(RULE, Severity.WARN, writing.where, message, remedy, rewordings=rewordings)
