"""Numbers in words' company: thousands parted as each language does, distances, lengths of time."""

from __future__ import annotations

from datetime import timedelta

from wayfold.book.trip_choices import Unit
from wayfold.trip.geodesy import METRES_PER_MILE

NO_BREAK = "\N{NO-BREAK SPACE}"
_THOUSANDS = {
    "en": ",",
    "de": ".",
    "fr": "\N{NARROW NO-BREAK SPACE}",
    "it": ".",
    "es": ".",
}
"""Group separators of the Unicode CLDR."""
_DECIMAL = {"en": ".", "de": ",", "fr": ",", "it": ",", "es": ","}
_LEAST_GROUPED = {"es": 10_000}
"""Spanish parts no thousands of four digits (CLDR: minimum grouping digits 2)."""


def write_number(number: float, language: str, decimals: int = 0) -> str:
    """Give a number as the language writes it."""
    key = language.replace("_", "-").split("-")[0].lower()
    key = key if key in _THOUSANDS else "en"
    text = f"{number:,.{decimals}f}"
    if abs(number) < _LEAST_GROUPED.get(key, 1000):
        text = text.replace(",", "")
    whole, point, rest = text.partition(".")
    return whole.replace(",", _THOUSANDS[key]) + (_DECIMAL[key] if point else "") + rest


def write_distance(metres: float, unit: Unit, language: str) -> str:
    """Give a distance: whole kilometres or miles, with one decimal below ten."""
    amount = metres / (1000.0 if unit is Unit.KM else METRES_PER_MILE)
    decimals = 1 if amount < 9.95 else 0
    return f"{write_number(amount, language, decimals)}{NO_BREAK}{_SIGNS[unit]}"


_SIGNS = {Unit.KM: "km", Unit.MILES: "mi"}


def write_duration(length: timedelta) -> str:
    """Give a length of time: "6 h 38 min" (the symbols of ISO 80000-3 in every language)."""
    minutes = round(length.total_seconds() / 60.0)
    hours, minutes = divmod(minutes, 60)
    parts = [f"{hours}{NO_BREAK}h"] if hours else []
    parts += [f"{minutes}{NO_BREAK}min"] if minutes or not hours else []
    return NO_BREAK.join(parts)
