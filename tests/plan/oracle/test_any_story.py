"""Any story Hypothesis can think of gets a proven plan that keeps every rule.

Source: none needed; judged by the project's own ``verify`` and, apart from it, by building the
book leaf by leaf (``evaluate``). The 2,000 stories of a longer run:
``WAYFOLD_PLAN_CASES=10 python -m pytest tests/plan/oracle/test_any_story.py``.
"""

import os

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.plan.oracle.evaluate import Sheets, evaluate, read_plan
from tests.plan.oracle.small_stories import Case
from wayfold.base.findings import blocks
from wayfold.plan.model import Status
from wayfold.plan.planner import solve
from wayfold.plan.verify import recompute_cost, verify_answer
from wayfold.story.model import Alternative, Block, BlockKind, Start, Story

EXAMPLES = 200 * int(os.environ.get("WAYFOLD_PLAN_CASES", "1"))


@st.composite
def ways(draw: st.DrawFn) -> Alternative:
    pages = draw(st.integers(1, 6))
    first = draw(st.integers(0, 1))
    places = list(range(first, pages - 1, 2))
    spreads = draw(st.sets(st.sampled_from(places), max_size=2)) if places else set()
    side = (Start.RECTO if first else Start.VERSO) if spreads else None
    start = draw(st.sampled_from([Start.ANY, side] if side else list(Start)))
    crossed = spreads | {at + 1 for at in spreads}
    free = sorted(set(range(pages)) - crossed)
    wanted = draw(st.sets(st.sampled_from(free), max_size=2)) if free else set()
    bears = draw(st.sets(st.integers(0, pages - 1), max_size=3))
    cost = draw(st.integers(0, 30))
    return Alternative(pages, cost, start, tuple(spreads), tuple(wanted), tuple(bears))


@st.composite
def cases(draw: st.DrawFn) -> Case:
    told = tuple(
        Block(
            f"b{at}",
            draw(st.sampled_from(list(BlockKind))),
            tuple(draw(st.lists(ways(), min_size=1, max_size=3))),
            chapter=draw(st.integers(0, 1)),
            importance=draw(st.integers(0, 5)),
            swap=draw(st.sampled_from([None, "one day", "another"])),
        )
        for at in range(draw(st.integers(1, 16)))
    )
    most = draw(st.integers(1, 6))
    least = draw(st.integers(1, most))
    return Case(Story((), told), Sheets(least, most, draw(st.integers(least, most))))


@settings(
    max_examples=EXAMPLES,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(cases())
def test_its_plan_is_proven_and_keeps_every_rule(case: Case) -> None:
    problem = case.ask()
    result = solve(problem)
    assert result.plan is not None
    assert result.status is Status.OPTIMAL
    assert result.bound == result.cost
    assert not blocks(verify_answer(problem, result.plan))
    assert recompute_cost(problem, result.plan) == result.cost
    draft = read_plan(case.story, result.plan, case.prices)
    assert evaluate(case.story, draft, case.sheets, case.prices) == result.cost
