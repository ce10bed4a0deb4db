"""Names of countries against ISO 3166-1 and the translations Debian's iso-codes carry."""

from importlib.resources import files

import pytest

from wayfold.trip.countries import name_country


@pytest.mark.parametrize(
    ("code", "language", "name"),
    [
        # Everyday names, English; from memory.
        ("ES", "en", "Spain"),
        ("IT", "en", "Italy"),
        ("BO", "en", "Bolivia"),
        ("KR", "en", "South Korea"),
        ("TZ", "en", "Tanzania"),
        ("VA", "en", "Holy See"),
        ("VG", "en", "British Virgin Islands"),
        ("CD", "en", "The Democratic Republic of the Congo"),
        ("XK", "en", "Kosovo"),
        # From memory, by speakers of the language.
        ("ES", "de", "Spanien"),
        ("ES", "de-CH", "Spanien"),
        ("IT", "fr", "Italie"),
        ("DE", "it", "Germania"),
        ("FR", "es", "Francia"),
        ("IT", "tlh", "Italy"),
        ("ZZ", "en", "ZZ"),
    ],
)
def test_names(code, language, name):
    assert name_country(code, language) == name


def test_every_country_of_the_time_zone_database_has_a_name():
    # tzdata's iso3166.tab lists the codes of ISO 3166-1 (public domain).
    text = (files("tzdata") / "zoneinfo" / "iso3166.tab").read_text()
    codes = [line.split("\t")[0] for line in text.splitlines() if not line.startswith("#")]
    assert len(codes) == 249
    for code in codes:
        name = name_country(code)
        assert name != code
        assert "(" not in name
