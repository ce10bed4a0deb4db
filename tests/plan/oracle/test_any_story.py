"""Any story Hypothesis can think of gets a proven plan that keeps every rule.

Source: none needed; judged by the project's own ``verify`` and, apart from it, by building the
book leaf by leaf (``evaluate``). 1,000 stories; a longer run:
``WAYFOLD_PLAN_CASES=10 python -m pytest tests/plan/oracle/test_any_story.py -n 2``.
"""

from collections.abc import Iterable

import pytest
from hypothesis import HealthCheck, given, seed, settings
from hypothesis import strategies as st

from tests.plan.oracle.evaluate import Sheets, evaluate, read_plan
from tests.plan.oracle.how_many import choose_seeds
from tests.plan.oracle.small_stories import Case
from wayfold.base.findings import blocks
from wayfold.plan.model import Status
from wayfold.plan.planner import solve
from wayfold.plan.verify import recompute_cost, verify_answer
from wayfold.story.model import Alternative, Block, BlockKind, Start, Story

# Drawing takes longer than planning, so each strategy is made once, and sets are drawn as bits.
PAGES = st.integers(1, 6)
BITS = st.integers(0, 63)
COSTS = st.integers(0, 30)
STARTS = st.sampled_from(list(Start))
KINDS = st.sampled_from(list(BlockKind))
SWAPS = st.sampled_from([None, "one day", "another"])
FEW = st.integers(1, 3)
CHAPTERS = st.integers(0, 1)
IMPORTANCES = st.integers(0, 5)


@st.composite
def ways(draw: st.DrawFn) -> Alternative:
    pages, bits = draw(PAGES), draw(BITS)
    # Pictures across two pages begin all on even pages of the block, or all on odd ones.
    first = bits & 1
    spreads = choose(bits >> 1, range(first, pages - 1, 2))
    start = draw(STARTS)
    if spreads and start is not Start.ANY:
        start = Start.RECTO if first else Start.VERSO
    crossed = {page for at in spreads for page in (at, at + 1)}
    free = [page for page in range(pages) if page not in crossed]
    wanted, bears = choose(draw(BITS), free)[:2], choose(draw(BITS), range(pages))[:3]
    return Alternative(pages, draw(COSTS), start, spreads, wanted, bears)


def choose(bits: int, pages: Iterable[int]) -> tuple[int, ...]:
    return tuple(page for at, page in enumerate(pages) if bits >> at & 1)


WAYS = ways()


@st.composite
def cases(draw: st.DrawFn) -> Case:
    told = tuple(
        Block(
            f"b{at}",
            draw(KINDS),
            tuple(draw(WAYS) for _ in range(draw(FEW))),
            chapter=draw(CHAPTERS),
            importance=draw(IMPORTANCES),
            swap=draw(SWAPS),
        )
        for at in range(draw(st.integers(1, 16)))
    )
    most = draw(st.integers(1, 6))
    least = draw(st.integers(1, most))
    return Case(Story((), told), Sheets(least, most, draw(st.integers(least, most))))


@pytest.mark.parametrize("seeds", choose_seeds(1000, 250), ids=lambda seeds: f"{seeds[0]}+")
def test_its_plan_is_proven_and_keeps_every_rule(seeds: range) -> None:
    @seed(seeds[0])
    @settings(
        max_examples=len(seeds),
        deadline=None,
        derandomize=False,
        database=None,
        suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
    )
    @given(cases())
    def check(case: Case) -> None:
        judge(case)

    check()


def judge(case: Case) -> None:
    problem = case.ask()
    result = solve(problem)
    assert result.plan is not None
    assert result.status is Status.OPTIMAL
    assert result.bound == result.cost
    assert not blocks(verify_answer(problem, result.plan))
    assert recompute_cost(problem, result.plan) == result.cost
    draft = read_plan(case.story, result.plan, case.prices)
    assert evaluate(case.story, draft, case.sheets, case.prices) == result.cost
