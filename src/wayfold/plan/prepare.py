"""From a problem to a search that is ready to run: read, bound by pins, unrolled into leaves."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from wayfold.plan.bound import Bound
from wayfold.plan.demands import Demand, read_demands
from wayfold.plan.ends import Accounts
from wayfold.plan.gatherings import SheetRange, allow_sheets
from wayfold.plan.leaves import NEVER, Kept, unroll_story
from wayfold.plan.pins import bind_demands, last_pinned_leaf
from wayfold.plan.places import Places
from wayfold.plan.printed import list_kept
from wayfold.plan.problem import PlanProblem
from wayfold.plan.search import Search


@dataclass(frozen=True, slots=True)
class Ready:
    """A search, and what its costs leave out: keeping what is kept counts as saving there."""

    search: Search
    offset: int


def prepare_searches(problem: PlanProblem, strict: bool) -> Iterator[Ready]:
    """Give the searches whose best answer is the problem's.

    One is for a book; where the story is so short, others are for a booklet of one thin gathering.
    ``strict`` demands that all that is printed stays. Gives none where a pin cannot be met.
    """
    allowed, _ = allow_sheets(problem.paper, problem.binding)
    demands, clashing = bind_demands(read_demands(problem.story)[0], problem.pins, problem.last)
    if allowed is None or clashing or not all(demand.ways for demand in demands):
        return
    kept = list_kept(problem)
    yield _prepare(problem, demands, allowed, kept, strict, None)
    if allowed.thinner_alone:
        for sheets in range(1, allowed.least):
            if count_least_pages(demands) <= 4 * sheets:
                yield _prepare(problem, demands, allowed, kept, strict, sheets)


def is_possible(problem: PlanProblem, strict: bool = False) -> bool:
    """Whether any plan keeps the rules. Interleaves do not matter: each could be tipped in."""
    return any(ready.search.bound.least < NEVER for ready in prepare_searches(problem, strict))


def count_least_pages(demands: Sequence[Demand]) -> int:
    """Give the pages the story fills at the least."""
    return sum(min((way.pages for way in d.ways), default=0) for d in demands)


def _prepare(
    problem: PlanProblem,
    demands: Sequence[Demand],
    allowed: SheetRange,
    kept: Sequence[Kept],
    strict: bool,
    only: int | None,
) -> Ready:
    most = max((allowed.most, *(k.sheets for k in kept)))
    nodes = unroll_story(demands, problem.prices, kept, whites_max=4 * most)
    pinned = last_pinned_leaf(demands)
    places = Places(allowed, problem.prices, kept, pinned, only, strict)
    accounts = Accounts(problem.prices)
    search = Search(Bound(nodes, places, accounts), accounts, problem.states_max)
    return Ready(search, sum(k.saves for k in kept))
