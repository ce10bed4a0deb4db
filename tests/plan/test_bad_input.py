"""Stories and wishes that no book can hold, or hardly: answered in words, and never by a hang.

That nothing hangs is said in states looked at, which are the same on every machine.
"""

import random
from dataclasses import replace

import pytest

from benchmarks.stories import Kind, make_problem
from tests.plan.making import ask, hero, plan_of, single, tell, text
from wayfold.base.findings import Finding, Severity, blocks
from wayfold.plan.flatplan import draw_flatplan
from wayfold.plan.model import PlanResult, Status
from wayfold.plan.planner import solve
from wayfold.plan.problem import PinCentre, PinPage, PinPlace, PinWay, PlanProblem
from wayfold.plan.verify import recompute_cost, verify_answer
from wayfold.story.model import Alternative, BlockKind

LONG = Kind(600, 40, 60, 16, dense=True)


def refusal(result: PlanResult) -> Finding:
    """The one thing that stands in the way, which must say what to do."""
    assert (result.status, result.plan) == (Status.IMPOSSIBLE, None)
    (finding,) = [f for f in result.findings if f.severity is Severity.BLOCK]
    assert finding.message
    assert finding.remedy
    return finding


def test_a_story_of_one_page_is_one_sheet() -> None:
    plan = plan_of(ask(single("a")))
    assert [g.sheets for g in plan.gatherings] == [1]
    assert plan_of(ask(hero("h"))).first_page_of("h") == 2


def test_a_story_of_one_page_that_asks_for_a_leaf() -> None:
    problem = ask(single("a", Alternative(1, interleaves=(0,))))
    (interleaf,) = plan_of(problem).interleaves
    assert interleaf.ends[0].over == 1


def test_one_block_of_six_hundred_pages() -> None:
    plan = plan_of(ask(text("t", 600), sheets=(2, 5)))
    assert len(plan.pages) == 600
    assert sum(1 for _ in draw_flatplan(plan)) > 600 // 2


def test_no_blocks_and_no_chapters() -> None:
    assert "nothing to put on pages" in refusal(solve(PlanProblem(tell()))).message
    plan_of(ask(single("a"), single("b")))  # blocks without any chapter are a book


def test_a_long_crowded_story_gives_the_best_plan_found_at_its_limit() -> None:
    problem = replace(make_problem(LONG, 1), states_max=20_000)
    result = solve(problem)
    assert result.status is Status.FEASIBLE
    assert result.plan is not None
    assert len(result.plan.pages) > 560
    assert not blocks(verify_answer(problem, result.plan))
    assert recompute_cost(problem, result.plan) == result.cost > result.bound
    (finding,) = [f for f in result.findings if f.rule == "plan-unproven"]
    assert f"at most {result.cost - result.bound} points" in finding.message
    assert "states_max = 40000" in finding.remedy
    assert solve(problem) == result


@pytest.mark.parametrize("limit", [1, 500])
def test_any_limit_gives_some_plan_where_there_is_one(limit: int) -> None:
    for kind in (Kind(40, 6, 8, 3, dense=True), Kind(96, 7, 6, 4)):
        problem = replace(make_problem(kind, 3), states_max=limit)
        result = solve(problem)
        assert result.plan is not None
        assert not blocks(verify_answer(problem, result.plan))
        assert result.bound <= solve(replace(problem, states_max=10**7)).cost <= result.cost


def test_more_leaves_asked_for_than_there_are_leaves_of_paper() -> None:
    veiled = (single(f"s{i}", Alternative(1, interleaves=(0,))) for i in range(32))
    problem = ask(*veiled, sheets=(2, 4))
    result = solve(problem)
    plan = plan_of(problem, result)
    gaps = [end.after_page for i in plan.interleaves for end in i.ends]
    # 32 pages face each other in 15 gaps, and two lie alone. One leaf serves both pages of a gap,
    # and it is said; only at a centre has each its own, of one sheet.
    assert set(gaps) == set(range(0, 33, 2))
    assert len(gaps) > len(plan.pages) // 2
    rules = [f.rule for f in result.findings]
    assert rules.count("interleaf-crowd") == 1
    assert rules.count("interleaf-shared") == 15 - (len(gaps) - 17)


def test_a_hero_pinned_to_an_odd_page() -> None:
    blocks_ = [single(f"s{i}") for i in range(6)]
    finding = refusal(solve(ask(*blocks_, hero("h"), sheets=2, pins=(PinPage("h", 7),))))
    assert finding.where == "block h"
    assert "must begin on a left" in finding.message
    assert "page 6 or 8" in finding.remedy
    assert plan_of(ask(*blocks_, hero("h"), sheets=2, pins=(PinPage("h", 8),)))


@pytest.mark.parametrize(
    ("pins", "named"),
    [
        ((PinPage("s1", 2), PinPage("s1", 3)), {"s1"}),
        ((PinPage("s3", 6), PinPage("s4", 6)), {"s3", "s4"}),
        ((PinPage("s4", 6), PinPage("s3", 7)), {"s3", "s4"}),
        ((PinPage("s0", 3),), {"s0"}),  # one white page before a picture at the most
        ((PinPage("s5", 400),), {"s5"}),
        ((PinPage("h", 8), PinCentre("h")), {"h"}),  # two sheets: centres at 4, 12, 20 …
    ],
)
def test_pins_that_contradict_each_other_or_the_paper(
    pins: tuple[PinPage, ...], named: set[str]
) -> None:
    front = [single(f"s{i}") for i in range(6)]
    finding = refusal(solve(ask(*front, hero("h"), text("t", 8), sheets=2, pins=pins)))
    assert {w.removeprefix("block ") for w in finding.where.split(", ")} == named
    assert plan_of(ask(*front, hero("h"), text("t", 8), sheets=2))


def test_one_wrong_pin_among_many_is_found() -> None:
    problem = make_problem(Kind(120, 8, 8, 6), 0)
    plan = plan_of(problem)
    told = [b for b in problem.story.blocks if b.kind is not BlockKind.HERO]
    chosen = random.Random(5).sample(told, 30)
    ways = dict(plan.choices)
    pins = [
        pin
        for b in chosen
        for pin in (PinPage(b.id, plan.first_page_of(b.id)), PinWay(b.id, ways[b.id]))
    ]
    assert plan_of(replace(problem, pins=tuple(pins))) == plan
    last = max(chosen, key=lambda b: plan.first_page_of(b.id))
    wrong = PinPage(last.id, plan.first_page_of(last.id) - 40)
    pins = [p for p in pins if p.block != last.id]
    finding = refusal(solve(replace(problem, pins=(*pins, wrong))))
    assert f"{last.id} is pinned to page {wrong.page}" in finding.message
    assert len(finding.where.split(", ")) <= 3


def test_pins_beyond_all_reason() -> None:
    finding = refusal(solve(ask(single("a"), pins=(PinPage("a", 10**9),))))
    assert "page 1000000000" in finding.message
    assert refusal(solve(ask(single("a"), pins=(PinPlace("a"),)))).rule == "plan-pin"


def test_paper_for_single_sheets_still_carries_heroes_and_leaves() -> None:
    veiled = single("v", Alternative(1, interleaves=(0,)))
    problem = ask(*(single(f"s{i}") for i in range(5)), hero("h"), veiled)
    heavy = replace(problem, paper=replace(problem.paper, caliper_um=900))
    result = solve(heavy)
    plan = plan_of(heavy, result)
    assert {g.sheets for g in plan.gatherings} == {1}
    assert plan.first_page_of("h") % 4 == 2  # the centre of a single sheet
    assert [f.rule for f in result.findings if f.severity is Severity.WARN] == [
        "gathering-thickness"
    ]
