"""Finer islands: the rules on small islands written here, real ones where the data is installed.

Published areas, from memory: Mallorca 3,640 km², Crete 8,261, Bornholm 588, Isle of Man 572; they
are measured on the ellipsoid by pyproj.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pyproj
import pytest
import shapely
from shapely import MultiPolygon, Polygon, box

from wayfold.maps.fine_coast import find_coast_data, read_islands, refine_islands
from wayfold.maps.model import Outline
from wayfold.maps.outlines import load_outlines


def write_coast(folder: Path, *islands: tuple[str, float, list[tuple[float, float]]]) -> Path:
    """Write coast data as the package has it: level, area in km², corners (degrees)."""
    data, rows = b"", []
    for number, (level, area, corners) in enumerate(islands):
        ring = np.array([*corners, corners[0]], dtype="<f4")
        south, north = ring[:, 1].min(), ring[:, 1].max()
        place = f"{south:9.5f} {north:9.5f} {len(data)} {ring.nbytes} {number}"
        rows.append(f"{level} {area} {len(ring)} {place}")
        data += ring.tobytes()
    (folder / "gshhsmeta_h.dat").write_text("\n".join(rows) + "\n")
    (folder / "gshhs_h.dat").write_bytes(data)
    return folder


def square(west: float, south: float, side: float) -> list[tuple[float, float]]:
    return [(west, south), (west + side, south), (west + side, south + side), (west, south + side)]


MAINLAND = Outline("AA", "Aland", MultiPolygon([box(0, 0, 5, 5)]))
NEXT = Outline("BB", "Beeland", MultiPolygon([box(8, 0, 9, 5), box(10, 0, 10.5, 0.5)]))


def refine(folder: Path, *islands: tuple[str, float, list[tuple[float, float]]]) -> list[Outline]:
    return list(refine_islands([MAINLAND, NEXT], write_coast(folder, *islands)))


def test_an_island_that_was_left_out_goes_to_the_nearest_country(tmp_path: Path) -> None:
    one, other = refine(
        tmp_path, ("1", 9.0, square(5.3, 2.0, 0.1)), ("1", 9.0, square(7.7, 2, 0.1))
    )
    assert len(one.land.geoms) == 2
    assert len(other.land.geoms) == 3


def test_an_island_that_is_there_is_drawn_finer(tmp_path: Path) -> None:
    finer = [(10, 0), (10.3, -0.02), (10.5, 0), (10.5, 0.5), (10.2, 0.52), (10, 0.5)]
    _, other = refine(tmp_path, ("1", 3000.0, finer))
    assert len(other.land.geoms) == 2
    assert other.land.geoms[1].exterior.coords[1] == pytest.approx((10.3, -0.02), abs=1e-5)


def test_coarse_land_that_stood_for_two_islands_becomes_both(tmp_path: Path) -> None:
    larger = [(10, 0), (10.5, 0), (10.5, 0.38), (10, 0.38)]
    smaller = [(10, 0.4), (10.5, 0.4), (10.5, 0.5), (10, 0.5)]
    _, other = refine(tmp_path, ("1", 2000.0, larger), ("1", 500.0, smaller))
    assert len(other.land.geoms) == 3


def test_lakes_continents_and_specks_are_passed_over(tmp_path: Path) -> None:
    coast = write_coast(
        tmp_path,
        ("2", 50.0, square(1, 1, 0.1)),
        ("1", 9e6, square(20, 20, 9)),
        ("1", 0.01, square(6, 6, 0.001)),
        ("1", 12.0, square(352.0, 40.0, 0.05)),
    )
    (island,) = read_islands(coast)
    assert island.bounds == pytest.approx((-8.0, 40.0, -7.95, 40.05), abs=1e-4)


def test_land_far_from_any_country_is_left_to_the_sea(tmp_path: Path) -> None:
    one, other = refine(tmp_path, ("1", 9.0, square(40.0, 40.0, 0.1)))
    assert (len(one.land.geoms), len(other.land.geoms)) == (1, 2)


@pytest.mark.skipif(find_coast_data() is None, reason="the extra “coasts” is not installed")
@pytest.mark.parametrize(
    ("code", "longitude", "latitude", "km2"),
    [
        ("ES", 3.0, 39.6, 3640.0),
        ("GR", 25.0, 35.2, 8261.0),
        ("DK", 14.95, 55.12, 588.0),
        ("IM", -4.5, 54.2, 572.0),
    ],
)
def test_real_islands_have_their_published_areas(
    code: str, longitude: float, latitude: float, km2: float
) -> None:
    island = find_island(code, longitude, latitude)
    area_m2, _ = pyproj.Geod(ellps="WGS84").geometry_area_perimeter(island)
    assert abs(area_m2) / 1e6 == pytest.approx(km2, rel=0.03)


@pytest.mark.skipif(find_coast_data() is None, reason="the extra “coasts” is not installed")
def test_the_outer_lofoten_are_there() -> None:
    # Røst and Værøy, which Natural Earth's 1:10m leaves out.
    assert find_island("NO", 12.10, 67.52)
    assert find_island("NO", 12.72, 67.66)


def find_island(code: str, longitude: float, latitude: float) -> Polygon:
    outline = next(o for o in load_outlines() if o.code == code)
    point = shapely.Point(longitude, latitude)
    (island,) = (part for part in outline.land.geoms if part.contains(point))
    return island
