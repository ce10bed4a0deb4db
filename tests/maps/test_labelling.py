"""Label placement against brute force and against a second exact solver (OR-tools CP-SAT)."""

from __future__ import annotations

import itertools
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from wayfold.base.geometry import Rect
from wayfold.maps.labelling import (
    CLEARANCE,
    Candidate,
    Label,
    keep_clear,
    offer_places,
    place_labels,
    rate,
)
from wayfold.maps.shapes import box_of


def random_labels(count: int, width: float, height: float, seed: int) -> list[Label]:
    chance = random.Random(seed)
    labels = []
    for _ in range(count):
        x, y = chance.uniform(0, width), chance.uniform(0, height)
        places = offer_places(x, y, chance.uniform(6, 22), 3.4, 1.7)
        labels.append(Label(places, chance.choice([1.0, 1.5, 2.0])))
    return labels


def clash(one: Candidate, other: Candidate) -> bool:
    half = CLEARANCE / 2
    a, b = one.box.grown(half), other.box.grown(half)
    if one.turn_deg or other.turn_deg:
        return bool(one.shape.distance(other.shape) <= CLEARANCE)
    return a.overlap(b) is not None


def assert_apart(labels: list[Label], chosen: tuple[int | None, ...]) -> None:
    taken = [label.candidates[k] for label, k in zip(labels, chosen, strict=True) if k is not None]
    for one, other in itertools.combinations(taken, 2):
        assert box_of(one.box).distance(box_of(other.box)) > CLEARANCE - 1e-6


def try_all(labels: list[Label]) -> float:
    best = 0.0
    options = [[None, *range(len(label.candidates))] for label in labels]
    for choice in itertools.product(*options):
        taken = [labels[i].candidates[k] for i, k in enumerate(choice) if k is not None]
        if not any(clash(a, b) for a, b in itertools.combinations(taken, 2)):
            best = max(best, rate(labels, choice))
    return best


@given(
    st.lists(
        st.tuples(st.floats(0, 22), st.floats(0, 9), st.floats(4, 14), st.sampled_from([1.0, 2.0])),
        min_size=1,
        max_size=4,
    )
)
def test_no_choice_is_better_than_the_one_found(
    spots: list[tuple[float, float, float, float]],
) -> None:
    labels = [Label(offer_places(x, y, w, 3.4, 1.7)[:4], worth) for x, y, w, worth in spots]
    chosen = place_labels(labels)
    assert_apart(labels, chosen)
    assert rate(labels, chosen) == pytest.approx(try_all(labels), abs=0.01)


@pytest.mark.parametrize("seed", range(3))
def test_sixty_labels_are_placed_as_well_as_a_second_solver_proves_possible(seed: int) -> None:
    labels = random_labels(60, 120, 170, seed)
    chosen = place_labels(labels)
    assert_apart(labels, chosen)
    assert rate(labels, chosen) == pytest.approx(solve_with_ortools(labels), abs=1.0)


def solve_with_ortools(labels: list[Label]) -> float:
    model = cp_model.CpModel()
    names = [(i, k) for i, label in enumerate(labels) for k in range(len(label.candidates))]
    taken = {name: model.new_bool_var(str(name)) for name in names}
    for i, label in enumerate(labels):
        model.add_at_most_one(taken[i, k] for k in range(len(label.candidates)))
    for a, b in itertools.combinations(names, 2):
        if a[0] != b[0] and clash(labels[a[0]].candidates[a[1]], labels[b[0]].candidates[b[1]]):
            model.add_bool_or(~taken[a], ~taken[b])
    gains = {
        (i, k): round(1000 * labels[i].importance - 400 * labels[i].candidates[k].cost)
        for i, k in names
    }
    model.maximize(sum(gains[name] * taken[name] for name in names))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return float(solver.objective_value)


def test_turned_labels_keep_apart_too() -> None:
    turned = Candidate(Rect(0, 0, 20, 4), 0.0, turn_deg=45.0)
    upright = Candidate(Rect(5, 6, 20, 4), 0.0)
    free = Candidate(Rect(40, 0, 20, 4), 0.5)
    assert place_labels([Label((turned,)), Label((upright, free))]) == (0, 1)


def test_the_more_important_of_two_names_is_shown() -> None:
    box = Candidate(Rect(0, 0, 10, 4), 0.0)
    assert place_labels([Label((box,), 1.0), Label((box,), 2.0)]) == (None, 0)


def test_places_outside_the_room_or_over_what_is_blocked_are_not_offered() -> None:
    offered = offer_places(20.0, 10.0, 12.0, 3.0, 1.5)
    inside = keep_clear(offered, Rect(0, 0, 40, 30), [box_of(Rect(20.5, 0, 20, 30))])
    assert inside
    assert all(c.box.right <= 20.5 for c in inside)
    assert keep_clear(offered, Rect(9, 9, 2, 2), []) == ()


def test_the_first_place_is_right_and_above() -> None:
    """E. Imhof, The American Cartographer 2(2), 1975."""
    best = min(offer_places(50.0, 50.0, 12.0, 3.0, 1.5), key=lambda c: c.cost)
    assert best.box.x > 50.0
    assert best.box.bottom < 50.0


def test_places_that_are_worth_nothing_are_never_taken() -> None:
    assert place_labels([Label((Candidate(Rect(0, 0, 5, 2), 9.0),)), Label(())]) == (None, None)
