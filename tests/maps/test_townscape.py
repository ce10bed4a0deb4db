"""Towns made plain: what print can hold (Lexikon der Geoinformatik, Universität Rostock: gaps
between lines and areas 0.15-0.25 mm, lines 0.08-0.10 mm), and where things lie on the page."""

from __future__ import annotations

import numpy as np
import pyproj
import pytest
import shapely
from shapely import LineString, Point

from tests.maps.osm_files import fetch_monaco
from wayfold.base.geometry import Point as PagePoint
from wayfold.base.geometry import Rect
from wayfold.base.world import LonLat
from wayfold.maps.deadends import drop_dead_ends
from wayfold.maps.extract import read_extract
from wayfold.maps.inklines import APART, join_parallels
from wayfold.maps.projection import Extent, Floats, choose_projection
from wayfold.maps.sheet import Sheet
from wayfold.maps.streets import Street, StreetPlan
from wayfold.maps.townscape import SMALLEST_BLOCK, WIDTHS, Townscape, plain_town

SEEN = Rect(0.0, 0.0, 180.0, 220.0)
FRAME = shapely.box(0.0, 0.0, 100.0, 100.0)


def lay_sheet(metres: float) -> Sheet:
    projection = choose_projection(Extent(7.40, 43.72, 7.44, 43.75))
    x, y = projection._proj(7.4236, 43.7368)
    return Sheet(projection, metres, float(x), float(y), PagePoint(90.0, 110.0))


@pytest.fixture(scope="module")
def plan() -> StreetPlan:
    return read_extract(str(fetch_monaco()), Extent(7.38, 43.70, 7.47, 43.78))


@pytest.fixture(scope="module", params=[5.0, 10.0, 25.0, 50.0])
def town(request: pytest.FixtureRequest, plan: StreetPlan) -> Townscape:
    return plain_town(plan, lay_sheet(request.param), SEEN)


def test_no_tint_is_too_small_or_too_thin_to_print(town: Townscape) -> None:
    for shape in (town.blocks, town.parks):
        for block in shape.geoms:
            assert block.area > 0.9 * SMALLEST_BLOCK
            # What is everywhere thinner than 0.15 mm has nothing left when its rim is taken off.
            assert not block.buffer(-0.07).is_empty


def test_tints_lie_beside_one_another_and_never_over(town: Townscape) -> None:
    for one, other in (
        (town.blocks, town.parks),
        (town.blocks, town.water),
        (town.parks, town.water),
    ):
        # Corners are rounded by less than a tenth of a millimetre after the cut.
        assert one.buffer(-0.1).intersection(other.buffer(-0.1)).is_empty


def test_land_and_sea_are_where_they_are(plan: StreetPlan) -> None:
    """The harbour is water, the rock is land: positions are public geography."""
    sheet = lay_sheet(10.0)
    town = plain_town(plan, sheet, SEEN)
    harbour, open_sea, rock = sheet.place(
        [LonLat(7.4255, 43.7345), LonLat(7.4330, 43.7345), LonLat(7.4225, 43.7312)]
    )
    assert town.water.covers(Point(harbour.x, harbour.y))
    assert town.water.covers(Point(open_sea.x, open_sea.y))
    assert not town.water.covers(Point(rock.x, rock.y))


def test_streets_keep_their_length_to_scale(plan: StreetPlan) -> None:
    """Against geodesics on WGS84 (GeographicLib, through pyproj)."""
    sheet = lay_sheet(10.0)
    geod = pyproj.Geod(ellps="WGS84")
    long = [s for s in plan.streets if geod.geometry_length(s.line) > 300.0][:40]
    assert len(long) > 10
    for street in long:
        x, y = sheet.to_page(*(shapely.get_coordinates(street.line).T))
        on_paper = LineString(list(zip(x, y, strict=True))).length
        assert on_paper * 10.0 == pytest.approx(geod.geometry_length(street.line), rel=1e-4)


def test_a_main_road_is_never_drawn_narrower_than_a_side_street() -> None:
    for metres in (1.0, 2.5, 5.0, 10.0, 20.0, 50.0, 100.0):
        widths = [WIDTHS[rank].on_paper(metres) for rank in sorted(WIDTHS)]
        assert widths == sorted(widths, reverse=True)
        assert all(width == 0.0 or width >= 0.15 for width in widths)


def test_two_carriageways_close_together_become_one_street() -> None:
    sheet = lay_sheet(10.0)
    # 6 m apart at 1 : 10 000 is 0.6 mm; drawn 1.6 mm wide they are one.
    lon, lat = sheet.to_ground(*map_points([(-10, 100), (190, 100), (-10, 100.6), (190, 100.6)]))
    lines = [
        LineString([(lon[0], lat[0]), (lon[1], lat[1])]),
        LineString([(lon[2], lat[2]), (lon[3], lat[3])]),
    ]
    town = plain_town(StreetPlan(tuple(Street(line, 1) for line in lines)), sheet, SEEN)
    assert len(town.blocks.geoms) == 2


def map_points(points: list[tuple[float, float]]) -> tuple[Floats, Floats]:
    rows = np.array(points)
    return rows[:, 0], rows[:, 1]


def test_short_dead_ends_go_and_long_ones_stay() -> None:
    street = LineString([(0, 50), (50, 50), (100, 50)])
    stub = LineString([(50, 50), (50, 52)])
    lane = LineString([(50, 50), (50, 40)])
    left = drop_dead_ends({1: [street], 4: [stub, lane]}, 3.0, FRAME)
    assert shapely.union_all(left[4]).equals(lane)
    assert shapely.union_all(left[1]).equals(street)


def test_a_street_that_ends_at_the_frame_or_a_place_stays() -> None:
    street = LineString([(0, 50), (50, 50), (98, 50)])
    rim = LineString([(98, 50), (100, 50)])
    stub = LineString([(50, 50), (50, 52)])
    left = drop_dead_ends({1: [street], 4: [stub, rim]}, 3.0, FRAME, [Point(50, 52.5)])
    assert len(left[4]) == 2


def test_what_hangs_on_a_dropped_stub_goes_too() -> None:
    street = LineString([(0, 50), (50, 50), (100, 50)])
    stem, left_arm, right_arm = (
        LineString([(50, 50), (50, 51)]),
        LineString([(50, 51), (49, 52)]),
        LineString([(50, 51), (51, 52)]),
    )
    left = drop_dead_ends({1: [street], 4: [stem, left_arm, right_arm]}, 3.0, FRAME)
    assert left[4] == ()


def test_parallel_lines_become_one_and_crossings_stay() -> None:
    long = LineString([(0, 0), (40, 0)])
    beside = LineString([(5, 0.4), (35, 0.4)])
    across = LineString([(20, -10), (20, 10)])
    left = join_parallels([long, beside, across], [])
    assert long in left and across in left and len(left) == 2


def test_a_line_that_leaves_its_neighbour_is_led_on_to_it() -> None:
    long = LineString([(0, 0), (40, 0)])
    leaving = LineString([(0, 0.4), (20, 0.4), (30, 12)])
    left = [line for line in join_parallels([long, leaving], []) if line != long]
    assert len(left) == 1
    assert left[0].distance(long) < 1e-6
    assert left[0].length < leaving.length - 10


def test_no_two_ink_lines_run_side_by_side(plan: StreetPlan) -> None:
    town = plain_town(plan, lay_sheet(10.0), SEEN)
    kept: list[LineString] = []
    for rank in (1, 2, 3, 4):
        kept += join_parallels(town.lines[rank], kept)
    tree = shapely.STRtree(kept)
    for n, line in enumerate(kept):
        near = [kept[int(k)] for k in tree.query(line, "dwithin", 0.5 * APART) if int(k) != n]
        strip = shapely.union_all([other.buffer(0.5 * APART) for other in near])
        for run in shapely.get_parts(line.intersection(strip)):
            assert run.length < 6 * APART
