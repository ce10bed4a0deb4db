"""Offers, prices, explanations, ways to meet wishes, and the flatplan as text."""

import random
from dataclasses import replace

import pytest

from tests.plan.making import ACROSS, PAGE, ask, hero, plan_of, single, text
from wayfold.plan.changes import describe_changes
from wayfold.plan.explain import explain_block, find_ways
from wayfold.plan.flatplan import draw_flatplan
from wayfold.plan.offers import offer_plans
from wayfold.plan.planner import solve
from wayfold.plan.problem import PinCentre, PinWay, PlanProblem
from wayfold.plan.verify import recompute_cost, verify_answer
from wayfold.plan.weigh import Position, Spot, weigh_spots
from wayfold.plan.wishes import Wish, WishKind, list_unasked_whites, list_unmet
from wayfold.story.model import Alternative, Block, BlockKind, Start


def make_problem(seed: int, count: int = 26) -> PlanProblem:
    chance = random.Random(seed)
    blocks: list[Block] = []
    for i in range(count):
        swap = f"day{i // 5}" if chance.random() < 0.5 else None
        kind = chance.choice(["hero", "over", "single", "single", "group"])
        if kind == "hero":
            blocks.append(hero(f"h{i}", ACROSS, Alternative(1, 25), swap=swap))
        elif kind == "over":
            blocks.append(single(f"o{i}", Alternative(1, interleaves=(0,)), swap=swap))
        elif kind == "single":
            ways = (Alternative(1, bears=(0,)), Alternative(2, 7))
            blocks.append(single(f"s{i}", *ways, swap=swap))
        else:
            three = (Alternative(2, bears=(1,)), Alternative(1, 9), Alternative(2, 3, spreads=(0,)))
            blocks.append(Block(f"g{i}", BlockKind.GROUP, three, swap=swap))
    return ask(*blocks, sheets=(2, 5))


@pytest.mark.parametrize("seed", range(4))
def test_weights_are_what_forcing_costs(seed: int) -> None:
    """Each price of the backward pass against a search of its own with that spot forced."""
    problem = make_problem(seed)
    result = solve(problem)
    weights = weigh_spots(problem, result)
    assert weights == weigh_spots(problem)
    for spot, extra in weights.items():
        if spot.position in (None, Position.CENTRE):
            pins = (PinWay(spot.block, spot.way),)
            centred = (PinCentre(spot.block),) if spot.position else ()
            forced = solve(replace(problem, pins=(*pins, *centred)))
            assert forced.cost - result.cost == extra, spot
    plan = plan_of(problem, result)
    for block, way in plan.choices:
        assert weights[Spot(block, way)] == 0


def test_an_explanation_says_where_and_what_else_would_cost() -> None:
    problem = ask(text("a", 3), hero("h", ACROSS, Alternative(1, 4)), text("b", 3), sheets=2)
    result = solve(problem)
    told = explain_block(problem, result, "h")
    assert told.page == 4
    assert any("centre of gathering 1" in reason for reason in told.reasons)
    one_page = next(e for e in told.elsewhere if e.spot == Spot("h", 1))
    forced = solve(replace(problem, pins=(PinWay("h", 1),)))
    assert one_page.extra == forced.cost - result.cost
    between = next(e for e in told.elsewhere if e.spot.position is Position.BETWEEN)
    assert between.extra is None
    with pytest.raises(KeyError):
        explain_block(problem, result, "nobody")


def test_ways_to_a_centre() -> None:
    # The hero follows on page 6; if the group gives up a page or two it can lie on 4 | 5.
    problem = ask(
        text("a", 2),
        Block("market", BlockKind.TEXT, (Alternative(3), Alternative(1, 150))),
        hero("lake"),
        Block("walk", BlockKind.TEXT, (Alternative(1), Alternative(3, 2))),
        sheets=2,
    )
    result = solve(problem)
    (wish,) = list_unmet(problem.story, plan_of(problem, result))[:1]
    assert (wish.kind, wish.block) == (WishKind.CENTRE, "lake")
    ways = find_ways(problem, result, wish)
    assert "market gives up two pages" in ways[0].describe(wish)
    for way in ways:
        plan = plan_of(way.problem, way.result)
        assert plan.gatherings[0].centre[0] == plan.first_page_of("lake")
        assert way.extra == recompute_cost(problem, plan) - result.cost
        assert way.extra >= 0


@pytest.mark.parametrize("seed", range(4))
def test_every_way_out_meets_its_wish(seed: int) -> None:
    problem = make_problem(seed)
    result = solve(problem)
    plan = plan_of(problem, result)
    for wish in list_unmet(problem.story, plan)[:5]:
        for way in find_ways(problem, result, wish):
            assert way.result.plan is not None
            assert verify_answer(problem, way.result.plan) == ()
            unmet = {(w.kind, w.block) for w in list_unmet(problem.story, way.result.plan)}
            assert (wish.kind, wish.block) not in unmet


def test_a_pasted_leaf_is_a_wish_unmet() -> None:
    block = text("a", 16, interleaves=(4,), spreads=(11,))
    problem = ask(block, single("b", PAGE), sheets=(4, 5))
    plan = plan_of(problem)
    unmet = [w.kind for w in list_unmet(problem.story, plan)]
    pasted = any(i.depth is None for i in plan.interleaves)
    assert (WishKind.FOLDED in unmet) == pasted
    forced = replace(problem, binding=replace(problem.binding, sheets_min=4, sheets_max=4))
    plan = plan_of(forced)
    assert Wish(WishKind.FOLDED, "a", 5) in list_unmet(forced.story, plan)


def test_offers_run_from_even_gatherings_to_centred_heroes() -> None:
    blocks = [
        hero(f"h{i}") if i % 7 == 5 else single(f"s{i}", PAGE, Alternative(2, 12))
        for i in range(70)
    ]
    offers = offer_plans(ask(*blocks, sheets=(2, 5)))
    assert 2 <= len(offers) <= 3
    centred = [o.heroes_at_centres for o in offers]
    assert centred == sorted(centred)
    assert centred[0] < centred[-1]
    for offer in offers:
        assert offer.heroes == 10
        assert offer.sheets == sum(g.sheets for g in offer.plan.gatherings)
        off = sum(w.kind is WishKind.CENTRE for w in offer.unmet)
        assert off == offer.heroes - offer.heroes_at_centres
        plan_of(offer.problem, offer.result)


def test_the_flatplan_as_text() -> None:
    block = text("walk", 12, interleaves=(4,), bears=(8,))
    plan = plan_of(ask(block, sheets=3))
    assert draw_flatplan(plan) == (
        "Gathering 1: 3 sheets, pages 1-12, centre 6 | 7",
        "  ┌────   1 walk                    │   2 walk (2)",
        "  │┌───   3 walk (3)                │   4 walk (4)",
        "  ││╭╌╌     interleaf, over 5",
        "  ││╎┌─   5 walk (5)                │   6 walk (6)",
        "  ││╎│      centre",
        "  ││╎└─   7 walk (7)                │   8 walk (8)",
        "  ││╰╌╌     interleaf, its other leaf: a caption",
        "  │└───   9 walk (9)                │  10 walk (10)",
        "  └────  11 walk (11)               │  12 walk (12)",
        "",
    )


def test_the_flatplan_shows_tips_and_centres() -> None:
    block = text("walk", 8, interleaves=(2, 4), spreads=(5,))
    lines = draw_flatplan(plan_of(ask(block, sheets=2)))
    assert any("tipped in, over 3" in line for line in lines)
    assert not any(line.endswith("centre") for line in lines)


def test_what_a_way_out_does_to_leaves_is_told() -> None:
    """Two plans that differ in nothing else: a leaf pasted in, or folded with a plain other end."""
    problem = ask(text("a", 8, interleaves=(1,)), sheets=2)
    folded = plan_of(problem)
    cheap = replace(problem, prices=replace(problem.prices, tip_in=0))
    pasted = plan_of(cheap)
    told = describe_changes(problem.story, pasted, folded)
    assert told == ("one plain translucent leaf more", "one pasted-in leaf fewer")


def test_white_pages_are_expected_before_a_recto_and_at_the_end() -> None:
    opener = Block("o", BlockKind.OPENER, (Alternative(1, start=Start.RECTO),))
    problem = ask(text("a", 1), opener, hero("h"), sheets=2)
    plan = plan_of(problem)
    assert [page.number for page in plan.pages if page.block is None] == [2, 6, 7, 8]
    assert list_unasked_whites(problem.story, plan) == ()


def test_a_white_page_for_the_sake_of_a_picture_is_not() -> None:
    problem = ask(text("a", 2), hero("h"), sheets=2)
    plan = plan_of(problem)
    assert plan.first_page_of("h") == 4
    assert list_unasked_whites(problem.story, plan) == (3,)


def test_changes_between_two_stories_name_who_goes_and_who_comes() -> None:
    before = ask(text("a", 3), single("s"), hero("k"), text("b", 4), sheets=(1, 3))
    after = ask(text("a", 3), hero("h"), hero("k"), text("b", 5), sheets=(1, 3))
    old, new = plan_of(before), plan_of(after)
    told = describe_changes(after.story, old, new, told=before.story)
    assert {"s goes", "h comes in", "b gains one page"} <= set(told)
    assert not any(words.startswith("h leaves") for words in told)
    back = describe_changes(before.story, new, old, told=after.story)
    assert {"h goes", "s comes in", "b gives up one page"} <= set(back)
