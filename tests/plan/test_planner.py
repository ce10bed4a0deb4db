"""One tiny case for each rule of the planner."""

from typing import Any

import pytest

from wayfold.base.findings import Severity
from wayfold.book.materials import Binding, Paper
from wayfold.plan.gatherings import allow_sheets
from wayfold.plan.model import Plan, PlanResult, Status
from wayfold.plan.planner import plan_book
from wayfold.plan.verify import verify_plan
from wayfold.story.model import Alternative, Block, BlockKind, Start, Story

RECTO = Alternative(1, start=Start.RECTO)
ACROSS = Alternative(2, start=Start.VERSO, spreads=(0,))
PAGE = Alternative(1)


def make_story(*blocks: tuple[BlockKind, tuple[Alternative, ...]]) -> Story:
    named = (Block(f"b{i}", kind, ways) for i, (kind, ways) in enumerate(blocks))
    return Story((), tuple(named))


def plan(story: Story, caliper_um: float = 240, **binding: Any) -> PlanResult:
    return plan_book(story, Paper(caliper_um=caliper_um), Binding(**binding))


def sound(story: Story, result: PlanResult) -> Plan:
    assert result.plan is not None
    assert result.status is Status.OPTIMAL
    assert result.bound == result.cost
    assert [f for f in verify_plan(story, result.plan) if f.severity is Severity.BLOCK] == []
    return result.plan


def read(p: Plan) -> str:
    """Pages as "0 0 - 1": the number of the block on each, "-" for a blank."""
    return " ".join("-" if q.block is None else q.block[1:] for q in p.pages)


def singles(count: int) -> list[tuple[BlockKind, tuple[Alternative, ...]]]:
    return [(BlockKind.SINGLE, (PAGE,))] * count


def test_one_page_makes_one_sheet() -> None:
    story = make_story((BlockKind.SINGLE, (PAGE,)))
    p = sound(story, plan(story))
    assert read(p) == "0 - - -"
    assert [g.sheets for g in p.gatherings] == [1]
    sheets, _ = allow_sheets(Paper(), Binding())
    assert sheets is not None
    assert verify_plan(story, p, sheets.sizes_for(len(p.gatherings))) == ()
    assert 1 not in sheets.sizes_for(2)


def test_the_person_may_insist_on_more_sheets() -> None:
    story = make_story((BlockKind.SINGLE, (PAGE,)))
    assert [g.sheets for g in sound(story, plan(story, sheets_min=3)).gatherings] == [3]


def test_opener_waits_for_a_recto() -> None:
    story = make_story((BlockKind.SINGLE, (PAGE,)), (BlockKind.OPENER, (RECTO,)))
    assert read(sound(story, plan(story))) == "0 - 1 -"


def test_spread_starts_on_a_verso() -> None:
    story = make_story((BlockKind.HERO, (ACROSS,)), *singles(1))
    assert read(sound(story, plan(story))) == "- 0 0 1"


def test_a_cheap_alternative_is_taken_before_a_blank() -> None:
    short_or_long = (PAGE, Alternative(2, cost=4))
    story = make_story(
        (BlockKind.SINGLE, (PAGE,)),
        (BlockKind.GROUP, short_or_long),
        (BlockKind.HERO, (ACROSS,)),
    )
    assert read(sound(story, plan(story))).startswith("0 1 1 2 2")


def test_a_dear_alternative_is_not() -> None:
    short_or_long = (PAGE, Alternative(2, cost=900))
    story = make_story(
        (BlockKind.SINGLE, (PAGE,)),
        (BlockKind.GROUP, short_or_long),
        (BlockKind.HERO, (ACROSS,)),
    )
    assert read(sound(story, plan(story))).startswith("0 1 - 2 2")


def test_hero_comes_to_a_centre() -> None:
    # Three pages lie before the hero: with two sheets pages 4 | 5 are the centre.
    story = make_story(*singles(3), (BlockKind.HERO, (ACROSS,)), *singles(3))
    p = sound(story, plan(story))
    assert p.first_page_of("b3") == 4
    assert p.gatherings[0].centre == (4, 5)
    # Five pages before it: three sheets, centre 6 | 7.
    story = make_story(*singles(5), (BlockKind.HERO, (ACROSS,)), *singles(5))
    assert [g.sheets for g in sound(story, plan(story)).gatherings] == [3]


def test_a_spread_is_not_split_between_gatherings() -> None:
    # Seven pages before the hero: two gatherings of two sheets would part it after page 8.
    story = make_story(*singles(7), (BlockKind.GROUP, (ACROSS,)), *singles(7))
    p = sound(story, plan(story))
    assert p.first_page_of("b7") == 8
    assert all(g.last_page != 8 for g in p.gatherings)


def test_an_unavoidable_split_is_planned_and_named() -> None:
    # A text of three pages may have no white page before it, so the hero follows on page 4.
    texts = (BlockKind.TEXT, (Alternative(3),))
    story = make_story(texts, (BlockKind.HERO, (ACROSS,)), texts)
    result = plan(story, sheets_min=1, sheets_max=1)
    assert result.plan is not None
    (finding,) = verify_plan(story, result.plan)
    assert finding.rule == "spread-between-gatherings"
    assert finding.severity is Severity.WARN


def test_a_quiet_page_saves_a_hero() -> None:
    story = make_story(*singles(3), (BlockKind.HERO, (ACROSS,)), *singles(3))
    p = sound(story, plan(story, sheets_min=1, sheets_max=1))
    assert read(p) == "0 1 - 2 - 3 3 4 5 6 - -"


def test_long_text_runs_over_gatherings() -> None:
    story = make_story((BlockKind.TEXT, (Alternative(23),)))
    p = sound(story, plan(story))
    assert len(p.pages) == 24
    assert [q.part for q in p.pages[:23]] == list(range(23))


def test_blanks_gather_at_the_end_or_before_the_colophon() -> None:
    story = make_story(*singles(8), (BlockKind.COLOPHON, (PAGE,)))
    p = sound(story, plan(story))
    assert len(p.pages) == 12
    assert read(p) == "0 1 2 3 4 5 6 7 8 - - -"
    on_verso = (Alternative(1, start=Start.VERSO),)
    story = make_story(*singles(8), (BlockKind.COLOPHON, on_verso))
    assert read(sound(story, plan(story))) == "0 1 2 3 4 5 6 7 - 8 - -"


def test_gatherings_are_even_and_as_preferred() -> None:
    story = make_story(*singles(40))
    sizes = [g.sheets for g in sound(story, plan(story)).gatherings]
    assert sizes == [2] * 5
    sizes = [g.sheets for g in sound(story, plan(story, caliper_um=100)).gatherings]
    assert sizes == [5, 5]


def test_a_later_spread_in_a_block_decides_its_side() -> None:
    second = Alternative(4, spreads=(1,))
    story = make_story((BlockKind.SINGLE, (PAGE,)), (BlockKind.GROUP, (second,)))
    assert read(sound(story, plan(story))).startswith("0 - 1 1 1 1")


@pytest.mark.parametrize(
    "flawed",
    [
        Alternative(0),
        Alternative(1, spreads=(0,)),
        Alternative(2, start=Start.RECTO, spreads=(0,)),
        Alternative(4, spreads=(0, 1)),
        Alternative(2, spreads=(-1,)),
    ],
)
def test_what_no_book_can_hold_is_said(flawed: Alternative) -> None:
    alone = plan(make_story((BlockKind.GROUP, (flawed,))))
    assert alone.status is Status.IMPOSSIBLE
    assert alone.plan is None
    assert any(f.severity is Severity.BLOCK and "b0" in f.where for f in alone.findings)
    story = make_story((BlockKind.GROUP, (flawed, PAGE)))
    beside = plan(story)
    assert sound(story, beside).choices == (("b0", 1),)
    assert [f.severity for f in beside.findings] == [Severity.NOTE]


def test_an_empty_story() -> None:
    result = plan(Story((), ()))
    assert result.status is Status.IMPOSSIBLE
    assert "nothing" in result.findings[0].message


def test_impossible_gatherings() -> None:
    result = plan(make_story(*singles(3)), sheets_min=4, sheets_max=2)
    assert (result.status, result.plan) == (Status.IMPOSSIBLE, None)


def test_heavy_paper_warns() -> None:
    story = make_story(*singles(8))
    assert len(sound(story, plan(story, caliper_um=900)).gatherings) == 2
    thick = plan(story, sheets_min=4)
    assert [f.rule for f in thick.findings] == ["gathering-thickness"]


def test_six_hundred_pages() -> None:
    blocks: list[tuple[BlockKind, tuple[Alternative, ...]]] = []
    for i in range(120):
        if i % 12 == 0:
            blocks.append((BlockKind.OPENER, (RECTO,)))
            blocks.append((BlockKind.TEXT, (Alternative(5),)))
        blocks.append((BlockKind.GROUP, (PAGE, Alternative(2, 3), Alternative(2, 5, spreads=(0,)))))
        blocks.append((BlockKind.SINGLE, (PAGE,)))
        blocks.append((BlockKind.HERO, (ACROSS, Alternative(1, 40))))
    story = make_story(*blocks)
    paper, binding = Paper(caliper_um=110), Binding()
    result = plan_book(story, paper, binding)
    p = sound(story, result)
    sheets, _ = allow_sheets(paper, binding)
    assert sheets is not None
    assert verify_plan(story, p, sheets.sizes) == ()
    assert len(p.pages) > 540
    assert result == plan_book(story, paper, binding)
