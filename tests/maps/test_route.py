"""Arcs and ways: geodesics against GeographicLib, the joint choice against brute force, crossings
against shapely."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString

from tests.maps.read_map import place
from wayfold.base.geometry import Rect
from wayfold.base.world import LonLat
from wayfold.maps.arcs import BULGES, ArcLeg, bend_line, choose_arcs, choose_jointly
from wayfold.maps.model import MapLeg
from wayfold.maps.projection import Extent, Floats, choose_projection
from wayfold.maps.route import draw_legs, trace_geodesic
from wayfold.maps.sheet import fit_sheet


def test_ways_follow_the_geodesic() -> None:
    lon, lat = trace_geodesic(LonLat(-9.1393, 38.7223), LonLat(28.9784, 41.0082))
    line = Geodesic.WGS84.InverseLine(38.7223, -9.1393, 41.0082, 28.9784)
    # Lisbon to Istanbul, 3245.359 km on WGS84 (C. F. F. Karney's GeographicLib).
    assert line.s13 / 1000 == pytest.approx(3245.359, abs=0.001)
    for k in (0, 12, 24, 48):
        point = line.Position(line.s13 * k / 48)
        assert (lon[k], lat[k]) == pytest.approx((point["lon2"], point["lat2"]), abs=1e-7)


def straight(x0: float, y0: float, x1: float, y1: float, points: int = 25) -> Floats:
    return np.column_stack([np.linspace(x0, x1, points), np.linspace(y0, y1, points)])


def test_a_bulge_is_a_share_of_the_way() -> None:
    bent = bend_line(straight(0, 0, 100, 0), 0.13)
    assert np.abs(bent[:, 1]).max() == pytest.approx(13.0)
    assert (bent[0] == (0, 0)).all() and (bent[-1] == (100, 0)).all()


tables = st.integers(2, 5).flatmap(
    lambda n: st.tuples(
        st.just(n),
        st.lists(st.integers(0, 9), min_size=3 * n, max_size=3 * n),
        st.lists(
            st.lists(st.integers(0, 20), min_size=9, max_size=9),
            min_size=n * (n - 1) // 2,
            max_size=n * (n - 1) // 2,
        ),
    )
)


@given(tables)
def test_the_joint_choice_is_the_best_there_is(
    drawn: tuple[int, list[int], list[list[int]]],
) -> None:
    n, single, pair = drawn
    singles = [np.array(single[3 * i : 3 * i + 3], dtype=float) for i in range(n)]
    numbered = zip(itertools.combinations(range(n), 2), pair, strict=True)
    pairs = {key: np.array(costs, dtype=float).reshape(3, 3) for key, costs in numbered}

    def cost(choice: tuple[int, ...]) -> float:
        own = sum(float(singles[i][k]) for i, k in enumerate(choice))
        return own + sum(float(t[choice[a], choice[b]]) for (a, b), t in pairs.items())

    best = min(cost(c) for c in itertools.product(range(3), repeat=n))
    assert cost(choose_jointly(singles, pairs)) == pytest.approx(best)


def test_there_and_back_are_two_lines() -> None:
    places = np.array([(0.0, 0.0), (80.0, 0.0)])
    out, back = choose_arcs(
        [ArcLeg(straight(0, 0, 80, 0), 0, 1), ArcLeg(straight(80, 0, 0, 0), 1, 0)], places
    )
    assert abs(out[12, 1] - back[12, 1]) > 3.0


def test_a_line_goes_round_a_place_it_does_not_serve() -> None:
    places = np.array([(0.0, 0.0), (80.0, 0.0), (40.0, 5.6)])
    (line,) = choose_arcs([ArcLeg(straight(0, 0, 80, 0), 0, 1)], places)
    assert np.hypot(*(line - places[2]).T).min() >= 2.0


def test_a_tour_does_not_tangle() -> None:
    """Legs of a tour cross only where their straight lines must (here nowhere)."""
    angles = np.linspace(0, 2 * np.pi, 9)[:-1]
    places = np.column_stack([60 * np.cos(angles), 60 * np.sin(angles)])
    legs = [
        ArcLeg(straight(*places[i], *places[(i + 1) % 8]), i, (i + 1) % 8) for i in range(8)
    ] + [ArcLeg(straight(*places[0], *places[4]), 0, 4)]
    lines = [LineString(line) for line in choose_arcs(legs, places)]
    for one, other in itertools.combinations(lines, 2):
        crossing = one.intersection(other)
        ends = [one.boundary, other.boundary]
        assert crossing.is_empty or all(end.distance(crossing) < 1e-6 for end in ends)


def test_bulges_offer_both_sides_alike() -> None:
    assert sorted(BULGES) == sorted(-b for b in BULGES)


def test_a_way_over_the_edge_of_the_world_is_drawn_in_two() -> None:
    everywhere = Extent(-180, -60, 180, 70)
    lon, lat = everywhere.sample()
    sheet = fit_sheet(choose_projection(everywhere), lon, lat, Rect(0, 0, 300, 200))
    places = [place("Tokyo", 35.68, 139.76), place("Honolulu", 21.3, -157.85)]
    spots = [p.place for p in places]
    at = sheet.place(spots)
    ((one, other),) = draw_legs([MapLeg(0, 1)], spots, at, sheet).lines
    assert one[0] == pytest.approx((at[0].x, at[0].y), abs=1e-6)
    assert other[-1] == pytest.approx((at[1].x, at[1].y), abs=1e-6)
    # It leaves and enters at one latitude, on the two sides of the map.
    assert one[-1][1] == pytest.approx(other[0][1], abs=1e-3)
    assert one[-1][0] - other[0][0] > 200
