"""The planner: a story and its paper become pages on leaves on sheets in gatherings.

Exact: of all plans that keep the rules (``problem``) it gives one with the lowest sum of
``prices``, with the proof, or the reasons why there is none. The same input always gives the same
plan. What is printed stays: the search first demands that every printed gathering is kept; only
where that cannot be does it ask which ones have to be printed again, and says so.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from wayfold.base.findings import Finding, Severity, blocks
from wayfold.base.mends import Mend
from wayfold.base.progress import NoProgress, Progress, Task
from wayfold.book.materials import Binding, Paper
from wayfold.plan.build import build_plan
from wayfold.plan.conflicts import describe_conflict, find_conflict
from wayfold.plan.demands import Demand, read_demands
from wayfold.plan.gatherings import allow_sheets, find_thick_gatherings
from wayfold.plan.judge import judge_interleaves
from wayfold.plan.model import Plan, PlanResult, Status
from wayfold.plan.pins import judge_pins
from wayfold.plan.prepare import Ready, count_least_pages, prepare_searches
from wayfold.plan.prices import PRICES, Prices
from wayfold.plan.printed import explain_reprints, judge_printed
from wayfold.plan.problem import PAGES_MAX, PlanProblem
from wayfold.plan.search import Found
from wayfold.story.model import Story

STEPS = 100
"""A search tells how far it is so often at the most, of the states allowed."""


def plan_book(story: Story, paper: Paper, binding: Binding, prices: Prices = PRICES) -> PlanResult:
    """Give the cheapest plan of a fresh book, or the reasons why there is none."""
    return solve(PlanProblem(story, paper, binding, prices))


def solve(problem: PlanProblem, progress: Progress | None = None) -> PlanResult:
    """Give the cheapest plan, or the reasons why there is none.

    Raises CancelledError where ``progress`` is told to stop.
    """
    progress = progress or NoProgress()
    findings = judge_problem(problem)
    if blocks(findings):
        return PlanResult(Status.IMPOSSIBLE, None, 0, 0, findings)
    answer = _search(problem, True, progress)
    if answer is None and problem.printed:
        answer = _search(problem, False, progress)
    if answer is None:
        conflict = describe_conflict(find_conflict(problem, solve_plainly))
        return PlanResult(Status.IMPOSSIBLE, None, 0, 0, (*findings, conflict))
    return _give(problem, *answer, findings)


def judge_problem(problem: PlanProblem) -> tuple[Finding, ...]:
    """Give what can be said of a problem before any search."""
    _, on_paper = allow_sheets(problem.paper, problem.binding)
    demands, on_story = read_demands(problem.story)
    on_pins = (finding for _, finding in judge_pins(problem, demands))
    on_length = _judge_length(demands)
    return (*on_paper, *on_story, *on_length, *judge_printed(problem), *on_pins)


def judge_plan(problem: PlanProblem, plan: Plan, gap: int) -> tuple[Finding, ...]:
    """Give what its maker should know of a plan that costs at most ``gap`` above the best."""
    return (
        *find_thick_gatherings(plan.gatherings, problem.paper),
        *explain_reprints(problem, plan),
        *judge_interleaves(problem.story, plan),
        *((_unproven(gap, problem.states_max),) if gap else ()),
    )


def solve_plainly(problem: PlanProblem) -> PlanResult:
    """Solve without naming conflicts, for pricing what letting go of a pin costs."""
    nobody = NoProgress()
    answer = _search(problem, True, nobody) or _search(problem, False, nobody)
    if answer is None:
        return PlanResult(Status.IMPOSSIBLE, None, 0, 0)
    return _give(problem, *answer, ())


def _search(
    problem: PlanProblem, strict: bool, progress: Progress
) -> tuple[Ready, Found, int] | None:
    """Give the best of all searches: which, its answer, and a cost that no plan goes below."""
    best: tuple[Ready, Found] | None = None
    bound: int | None = None
    for ready in prepare_searches(problem, strict):
        with progress.task("Looking for the best plan", problem.states_max) as task:
            ready.search.watch = _count_in_hundredths(task, problem.states_max)
            found = ready.search.find_cheapest()
        if found is None:
            continue
        proven = ready.search.proven
        bound = proven if bound is None else min(bound, proven)
        if best is None or found.cost < best[1].cost:
            best = ready, found
    return None if best is None or bound is None else (*best, bound)


def _count_in_hundredths(task: Task, states_max: int) -> Callable[[int], None]:
    """Give what counts states and tells of them seldom: a search looks at thousands a second."""
    step, waiting = max(1, states_max // STEPS), 0

    def count(states: int) -> None:
        nonlocal waiting
        waiting += states
        if waiting >= step:
            task.advance(waiting)
            waiting = 0

    return count


def _give(
    problem: PlanProblem, ready: Ready, found: Found, bound: int, findings: tuple[Finding, ...]
) -> PlanResult:
    plan = build_plan(problem.story, problem.prices, ready.search.bound.places, found)
    gap = max(0, found.cost - bound)
    findings += judge_plan(problem, plan, gap)
    status = Status.FEASIBLE if gap else Status.OPTIMAL
    return PlanResult(status, plan, found.cost + ready.offset, bound + ready.offset, findings)


def _judge_length(demands: Sequence[Demand]) -> Iterator[Finding]:
    if not demands:
        yield Finding(
            "plan-impossible",
            Severity.BLOCK,
            "story",
            "The story has nothing to put on pages.",
            "Add photographs or a text.",
        )
    pages = count_least_pages(demands)
    if pages > PAGES_MAX:
        yield Finding(
            "plan-impossible",
            Severity.BLOCK,
            "story",
            f"The story fills {pages} pages at the least; one book can hold {PAGES_MAX}.",
            "Leave pictures out, or make two volumes.",
        )


def _unproven(gap: int, states_max: int) -> Finding:
    return Finding(
        "plan-unproven",
        Severity.NOTE,
        "plan",
        f"The search stopped at its limit. This is the best plan it found; at most {gap} points "
        "could still be saved.",
        f"To let it search on: states_max = {2 * states_max}, {Mend.PLAN}.",
    )
