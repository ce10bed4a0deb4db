"""A way out, held by pins: planning as usual then meets the wish."""

from dataclasses import replace

import pytest

from tests.plan.making import plan_of, tell
from tests.plan.test_explain import make_problem
from wayfold.book.planning import PinChoice, Planning
from wayfold.book.state import Book
from wayfold.plan.explain import find_ways
from wayfold.plan.hold import choose_pins, pin_way_out
from wayfold.plan.planner import solve
from wayfold.plan.pose import pose_problem
from wayfold.plan.problem import PinCentre, PinPage, PinPlace, PinWay
from wayfold.plan.wishes import list_unmet


@pytest.mark.parametrize("seed", range(4))
def test_the_pins_of_a_way_out_meet_its_wish(seed: int) -> None:
    problem = make_problem(seed)
    result = solve(problem)
    assert result.plan is not None
    held = 0
    for wish in list_unmet(problem.story, result.plan):
        for way in find_ways(problem, result, wish):
            pins = pin_way_out(problem, way, wish)
            if pins is None:
                continue
            held += 1
            pinned = replace(problem, pins=(*problem.pins, *pins))
            plan = plan_of(pinned)
            left = {(w.kind, w.block) for w in list_unmet(problem.story, plan)}
            assert (wish.kind, wish.block) not in left
    assert held


def test_pins_become_decisions_and_pins_again() -> None:
    pins = (PinPage("a", 5), PinWay("a", 1), PinCentre("b"), PinPlace("c"))
    choices = choose_pins(pins)
    assert choices == (
        PinChoice("a", page=5, way=2),
        PinChoice("b", centre=True),
        PinChoice("c", stays=True),
    )
    book = Book("A Book", planning=Planning(pins=choices))
    assert set(pose_problem(tell(), book).pins) == set(pins)
