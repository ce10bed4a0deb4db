"""The earth mover's distance against a linear programme, and on a line against its known form."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.linear_solver import pywraplp

from wayfold.layout.palette_distance import measure_distance, merge_tones
from wayfold.photos.look import Tone


def numbers(low: float, high: float):
    """Of few digits: the linear solver gives up on numbers next to nothing."""
    return st.floats(low, high).map(lambda value: round(value, 5))


tones = st.builds(Tone, numbers(0.01, 1), numbers(0, 1), numbers(-0.3, 0.3), numbers(-0.3, 0.3))
palettes = st.lists(tones, min_size=1, max_size=7)

# OKLab of white and of sRGB's red and blue, as B. Ottosson publishes the space (2020).
WHITE = Tone(1.0, 1.0, 0.0, 0.0)
RED = Tone(1.0, 0.628, 0.2249, 0.1258)
BLUE = Tone(1.0, 0.452, -0.0325, -0.3115)


def solve_distance(one, other) -> float:
    """Oracle: the transport problem as a linear programme."""
    solver = pywraplp.Solver.CreateSolver("GLOP")
    supply = [t.share / sum(t.share for t in one) for t in one]
    demand = [t.share / sum(t.share for t in other) for t in other]
    x = [[solver.NumVar(0, 1, "") for _ in other] for _ in one]
    for i, row in enumerate(x):
        solver.Add(sum(row) == supply[i])
    for j in range(len(other) - 1):  # the last follows from the others
        solver.Add(sum(row[j] for row in x) == demand[j])
    cost = sum(
        math.dist((a.lightness, a.a, a.b), (b.lightness, b.a, b.b)) * x[i][j]
        for i, a in enumerate(one)
        for j, b in enumerate(other)
    )
    solver.Minimize(cost)
    assert solver.Solve() == pywraplp.Solver.OPTIMAL
    return float(solver.Objective().Value())


@given(palettes, palettes)
@settings(max_examples=150, deadline=None)
def test_as_little_work_as_a_linear_programme_needs(one, other):
    assert measure_distance(one, other) == pytest.approx(solve_distance(one, other), abs=1e-6)


@given(palettes, palettes, palettes)
@settings(max_examples=40, deadline=None)
def test_it_is_a_metric(one, two, three):
    assert measure_distance(one, one) == pytest.approx(0.0, abs=1e-7)
    there = measure_distance(one, two)
    assert there == pytest.approx(measure_distance(two, one), abs=1e-7)
    assert there <= measure_distance(one, three) + measure_distance(three, two) + 1e-7


@given(
    st.lists(st.tuples(st.integers(1, 9), st.integers(0, 10)), min_size=1, max_size=6),
    st.lists(st.tuples(st.integers(1, 9), st.integers(0, 10)), min_size=1, max_size=6),
)
@settings(max_examples=60, deadline=None)
def test_greys_are_as_far_apart_as_their_sums_of_shares(one, other):
    """On a line the distance is the area between the two distribution functions."""
    area = 0.0
    for step in range(10):
        below = [
            sum(share for share, grey in side if grey <= step) / sum(share for share, _ in side)
            for side in (one, other)
        ]
        area += abs(below[0] - below[1]) / 10
    greys = [[Tone(share, grey / 10, 0.0, 0.0) for share, grey in side] for side in (one, other)]
    assert measure_distance(*greys) == pytest.approx(area, abs=1e-7)


def test_single_tones_are_as_far_apart_as_their_places():
    assert measure_distance([WHITE], [RED]) == pytest.approx(
        math.hypot(0.372, 0.2249, 0.1258), abs=1e-9
    )
    assert measure_distance([RED], [BLUE]) == pytest.approx(
        math.hypot(0.176, 0.2574, 0.4373), abs=1e-9
    )


def test_an_empty_palette_is_refused():
    with pytest.raises(ValueError, match="no tone"):
        measure_distance([], [RED])


@given(palettes, st.floats(0.01, 0.3))
@settings(max_examples=60, deadline=None)
def test_merged_tones_stay_within_their_cube(palette, within):
    merged = merge_tones(palette, within)
    assert len(merged) <= len(palette)
    assert sum(t.share for t in merged) == pytest.approx(sum(t.share for t in palette))
    assert measure_distance(palette, merged) <= within * math.sqrt(3) + 1e-6


def test_merging_keeps_the_mean():
    one, other = Tone(1.0, 0.51, 0.01, 0.02), Tone(3.0, 0.53, 0.03, 0.02)
    (merged,) = merge_tones([one, other], 0.1)
    assert (merged.share, merged.lightness, merged.a) == pytest.approx((4.0, 0.525, 0.025))
