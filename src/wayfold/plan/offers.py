"""Plans to choose from, along the one price that shapes a book most: a hero off its centre.

Cheap heroes give even gatherings; dear ones give every hero its centre, with thinner and more
varied gatherings to sew. Which is better is a maker's taste, so it is shown and not decided.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from wayfold.book.planning import PlanChoice
from wayfold.plan.model import Gathering, Plan, PlanResult
from wayfold.plan.planner import solve
from wayfold.plan.prices import Prices
from wayfold.plan.problem import PlanProblem
from wayfold.plan.wishes import Wish, count_heroes, list_unasked_whites, list_unmet

DIAL = {PlanChoice.EVEN: (1, 20), PlanChoice.BALANCED: (1, 1), PlanChoice.CENTRED: (10, 1)}
"""What the price of an off-centre hero is multiplied and divided by. A twentieth is one sheet's
difference in size; ten times is above a white page that nobody expects, for every hero."""


@dataclass(frozen=True, slots=True)
class PlanOffer:
    """One plan to choose, and what can be compared at a glance.

    ``choices`` all come to this plan; ``problem`` and ``result`` are those of the first.
    """

    choices: tuple[PlanChoice, ...]
    problem: PlanProblem
    result: PlanResult
    plan: Plan
    gatherings: tuple[Gathering, ...]
    sheets: int
    heroes: int
    heroes_at_centres: int
    unmet: tuple[Wish, ...]
    unasked_whites: tuple[int, ...]
    """White pages that a reader takes for an omission: what dear centres may cost."""


def turn_dial(prices: Prices, choice: PlanChoice) -> Prices:
    """Give the prices by which the plan of that choice is the cheapest."""
    times, parts = DIAL[choice]
    return replace(prices, hero_inner=prices.hero_inner * times // parts)


def offer_plans(problem: PlanProblem) -> tuple[PlanOffer, ...]:
    """Give up to three plans that differ, from even gatherings to every hero at a centre.

    Empty where no plan is possible: ``solve`` says why.
    """
    offers: list[PlanOffer] = []
    for choice in PlanChoice:
        asked = replace(problem, prices=turn_dial(problem.prices, choice))
        result = solve(asked)
        if result.plan is None:
            continue
        same = next((i for i, o in enumerate(offers) if o.plan == result.plan), None)
        if same is None:
            offers.append(_describe(choice, asked, result, result.plan))
        else:
            offers[same] = replace(offers[same], choices=(*offers[same].choices, choice))
    return tuple(offers)


def _describe(
    choice: PlanChoice, problem: PlanProblem, result: PlanResult, plan: Plan
) -> PlanOffer:
    heroes, centred = count_heroes(problem.story, plan)
    sheets = sum(g.sheets for g in plan.gatherings)
    unmet = list_unmet(problem.story, plan)
    whites = list_unasked_whites(problem.story, plan)
    return PlanOffer(
        (choice,), problem, result, plan, plan.gatherings, sheets, heroes, centred, unmet, whites
    )
