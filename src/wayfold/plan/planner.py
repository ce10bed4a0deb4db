"""The planner: a story and its paper become pages on leaves on sheets in gatherings.

Exact: of all plans that keep the rules (blocks whole and in order, spreads from versos, openers
on rectos, blank pages only where a reader expects them, allowed sheets in each gathering) it gives
one with the lowest sum of ``prices``. The same input always gives the same plan.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wayfold.base.findings import Finding, Severity, blocks
from wayfold.book.materials import Binding, Paper
from wayfold.plan.demands import Demand, read_demands
from wayfold.plan.gatherings import SheetRange, allow_sheets, find_thick_gatherings
from wayfold.plan.model import Gathering, Plan, PlannedPage, PlanResult, Status
from wayfold.plan.prices import PRICES, Prices
from wayfold.plan.problem import PlanProblem
from wayfold.plan.search import Route, Search
from wayfold.story.model import Story


def plan_book(story: Story, paper: Paper, binding: Binding, prices: Prices = PRICES) -> PlanResult:
    """Give the cheapest plan, or the reasons why there is none."""
    return solve(PlanProblem(story, paper, binding, prices))


def solve(problem: PlanProblem) -> PlanResult:
    """Give the cheapest plan, or the reasons why there is none."""
    story, paper, prices = problem.story, problem.paper, problem.prices
    sheets, on_paper = allow_sheets(paper, problem.binding)
    demands, on_story = read_demands(story)
    findings = (*on_paper, *on_story, *(() if demands else (_EMPTY,)))
    if sheets is None or blocks(findings):
        return PlanResult(Status.IMPOSSIBLE, None, 0, 0, findings)
    route = _find_route(demands, sheets, prices)
    plan = _build_plan(demands, route)
    findings += find_thick_gatherings(plan.gatherings, paper)
    return PlanResult(Status.OPTIMAL, plan, route.cost, route.cost, findings)


def _find_route(demands: Sequence[Demand], sheets: SheetRange, prices: Prices) -> Route:
    routes = [Search(sheets, sheets.sizes, prices).find_cheapest(demands)]
    if sheets.thinner_alone:
        # A booklet of a few pages needs no more sheets than it fills.
        for size in range(1, sheets.least):
            thin = Search(sheets, (size,), prices, one_gathering=True)
            routes.append(thin.find_cheapest(demands))
    # Gatherings can always be added and a parity always be reached, so the first is never None.
    return min((r for r in routes if r is not None), key=lambda r: r.cost)


def _build_plan(demands: Sequence[Demand], route: Route) -> Plan:
    pages = tuple(
        PlannedPage(number, block, part)
        for number, (block, part) in enumerate(_list_contents(demands, route), start=1)
    )
    choices = tuple((d.block, s.way) for d, s in zip(demands, route.steps, strict=True))
    return Plan(pages, tuple(_list_gatherings(route.sizes)), choices)


def _list_contents(demands: Sequence[Demand], route: Route) -> Iterator[tuple[str | None, int]]:
    for demand, step in zip(demands, route.steps, strict=True):
        way = next(w for w in demand.ways if w.index == step.way)
        yield from [(None, 0)] * step.blanks
        yield from ((demand.block, part) for part in range(way.pages))
    yield from [(None, 0)] * route.blanks_at_end


def _list_gatherings(sizes: Sequence[int]) -> Iterator[Gathering]:
    first = 1
    for number, sheets in enumerate(sizes, start=1):
        gathering = Gathering(number, sheets, first)
        yield gathering
        first = gathering.last_page + 1


_EMPTY = Finding(
    "plan-impossible",
    Severity.BLOCK,
    "story",
    "The story has nothing to put on pages.",
    "Add photographs or a text.",
)
