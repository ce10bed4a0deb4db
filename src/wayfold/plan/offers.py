"""Plans to choose from, along the one price that shapes a book most: a hero off its centre.

Cheap heroes give even gatherings; dear ones give every hero its centre, with thinner and more
varied gatherings to sew. Which is better is a maker's taste, so it is shown and not decided.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from wayfold.plan.model import Gathering, Plan, PlanResult
from wayfold.plan.planner import solve
from wayfold.plan.problem import PlanProblem
from wayfold.plan.wishes import Wish, count_heroes, list_unmet

DIAL = (("even gatherings", 1, 6), ("balanced", 1, 1), ("every hero centred", 4, 1))
"""Name, and what the price of an off-centre hero is multiplied and divided by. A sixth is about a
sheet; four times is above any change of the story's shape."""


@dataclass(frozen=True, slots=True)
class PlanOffer:
    """One plan to choose: how it was weighed, and what can be compared at a glance."""

    name: str
    problem: PlanProblem
    result: PlanResult
    plan: Plan
    gatherings: tuple[Gathering, ...]
    sheets: int
    heroes: int
    heroes_at_centres: int
    unmet: tuple[Wish, ...]


def offer_plans(problem: PlanProblem) -> tuple[PlanOffer, ...]:
    """Give up to three plans that differ, from even gatherings to every hero at a centre.

    Empty where no plan is possible: ``solve`` says why.
    """
    offers: list[PlanOffer] = []
    for name, times, parts in DIAL:
        hero_inner = problem.prices.hero_inner * times // parts
        asked = replace(problem, prices=replace(problem.prices, hero_inner=hero_inner))
        result = solve(asked)
        if result.plan is not None and all(o.plan != result.plan for o in offers):
            offers.append(_describe(name, asked, result, result.plan))
    return tuple(offers)


def _describe(name: str, problem: PlanProblem, result: PlanResult, plan: Plan) -> PlanOffer:
    heroes, centred = count_heroes(problem.story, plan)
    sheets = sum(g.sheets for g in plan.gatherings)
    unmet = list_unmet(problem.story, plan)
    return PlanOffer(name, problem, result, plan, plan.gatherings, sheets, heroes, centred, unmet)
