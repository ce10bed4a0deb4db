"""A way to meet a wish as pins: what the person would hold fast to have it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from wayfold.book.planning import PinChoice
from wayfold.plan.explain import WayOut
from wayfold.plan.planner import solve
from wayfold.plan.problem import Pin, PinCentre, PinPage, PinPlace, PinWay, PlanProblem
from wayfold.plan.wishes import Wish, list_unmet


def pin_way_out(problem: PlanProblem, way: WayOut, wish: Wish) -> tuple[Pin, ...] | None:
    """Give the pins, besides those there are, with which planning as usual meets the wish.

    Those of the way itself, or the page too on which the block lies then. None where no pin can
    hold it: then only prices can.
    """
    if way.result.plan is None:
        return None
    asked = tuple(pin for pin in way.problem.pins if pin not in problem.pins)
    there = PinPage(wish.block, way.result.plan.first_page_of(wish.block))
    for pins in (asked, (*asked, there)):
        if pins and _meets(replace(problem, pins=(*problem.pins, *pins)), wish):
            return pins
    return None


def choose_pins(pins: Sequence[Pin]) -> tuple[PinChoice, ...]:
    """Give pins as the person's decisions, one a block."""
    held: dict[str, PinChoice] = {}
    for pin in pins:
        choice = held.get(pin.block, PinChoice(pin.block))
        match pin:
            case PinPage(_, page):
                held[pin.block] = replace(choice, page=page)
            case PinCentre():
                held[pin.block] = replace(choice, centre=True)
            case PinWay(_, way):
                held[pin.block] = replace(choice, way=way + 1)
            case PinPlace():
                held[pin.block] = replace(choice, stays=True)
    return tuple(held.values())


def _meets(problem: PlanProblem, wish: Wish) -> bool:
    plan = solve(problem).plan
    if plan is None:
        return False
    left = list_unmet(problem.story, plan)
    return all((w.kind, w.block) != (wish.kind, wish.block) for w in left)
