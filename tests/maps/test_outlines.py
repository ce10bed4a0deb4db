"""The outlines as they come, against published figures."""

from __future__ import annotations

import pyproj
import pytest

from wayfold.maps.model import Outline

# Land area in km², as published by the national statistical offices (from memory, rounded). Natural
# Earth 1:10m draws coasts plainly and no inland waters, so four per cent are allowed.
PUBLISHED_KM2 = {
    "NO": 385_207,  # with Svalbard and Jan Mayen
    "CL": 756_102,
    "ID": 1_904_569,
    "NZ": 268_021,
    "FJ": 18_274,
    "EE": 45_339,
    "IT": 302_068,
    "EG": 1_001_450,
}


@pytest.mark.parametrize("code", PUBLISHED_KM2)
def test_countries_have_the_area_they_are_said_to_have(
    code: str, outlines: tuple[Outline, ...]
) -> None:
    (outline,) = (o for o in outlines if o.code == code)
    area, _ = pyproj.Geod(ellps="WGS84").geometry_area_perimeter(outline.land)
    assert abs(area) / 1e6 == pytest.approx(PUBLISHED_KM2[code], rel=0.05)


def test_every_outline_is_sound_and_known_once(outlines: tuple[Outline, ...]) -> None:
    codes = [o.code for o in outlines if o.code]
    assert len(codes) == len(set(codes)) > 230
    # France and Norway have no code in the shorter field of this data; the smallest states have.
    assert {"FR", "NO", "MC", "VA", "SG", "FJ"} <= set(codes)
    assert all(o.land.is_valid and not o.land.is_empty for o in outlines)
