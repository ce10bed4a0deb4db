"""The sea between coastlines that have land on their left (OpenStreetMap wiki, natural=coastline).

The page has y down, so a coast to the east has its sea below.
"""

from __future__ import annotations

import pytest
import shapely
from shapely import LineString, Point

from wayfold.maps.sea import build_sea

FRAME = shapely.box(0.0, 0.0, 100.0, 80.0)


def test_a_coast_across_the_frame_has_the_sea_on_its_right() -> None:
    sea, findings = build_sea([LineString([(-10, 30), (50, 40), (110, 30)])], FRAME)
    assert sea.covers(Point(50, 60)) and not sea.covers(Point(50, 20))
    # The two halves of the frame, by the shoelace rule: 100 x 80 less 100 x 30 and the wedges.
    land = shapely.Polygon([(0, 0), (100, 0), (100, 31.667), (50, 40), (0, 31.667)])
    assert sea.area == pytest.approx(FRAME.area - land.area, abs=0.1)
    assert not findings


def test_turned_round_the_other_side_is_sea() -> None:
    sea, _ = build_sea([LineString([(110, 30), (50, 40), (-10, 30)])], FRAME)
    assert sea.covers(Point(50, 20)) and not sea.covers(Point(50, 60))


def test_an_island_is_land_in_the_sea_that_its_own_coast_tells_of() -> None:
    # Counter-clockwise on the ground, which is clockwise in numbers where y grows downwards.
    island = LineString([(40, 30), (40, 50), (60, 50), (60, 30), (40, 30)])
    sea, findings = build_sea([island], FRAME)
    assert sea.area == pytest.approx(FRAME.area - 400.0)
    assert not sea.covers(Point(50, 40))
    assert not findings


def test_a_coast_in_pieces_is_joined() -> None:
    pieces = [LineString([(50, 40), (110, 30)]), LineString([(-10, 30), (50, 40)])]
    sea, findings = build_sea(pieces, FRAME)
    assert sea.covers(Point(50, 60)) and not sea.covers(Point(50, 20))
    assert not findings


def test_a_coast_that_ends_within_the_map_is_a_finding() -> None:
    _, findings = build_sea([LineString([(-10, 30), (50, 40)])], FRAME)
    assert [f.rule for f in findings] == ["map-coast"]


def test_no_coast_is_no_sea() -> None:
    sea, findings = build_sea([], FRAME)
    assert sea.is_empty and not findings
