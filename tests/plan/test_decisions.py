"""Swaps, pins, printed gatherings, the last plan, limits: one tiny case for each."""

from dataclasses import replace

import pytest

from tests.plan.making import ACROSS, PAGE, RECTO, ask, hero, order_of, plan_of, single, text
from wayfold.base.findings import Severity
from wayfold.plan.model import Status
from wayfold.plan.planner import solve
from wayfold.plan.problem import (
    PinCentre,
    PinPage,
    PinPlace,
    PinWay,
    mark_printed,
)
from wayfold.plan.verify import verify_answer
from wayfold.story.model import Alternative, Block, BlockKind, Start


def test_neighbours_of_a_day_change_places_for_a_centre() -> None:
    blocks = (text("a", 3), single("b", swap="day"), hero("h", swap="day"), text("c", 3))
    assert order_of(plan_of(ask(*blocks, sheets=2))) == ["a", "h", "b", "c"]
    fixed = (blocks[0], replace(blocks[1], swap=None), *blocks[2:])
    assert order_of(plan_of(ask(*fixed, sheets=2))) == ["a", "b", "h", "c"]


def test_chapters_stay_in_order() -> None:
    blocks = (
        text("a", 3),
        single("b", swap="day", chapter=0),
        hero("h", swap="day", chapter=1),
        text("c", 3),
    )
    assert order_of(plan_of(ask(*blocks, sheets=2))) == ["a", "b", "h", "c"]


def test_a_block_changes_places_once_at_most() -> None:
    # The hero would have to overtake both singles to reach the centre after page 3.
    blocks = (
        text("a", 3),
        single("b", swap="day"),
        single("c", swap="day"),
        hero("h", swap="day"),
        text("d", 2),
    )
    problem = ask(*blocks, sheets=2)
    assert order_of(plan_of(problem)) == ["a", "b", "c", "h", "d"]


def test_pinned_to_a_page() -> None:
    blocks = (single("a"), single("b"), single("c"))
    plan = plan_of(ask(*blocks, sheets=2, pins=(PinPage("b", 3),)))
    assert plan.first_page_of("b") == 3


def test_pinned_to_a_page_deep_in_the_book() -> None:
    blocks = [single(f"s{i}", PAGE, Alternative(2, 3)) for i in range(30)]
    free = plan_of(ask(*blocks, sheets=(2, 4)))
    page = free.first_page_of("s25") + 5
    pinned = plan_of(ask(*blocks, sheets=(2, 4), pins=(PinPage("s25", page),)))
    assert pinned.first_page_of("s25") == page


def test_pinned_to_a_centre() -> None:
    blocks = (text("a", 1), hero("h"), text("b", 4))
    assert plan_of(ask(*blocks, sheets=2)).first_page_of("h") == 2
    minor = Block("h", BlockKind.GROUP, (ACROSS, Alternative(2, 90, spreads=(0,))))
    plan = plan_of(ask(text("a", 2), minor, text("b", 3), sheets=2, pins=(PinCentre("h"),)))
    assert plan.first_page_of("h") == 4


def test_pinned_to_a_way() -> None:
    blocks = (single("a", PAGE, Alternative(3, 50)), single("b"))
    plan = plan_of(ask(*blocks, sheets=1, pins=(PinWay("a", 1),)))
    assert dict(plan.choices)["a"] == 1


def test_pinned_to_its_place() -> None:
    blocks = (single("a", PAGE, Alternative(2, 1)), single("b"), single("c"))
    last = plan_of(ask(*blocks, sheets=2))
    page = last.first_page_of("c")
    problem = ask(blocks[0], *blocks[2:], sheets=2, last=last, pins=(PinPlace("c"),))
    assert plan_of(problem).first_page_of("c") == page


@pytest.mark.parametrize(
    ("pin", "words"),
    [
        (PinPage("h", 3), "must begin on a left"),
        (PinPage("h", 0), "begin with 1"),
        (PinPage("gone", 3), "no such block"),
        (PinCentre("a"), "no picture across"),
        (PinWay("a", 4), "no such way"),
        (PinPlace("a"), "no earlier plan"),
    ],
)
def test_a_pin_that_cannot_be(pin: PinPage, words: str) -> None:
    result = solve(ask(single("a"), hero("h"), sheets=2, pins=(pin,)))
    assert (result.status, result.plan) == (Status.IMPOSSIBLE, None)
    (finding,) = [f for f in result.findings if f.severity is Severity.BLOCK]
    assert words in finding.message
    assert finding.remedy


def test_pins_that_clash_are_named_together_and_no_others() -> None:
    blocks = [single(f"s{i}") for i in range(12)]
    pins = (
        PinPage("s1", 2),
        PinPage("s6", 9),
        PinPage("s8", 10),
        PinWay("s3", 0),
        PinPage("s11", 15),
    )
    result = solve(ask(*blocks, sheets=2, pins=pins))
    assert result.status is Status.IMPOSSIBLE
    (finding,) = [f for f in result.findings if f.severity is Severity.BLOCK]
    assert finding.where == "block s6, block s8"
    assert "the cheapest is that" in finding.remedy
    plan_of(ask(*blocks, sheets=2, pins=(*pins[:2], *pins[3:])))


def test_two_heroes_too_close_for_two_centres() -> None:
    # With gatherings of two sheets only, centres lie 8 pages apart (geometry of folding); the
    # texts between these heroes let them lie 4 apart at the least and 6 at the most.
    between = Block("b", BlockKind.TEXT, (Alternative(2), Alternative(4, 1)))
    blocks = (text("a", 3), hero("h"), between, hero("i"), text("c", 3))
    front = Block("f", BlockKind.TEXT, (Alternative(4), Alternative(2, 1)))
    pins = (PinCentre("h"), PinCentre("i"), PinWay("f", 0))
    result = solve(ask(front, *blocks, sheets=2, pins=pins))
    assert result.status is Status.IMPOSSIBLE
    assert result.findings[-1].rule == "plan-conflict"
    clashing = result.findings[-1].where
    without = [p for p in pins if f"block {p.block}" not in clashing.split(", ")]
    assert solve(ask(front, *blocks, sheets=2, pins=tuple(without))).plan is not None


def longer(count: int = 24) -> list[Block]:
    return [single(f"s{i}", PAGE, Alternative(2, 6)) for i in range(count)]


def test_a_printed_gathering_stays_when_the_story_changes_after_it() -> None:
    blocks = longer()
    last = plan_of(ask(*blocks, sheets=(2, 4)))
    printed = mark_printed(last, 1)
    problem = ask(*blocks[:-3], sheets=(2, 4), last=last, printed=(printed,))
    plan = plan_of(problem)
    assert mark_printed(plan, 1) == printed


def test_a_printed_gathering_in_the_middle_stays() -> None:
    blocks = longer()
    last = plan_of(ask(*blocks, sheets=2))
    printed = mark_printed(last, 2)
    first = last.pages[printed.first_page - 1].block
    gone = [b for b in blocks if b.id != "s2"]
    plan = plan_of(ask(*gone, sheets=2, last=last, printed=(printed,)))
    assert mark_printed(plan, 2) == printed
    assert first is not None
    assert plan.first_page_of(first) == printed.first_page


def test_what_must_be_printed_again_is_said_with_the_reason() -> None:
    blocks = longer()
    last = plan_of(ask(*blocks, sheets=2))
    printed = tuple(mark_printed(last, number) for number in (1, 2))
    gone = [b for b in blocks if b.id != "s2"]
    problem = ask(*gone, sheets=2, last=last, printed=printed)
    result = solve(problem)
    plan = plan_of(problem, result)
    (finding,) = [f for f in result.findings if f.rule == "printed-again"]
    assert finding.where == "gathering 1"
    assert "s2 is no longer in the story" in finding.message
    assert mark_printed(plan, 2) == printed[1]


def test_a_newcomer_in_a_printed_gathering_is_named() -> None:
    blocks = longer(12)
    last = plan_of(ask(*blocks, sheets=2))
    printed = (mark_printed(last, 1),)
    more = [*blocks[:3], text("new", 1), *blocks[3:]]
    result = solve(ask(*more, sheets=2, last=last, printed=printed))
    (finding,) = [f for f in result.findings if f.rule == "printed-again"]
    assert "new now comes between" in finding.message


def test_an_untrue_note_of_what_is_printed() -> None:
    last = plan_of(ask(*longer(12), sheets=2))
    printed = replace(mark_printed(last, 1), first_page=2)
    result = solve(ask(*longer(12), sheets=2, printed=(printed,)))
    assert result.status is Status.IMPOSSIBLE
    assert result.findings[0].rule == "plan-printed"


def test_the_last_plan_changes_no_more_than_it_must() -> None:
    blocks = longer(40)
    problem = ask(*blocks, sheets=(2, 4))
    last = plan_of(problem)
    again = replace(problem, last=last)
    assert plan_of(again) == last
    shorter = ask(*blocks[:36], sheets=(2, 4), last=last)
    plan = plan_of(shorter)
    kept = [
        g
        for g in plan.gatherings
        if mark_printed(plan, g.number).labels
        in {mark_printed(last, h.number).labels for h in last.gatherings}
    ]
    assert len(kept) >= len(last.gatherings) - 2


def test_a_limit_gives_the_best_plan_found_and_says_so() -> None:
    blocks = [
        single(f"s{i}", Alternative(1, interleaves=(0,)), Alternative(2, 2, bears=(0,)))
        if i % 3 == 0
        else hero(f"s{i}", ACROSS, Alternative(1, 5))
        for i in range(24)
    ]
    problem = ask(*blocks, sheets=(2, 5))
    limited = solve(replace(problem, states_max=1))
    best = solve(problem)
    assert limited.status is Status.FEASIBLE
    assert limited.plan is not None
    assert limited.bound <= best.cost < limited.cost
    assert verify_answer(problem, limited.plan) == ()
    (finding,) = [f for f in limited.findings if f.rule == "plan-unproven"]
    assert str(limited.cost - limited.bound) in finding.message
    assert limited == solve(replace(problem, states_max=1))


def test_a_story_too_long_for_any_book() -> None:
    result = solve(ask(*(text(f"t{i}", 100) for i in range(13))))
    assert result.status is Status.IMPOSSIBLE
    assert "1300 pages" in result.findings[-1].message


def test_paper_that_allows_one_sheet_only() -> None:
    problem = ask(*(single(f"s{i}") for i in range(9)), hero("h"))
    heavy = replace(problem, paper=replace(problem.paper, caliper_um=900))
    result = solve(heavy)
    assert result.plan is not None
    assert {g.sheets for g in result.plan.gatherings} == {1}


def test_openers_wait_for_a_recto_behind_a_swap() -> None:
    blocks = (single("a", swap="d"), single("b", Alternative(2), swap="d"), single("o", RECTO))
    plan = plan_of(ask(*blocks, sheets=2))
    assert plan.first_page_of("o") % 2 == 1
    verso = Alternative(1, start=Start.VERSO)
    plan = plan_of(ask(single("a"), single("v", verso), sheets=1))
    assert plan.first_page_of("v") == 2
