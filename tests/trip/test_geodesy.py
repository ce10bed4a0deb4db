"""Geodesics against the published test set, published lines, and a second library.

- GeodTest-short.dat (C. F. F. Karney, doi 10.5281/zenodo.32156): 10,000 lines on WGS84, computed
  with high-precision arithmetic; taken from the source package of pygeoid 0.0.5 (MIT).
- Flinders Peak to Buninyong, the test line of Geoscience Australia's Geodetic Calculators
  (GDA94 technical manual): 54,972.271 m on GRS80, whose flattening differs from that of WGS84 by
  1.6e-11, which is below a micrometre here.
- John F. Kennedy to London Heathrow as (40.6 N, 73.8 W) to (51.6 N, 0.5 W), the line of
  GeographicLib's own introductory example (5,551.76 km; to the millimetre from memory).
"""

from __future__ import annotations

import gzip

import pytest

from tests.fetching import fetch_sample
from wayfold.base.world import LonLat
from wayfold.trip.geodesy import geodesic_m, way_m

ALLOWED_M = 0.001


def degrees(sign: int, degree: float, minute: float, second: float) -> float:
    return sign * (degree + minute / 60.0 + second / 3600.0)


def to_east(longitude: float) -> float:
    return longitude - 360.0 if longitude > 180.0 else longitude


def test_ten_thousand_lines_of_the_published_test_set() -> None:
    folder = fetch_sample("pygeoid", "0.0.5", "tests/coordinates/data")
    with gzip.open(folder / "GeodTest-short.dat.gz", "rt") as file:
        # latitude and longitude of both ends are columns 1, 2, 4 and 5; the length is column 7
        rows = [[float(number) for number in line.split()] for line in file]
    assert len(rows) == 10_000
    worst = 0.0
    for row in rows:
        one, other = LonLat(to_east(row[1]), row[0]), LonLat(to_east(row[4]), row[3])
        worst = max(worst, abs(geodesic_m(one, other) - row[6]))
    assert worst < ALLOWED_M


def test_published_lines() -> None:
    flinders = LonLat(degrees(1, 144, 25, 29.52440), degrees(-1, 37, 57, 3.72030))
    buninyong = LonLat(degrees(1, 143, 55, 35.38390), degrees(-1, 37, 39, 10.15610))
    assert geodesic_m(flinders, buninyong) == pytest.approx(54_972.271, abs=ALLOWED_M)
    kennedy, heathrow = LonLat(-73.8, 40.6), LonLat(-0.5, 51.6)
    assert geodesic_m(kennedy, heathrow) == pytest.approx(5_551_759.400, abs=ALLOWED_M)


def test_over_the_date_line_a_step_is_a_step() -> None:
    # One degree of the equator is a / 180 * pi = 111,319.491 m (WGS84, a = 6,378,137 m).
    assert geodesic_m(LonLat(179.5, 0), LonLat(-179.5, 0)) == pytest.approx(111_319.491, abs=0.001)


def test_a_way_is_the_sum_of_its_steps() -> None:
    a, b, c = LonLat(2.17, 41.38), LonLat(9.19, 45.46), LonLat(12.5, 41.9)
    assert way_m([a, b, c]) == pytest.approx(geodesic_m(a, b) + geodesic_m(b, c))
    assert way_m([a]) == 0.0
