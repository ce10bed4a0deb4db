"""Names of chapters that no place gives one."""

from __future__ import annotations

_ONE_DAY = {"en": "Day {a}", "de": "Tag {a}", "fr": "Jour {a}", "it": "Giorno {a}", "es": "Día {a}"}
_DAYS = {
    "en": "Days {a}–{b}",
    "de": "Tage {a}–{b}",
    "fr": "Jours {a}–{b}",
    "it": "Giorni {a}–{b}",
    "es": "Días {a}–{b}",
}
_MORE = {
    "en": "More Pictures",
    "de": "Weitere Bilder",
    "fr": "D’autres images",
    "it": "Altre immagini",
    "es": "Más imágenes",
}
_ALL = {"en": "Pictures", "de": "Bilder", "fr": "Images", "it": "Immagini", "es": "Imágenes"}


def name_days(first: int, last: int, language: str) -> str:
    """Give the name of a chapter from day ``first`` to day ``last`` of the journey."""
    return _pick(_ONE_DAY if first == last else _DAYS, language).format(a=first, b=last)


def name_undated(alone: bool, language: str) -> str:
    """Give the name of the pictures without a day; ``alone`` where the book has no others."""
    return _pick(_ALL if alone else _MORE, language)


def _pick(names: dict[str, str], language: str) -> str:
    return names.get(language.replace("_", "-").split("-")[0].lower(), names["en"])
