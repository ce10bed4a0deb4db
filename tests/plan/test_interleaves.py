"""Where interleaves lie and what their other ends do."""

from dataclasses import replace

import pytest

from tests.plan.making import ask, hero, plan_of, single, text
from wayfold.plan.model import EndRole, Interleaf, InterleafEnd
from wayfold.plan.planner import solve
from wayfold.plan.prices import PRICES
from wayfold.story.model import Alternative

WANTED, ECHO, PLAIN, STUB = EndRole.WANTED, EndRole.ECHO, EndRole.PLAIN, EndRole.STUB

# An interleaf wrapped round the inner m of n sheets falls after pages 2(n-m) and 2n+2m. Source:
# geometry of folding (any dummy shows it); the same count underlies bibliographers' collation by
# conjugate leaves (Gaskell, A New Introduction to Bibliography, from memory).
WRAPS = [(4, 2, 4, 12), (4, 4, 0, 16), (3, 1, 4, 8), (5, 3, 4, 16)]


@pytest.mark.parametrize(("sheets", "wrapped", "first", "second"), WRAPS)
def test_a_pair_lies_where_folded_paper_puts_it(
    sheets: int, wrapped: int, first: int, second: int
) -> None:
    # Asked for over the page after the first gap and the page before the second.
    wanted = (first, second - 1)
    plan = plan_of(ask(text("a", 4 * sheets, interleaves=wanted), sheets=sheets))
    ends = (
        InterleafEnd(first, WANTED, first + 1),
        InterleafEnd(second, WANTED, second),
    )
    assert plan.interleaves == (Interleaf(1, sheets - wrapped, ends),)


def test_a_pair_costs_nothing() -> None:
    bare = solve(ask(text("a", 16), sheets=4))
    pair = solve(ask(text("a", 16, interleaves=(4, 12)), sheets=4))
    assert pair.cost == bare.cost


def ends_of(*, bears: tuple[int, ...] = (), spreads: tuple[int, ...] = ()) -> list[EndRole]:
    """Roles of the interleaf over page 5 of sixteen; its other end lies after page 12."""
    block = text("a", 16, interleaves=(4,), bears=bears, spreads=spreads)
    (interleaf,) = plan_of(ask(block, sheets=4)).interleaves
    return [end.role for end in interleaf.ends]


def test_the_other_end_is_an_echo_where_a_page_bears_a_caption() -> None:
    assert ends_of(bears=(11,)) == [WANTED, ECHO]
    assert ends_of(bears=(12,)) == [WANTED, ECHO]


def test_the_other_end_is_plain_where_none_does() -> None:
    assert ends_of(bears=(0, 5)) == [WANTED, PLAIN]


def test_a_leaf_is_tipped_in_rather_than_cut_back_in_a_picture() -> None:
    assert ends_of(spreads=(11,)) == [WANTED]


def test_a_leaf_is_cut_back_where_pasting_is_dearer() -> None:
    block = text("a", 16, interleaves=(4,), spreads=(11,))
    dear = replace(PRICES, tip_in=90)
    (interleaf,) = plan_of(ask(block, sheets=4, prices=dear)).interleaves
    assert [end.role for end in interleaf.ends] == [WANTED, STUB]


def test_a_stub_where_plain_leaves_are_dearer() -> None:
    block = text("a", 16, interleaves=(4,))
    dear = replace(PRICES, interleaf_plain=30)
    (interleaf,) = plan_of(ask(block, sheets=4, prices=dear)).interleaves
    assert [end.role for end in interleaf.ends] == [WANTED, STUB]


def test_the_wanted_end_may_lie_in_the_back() -> None:
    block = text("a", 16, interleaves=(12,), bears=(3,))
    (interleaf,) = plan_of(ask(block, sheets=4)).interleaves
    assert interleaf.ends == (InterleafEnd(4, ECHO), InterleafEnd(12, WANTED, 13))


def test_both_leaves_lie_in_the_centre() -> None:
    (interleaf,) = plan_of(ask(text("a", 16, interleaves=(8,)), sheets=4)).interleaves
    assert interleaf.depth == 4
    assert interleaf.ends == (InterleafEnd(8, PLAIN), InterleafEnd(8, WANTED, 9))


def test_both_leaves_in_the_centre_may_be_wanted() -> None:
    (interleaf,) = plan_of(ask(text("a", 16, interleaves=(7, 8)), sheets=4)).interleaves
    assert interleaf.ends == (InterleafEnd(8, WANTED, 8), InterleafEnd(8, WANTED, 9))


def test_a_leaf_in_a_seam_belongs_to_one_gathering() -> None:
    # Over page 9, between two gatherings; the second one's end lies after page 16, beside the
    # page that bears a caption, the first one's would lie before page 1.
    block = text("a", 16, interleaves=(8,), bears=(15,))
    (interleaf,) = plan_of(ask(block, sheets=2)).interleaves
    assert (interleaf.gathering, interleaf.depth) == (2, 0)
    block = text("a", 16, interleaves=(8,), bears=(0,))
    (interleaf,) = plan_of(ask(block, sheets=2)).interleaves
    assert interleaf.gathering == 1
    assert interleaf.ends == (InterleafEnd(0, ECHO), InterleafEnd(8, WANTED, 9))


def test_no_gap_holds_two_leaves() -> None:
    # Pages 1, 9 and 16 ask: the wraps of both gatherings would meet in the seam after page 8.
    block = text("a", 16, interleaves=(0, 8, 15))
    plan = plan_of(ask(block, sheets=2))
    assert sorted(e.after_page for i in plan.interleaves for e in i.ends) == [0, 8, 16]
    assert any(i.depth is None for i in plan.interleaves)


def test_facing_pages_share_a_leaf_and_it_is_said() -> None:
    problem = ask(text("a", 16, interleaves=(3, 4, 12)), sheets=4)
    result = solve(problem)
    (interleaf,) = plan_of(problem, result).interleaves
    assert interleaf.ends[0].over == 5
    assert [f.rule for f in result.findings] == ["interleaf-shared"]


def test_a_story_moves_to_bring_its_interleaves_together() -> None:
    # Page 5 asks; the single that also asks can follow on page 12 or 13.
    fill = single("fill", Alternative(6), Alternative(7, 1))
    problem = ask(
        text("a", 5, interleaves=(4,)),
        fill,
        single("b", Alternative(1, interleaves=(0,))),
        text("c", 3),
        sheets=4,
    )
    plan = plan_of(problem)
    assert plan.interleaves[0].depth == 2
    assert all(end.role is WANTED for end in plan.interleaves[0].ends)


def test_every_page_may_ask() -> None:
    problem = ask(text("a", 32, interleaves=tuple(range(32))), sheets=4)
    result = solve(problem)
    plan = plan_of(problem, result)
    assert {e.after_page for i in plan.interleaves for e in i.ends} == set(range(0, 33, 2))
    assert "interleaf-crowd" in {f.rule for f in result.findings}


@pytest.mark.parametrize(
    "flawed",
    [
        Alternative(1, interleaves=(1,)),
        Alternative(1, bears=(-1,)),
        Alternative(2, spreads=(0,), interleaves=(0,)),
        Alternative(2, spreads=(0,), interleaves=(1,)),
    ],
)
def test_what_no_leaf_can_do_is_said(flawed: Alternative) -> None:
    result = solve(ask(hero("h", flawed)))
    assert result.plan is None
    assert any("translucent" in f.message for f in result.findings)
    beside = ask(hero("h", flawed, Alternative(2, 3)))
    assert plan_of(beside).choices == (("h", 1),)
