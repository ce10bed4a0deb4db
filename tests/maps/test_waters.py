"""Names of waters against where they lie (positions: general geography, common practice)."""

from __future__ import annotations

import numpy as np
import pytest

from wayfold.maps.waters import WATERS, name_waters


@pytest.mark.parametrize(
    ("name", "lat", "lon"),
    [
        ("North Sea", 56.0, 3.0), ("Bay of Biscay", 45.5, -4.5), ("Baltic Sea", 56.5, 19.0),
        ("Mediterranean Sea", 34.0, 20.0), ("Tyrrhenian Sea", 40.0, 12.0),
        ("Adriatic Sea", 43.0, 15.0), ("Aegean Sea", 38.5, 25.0), ("Black Sea", 43.0, 34.0),
        ("Pacific Ocean", 30.0, -150.0), ("Pacific Ocean", 30.0, 170.0),
        ("Pacific Ocean", -30.0, -100.0), ("Atlantic Ocean", 30.0, -40.0),
        ("Atlantic Ocean", -30.0, -20.0), ("Indian Ocean", -20.0, 80.0),
        ("Bering Sea", 58.0, 179.0), ("Bering Sea", 58.0, -178.0), ("Tasman Sea", -38.0, 160.0),
        ("Caribbean Sea", 15.0, -75.0), ("Gulf of Mexico", 25.0, -90.0),
        ("South China Sea", 13.0, 114.0), ("Persian Gulf", 27.0, 51.0), ("Red Sea", 20.0, 38.5),
    ],
)  # fmt: skip
def test_waters_are_where_they_are(name: str, lat: float, lon: float) -> None:
    assert name_waters(np.array([lon]), np.array([lat])) == [name]


def test_boxes_are_boxes() -> None:
    for boxes in WATERS.values():
        for box in boxes:
            assert box.west < box.east <= box.west + 360.0
            assert -90.0 <= box.south < box.north <= 90.0


def test_no_place_has_no_name() -> None:
    assert name_waters(np.array([np.inf, np.nan]), np.array([np.nan, 0.0])) == ["", ""]
