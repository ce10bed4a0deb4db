"""The planner's optimum is that of all plans there are.

Source: none needed; each plan of a tiny story is built leaf by leaf and priced (``evaluate``).
A longer run: ``WAYFOLD_PLAN_CASES=20 python -m pytest tests/plan/oracle/test_brute_force.py``.
"""

from functools import partial

import pytest

from tests.plan.oracle.binding_cases import bind, find_kept, keeps_pins, price_changes
from tests.plan.oracle.brute_force import find_cheapest
from tests.plan.oracle.evaluate import Draft, evaluate, number_sheets, read_plan
from tests.plan.oracle.how_many import choose_seeds
from tests.plan.oracle.small_stories import make_case
from wayfold.plan.model import Status
from wayfold.plan.planner import solve
from wayfold.plan.verify import recompute_cost
from wayfold.plan.weigh import weigh_spots


@pytest.mark.parametrize("seeds", choose_seeds(500, 25), ids=lambda seeds: f"{seeds[0]}+")
def test_no_plan_is_cheaper(seeds: range) -> None:
    for seed in seeds:
        case = make_case(seed)
        best = find_cheapest(case.story, case.sheets, case.prices)
        result = solve(case.ask())
        assert best is not None, f"seed {seed}"
        assert result.plan is not None, f"seed {seed}"
        assert (result.status, result.cost) == (Status.OPTIMAL, best[0]), f"seed {seed}"
        draft = read_plan(case.story, result.plan, case.prices)
        built = evaluate(case.story, draft, case.sheets, case.prices)
        assert built == recompute_cost(case.ask(), result.plan) == best[0], f"seed {seed}"


@pytest.mark.parametrize("seeds", choose_seeds(300, 50), ids=lambda seeds: f"{seeds[0]}+")
def test_no_plan_that_keeps_pins_and_printed_gatherings_is_cheaper(seeds: range) -> None:
    for seed in seeds:
        case, problem = bind(seed)
        best = find_cheapest(
            case.story,
            case.sheets,
            case.prices,
            accept=partial(keeps_pins, problem),
            extra=partial(price_changes, problem),
            keep=partial(find_kept, problem),
        )
        result = solve(problem)
        if best is None:
            assert result.status is Status.IMPOSSIBLE, f"seed {seed}"
            assert result.findings, f"seed {seed}"
        else:
            assert (result.status, result.cost) == (Status.OPTIMAL, best[0]), f"seed {seed}"


def test_cases_hold_what_they_are_meant_to_try() -> None:
    cases = [make_case(seed) for seed in range(100)]
    drafts = [find_cheapest(c.story, c.sheets, c.prices) for c in cases]
    best = [draft for found in drafts if found is not None for draft in found[1:]]
    assert sum(bool(d.folds) for d in best) > 25
    assert sum(bool(d.tips) for d in best) > 10
    assert sum(len(d.sizes) > 1 for d in best) > 25
    assert sum([i for i, _, _ in d.told] != sorted(i for i, _, _ in d.told) for d in best) > 5
    assert sum(any(whites for _, _, whites in d.told) for d in best) > 15
    assert sum(any(way for _, way, _ in d.told) for d in best) > 15


@pytest.mark.parametrize("seeds", choose_seeds(60, 20), ids=lambda seeds: f"{seeds[0]}+")
def test_no_way_is_priced_below_what_it_costs(seeds: range) -> None:
    for seed in seeds:
        case = make_case(seed, 9)
        result = solve(case.ask())
        weights = {s: w for s, w in weigh_spots(case.ask(), result).items() if s.position is None}
        assert 0 in weights.values(), f"seed {seed}"
        for spot, extra in weights.items():
            at = [b.id for b in case.story.blocks].index(spot.block)

            def takes(draft: Draft, _: object, at: int = at, way: int = spot.way) -> bool:
                return any((i, w) == (at, way) for i, w, _ in draft.told)

            best = find_cheapest(case.story, case.sheets, case.prices, takes)
            assert best is not None, f"seed {seed}, {spot}"
            assert extra >= best[0] - result.cost, f"seed {seed}, {spot}"


def test_sheets_are_numbered_from_the_outside() -> None:
    assert number_sheets((2,)) == [(0, 0)] * 2 + [(0, 1)] * 4 + [(0, 0)] * 2
