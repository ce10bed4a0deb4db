"""Names of countries by their ISO 3166-1 codes, in the book's language."""

from __future__ import annotations

import gettext
from functools import lru_cache

import pycountry

# ISO turns these names round for the alphabet's sake ("Virgin Islands, British").
_TURNED_ROUND = frozenset({"CD", "FM", "PS", "VG", "VI"})

# A user-assigned code in wide use, which ISO 3166-1 itself does not list.
_UNLISTED = {"XK": "Kosovo"}


@lru_cache(maxsize=512)
def name_country(code: str, language: str = "en") -> str:
    """Give a country's everyday name, in ``language`` (BCP 47) where a translation is at hand.

    Falls back to English, and to the code itself for one that nobody has assigned.
    """
    country = pycountry.countries.get(alpha_2=code)
    if country is None:
        return _UNLISTED.get(code, code)
    everyday = str(getattr(country, "common_name", country.name))
    translated = _translate(everyday, language)
    if translated == everyday and code in _TURNED_ROUND:
        head, _, tail = everyday.partition(", ")
        translated = f"{tail} {head}"
    return translated.partition(" (")[0]


def _translate(name: str, language: str) -> str:
    primary = language.replace("_", "-").split("-")[0].lower()
    if primary == "en":
        return name
    catalogue = gettext.translation(
        "iso3166-1",
        pycountry.LOCALES_DIR,
        languages=[language.replace("-", "_"), primary],
        fallback=True,
    )
    return catalogue.gettext(name)
