"""Which islands go off a country's map: gaps are told by geodesics (Karney 2013, by pyproj)."""

from __future__ import annotations

import pyproj
import pytest
import shapely
from shapely import MultiPolygon, Polygon, box

from wayfold.maps.home import FAR_KM, split_home

MAINLAND = shapely.segmentize(box(10.0, 40.0, 16.0, 50.0), 0.2)  # coasts have many corners


def east_of(longitude: float, latitude: float, km: float) -> Polygon:
    """Give an islet whose western shore lies so far east of a point."""
    lon, lat, _ = pyproj.Geod(ellps="WGS84").fwd(longitude, latitude, 90.0, km * 1000.0)
    return box(lon, lat - 0.05, lon + 0.1, lat + 0.05)


def test_a_chain_of_islands_stays_with_the_mainland() -> None:
    islands = []
    shore = MAINLAND.bounds[2]
    for _ in range(12):
        islands.append(east_of(shore, 45.0, 0.7 * FAR_KM))
        shore = islands[-1].bounds[2]
    # Whatever order the islands come in.
    split = split_home(MultiPolygon([*islands[::-1], MAINLAND]), 0.7)
    assert split.far == ()
    assert len(split.home.geoms) == 13


def test_islands_beyond_a_wide_sea_go_together() -> None:
    first = east_of(MAINLAND.bounds[2], 45.0, 6 * FAR_KM)
    second = east_of(first.bounds[2], 45.0, 0.5 * FAR_KM)
    (far,) = split_home(MultiPolygon([first, MAINLAND, second]), 0.7).far
    assert {part.bounds for part in far.geoms} == {first.bounds, second.bounds}


@pytest.mark.parametrize("km", [0.5 * FAR_KM, 0.8 * FAR_KM])
def test_the_date_line_parts_nothing(km: float) -> None:
    islet = east_of(-180.0, 45.0, km)
    land = MultiPolygon([shapely.segmentize(box(174.0, 40.0, 180.0, 50.0), 0.2), islet])
    assert split_home(land, 0.7).far == ()


def test_thousands_of_islets_are_all_kept() -> None:
    islets = [box(x, y, x + 0.01, y + 0.01) for x in range(20, 70) for y in range(40, 80)]
    # 111 km from one to the next along the meridian: one chain.
    assert len(split_home(MultiPolygon(islets), 1.0).home.geoms) == len(islets)
