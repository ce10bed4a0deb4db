"""Outlines made plain, in page millimetres. House rules unless a source is named."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterable

import numpy as np
import pytest
import shapely
from shapely import MultiPolygon, Polygon

from wayfold.base.geometry import Point
from wayfold.maps.simplify import (
    CLOSEST_MM,
    NAMED_MM2,
    TINTS,
    find_borders,
    simplify_lands,
)


def wander(start: tuple[float, float], end: tuple[float, float], seed: int) -> list[list[float]]:
    """Give a rough line by moving midpoints aside, eight times over."""
    chance = random.Random(seed)
    line = [np.array(start), np.array(end)]
    for _ in range(8):
        rougher = [line[0]]
        for a, b in itertools.pairwise(line):
            along = b - a
            aside = np.array([-along[1], along[0]]) * chance.uniform(-0.15, 0.15)
            rougher += [(a + b) / 2 + aside, b]
        line = rougher
    return [list(p) for p in line]


@pytest.fixture(scope="module")
def neighbours() -> dict[str, MultiPolygon]:
    border = wander((50, 10), (50, 90), 1)
    west = Polygon(
        [*border, *wander((50, 90), (10, 50), 2)[1:], *wander((10, 50), (50, 10), 3)[1:]]
    )
    east = Polygon(
        [*border, *wander((50, 90), (90, 50), 4)[1:], *wander((90, 50), (50, 10), 5)[1:]]
    )
    assert west.is_valid and east.is_valid
    return {"W": MultiPolygon([west]), "E": MultiPolygon([east])}


def count_corners(lands: Iterable[MultiPolygon]) -> int:
    return sum(shapely.get_num_coordinates(land) for land in lands)


def test_neighbours_keep_one_border(neighbours: dict[str, MultiPolygon]) -> None:
    plain = simplify_lands(neighbours)
    west, east = plain["W"], plain["E"]
    assert count_corners(plain.values()) < count_corners(neighbours.values()) / 3
    assert west.is_valid and east.is_valid
    assert west.intersection(east).area == pytest.approx(0.0, abs=1e-9)
    together = shapely.union_all([west, east])
    assert not [h for p in shapely.get_parts(together) for h in p.interiors]  # no sliver between
    borders, coasts = find_borders(plain)
    assert len(borders) == 1
    assert borders[0].length == pytest.approx(
        west.boundary.intersection(east.boundary).length, rel=1e-4
    )
    assert sum(c.length for c in coasts) == pytest.approx(together.boundary.length, rel=1e-3)


def test_what_goes_is_smaller_than_a_line_is_wide(neighbours: dict[str, MultiPolygon]) -> None:
    """Half a line of 0.45 mm is the most a coast moves; Visvalingam & Whyatt bound areas only."""
    plain = simplify_lands(neighbours)
    for code, land in plain.items():
        assert land.boundary.hausdorff_distance(neighbours[code].boundary) < 0.8
        moved = land.symmetric_difference(neighbours[code]).area
        assert moved / land.boundary.length < 0.1


def island(x: float, y: float, area: float) -> Polygon:
    return shapely.Point(x, y).buffer(float(np.sqrt(area / np.pi)), quad_segs=8)


def test_small_islands_go_unless_they_were_visited() -> None:
    big, speck, visited = island(20, 20, 60), island(40, 20, 0.05), island(60, 20, 0.05)
    plain = simplify_lands({"A": MultiPolygon([big, speck, visited])}, [Point(60.0, 20.1)])["A"]
    assert len(plain.geoms) == 2
    grown = min(plain.geoms, key=lambda p: p.area)
    assert grown.centroid.distance(shapely.Point(60, 20)) < 0.05
    assert grown.area == pytest.approx(NAMED_MM2, rel=0.15)


def test_no_two_islands_stand_closer_than_ink_can_part() -> None:
    """Lexikon der Geoinformatik, Universität Rostock: gaps 0.15-0.25 mm at the least."""
    chance = random.Random(7)
    islands = [island(chance.uniform(0, 30), chance.uniform(0, 30), 0.4) for _ in range(200)]
    apart = [islands[0]]
    for one in islands[1:]:
        if all(one.distance(other) > 0 for other in apart):
            apart.append(one)
    plain = list(simplify_lands({"A": MultiPolygon(apart)})["A"].geoms)
    assert len(plain) < len(apart)
    assert all(p.area >= TINTS.island * 0.9 for p in plain)
    for n, one in enumerate(plain):
        assert all(one.distance(other) >= CLOSEST_MM - 1e-9 for other in plain[:n])
