"""The planner agrees with a constraint solver, an exact method of another kind.

Source: OR-Tools' CP-SAT on a model of its own (``cp_sat``).
A longer run: ``WAYFOLD_PLAN_CASES=10 python -m pytest tests/plan/oracle/test_second_method.py``.
"""

import pytest

from tests.plan.oracle.brute_force import find_cheapest
from tests.plan.oracle.how_many import choose_seeds
from tests.plan.oracle.small_stories import make_case
from wayfold.plan.model import Status
from wayfold.plan.planner import solve


@pytest.mark.parametrize("seeds", choose_seeds(24, 6), ids=lambda seeds: f"{seeds[0]}+")
def test_agrees_on_books_of_some_thirty_pages(seeds: range) -> None:
    from tests.plan.oracle.cp_sat import find_optimum

    for seed in seeds:
        case = make_case(seed, pages_most=24, pages_least=16, blocks_most=20)
        result = solve(case.ask())
        optimum = find_optimum(case.story, case.sheets, case.prices)
        assert (result.status, result.cost) == (Status.OPTIMAL, optimum), f"seed {seed}"


def test_both_oracles_agree() -> None:
    from tests.plan.oracle.cp_sat import find_optimum

    for seed in range(5000, 5015):
        case = make_case(seed, 10)
        best = find_cheapest(case.story, case.sheets, case.prices)
        assert best is not None
        assert find_optimum(case.story, case.sheets, case.prices) == best[0], f"seed {seed}"
