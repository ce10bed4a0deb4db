"""The verifier must see every broken rule: plans are broken by hand, one rule each."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from wayfold.base.findings import Severity
from wayfold.plan.model import Gathering, Plan, PlannedPage
from wayfold.plan.verify import verify_plan
from wayfold.story.model import Alternative, Block, BlockKind, Start, Story

STORY = Story(
    (),
    (
        Block("title", BlockKind.TITLE, (Alternative(1, start=Start.RECTO),)),
        Block("opener", BlockKind.OPENER, (Alternative(1, start=Start.RECTO),)),
        Block("hero", BlockKind.HERO, (Alternative(1), Alternative(2, spreads=(0,)))),
        Block("text", BlockKind.TEXT, (Alternative(2),)),
    ),
)


def lay(*blocks: str) -> tuple[PlannedPage, ...]:
    seen: dict[str, int] = {}
    pages = []
    for number, block in enumerate(blocks, start=1):
        if block == "-":
            pages.append(PlannedPage(number, None))
        else:
            pages.append(PlannedPage(number, block, seen.get(block, 0)))
            seen[block] = seen.get(block, 0) + 1
    return tuple(pages)


SOUND = Plan(
    lay("title", "-", "opener", "hero", "hero", "text", "text", "-"),
    (Gathering(1, 2, 1),),
    (("title", 0), ("opener", 0), ("hero", 1), ("text", 0)),
)


def test_a_sound_plan() -> None:
    assert verify_plan(STORY, SOUND, (2,)) == ()


def pages(*blocks: str) -> Callable[[Plan], Plan]:
    return lambda plan: replace(plan, pages=lay(*blocks))


def paper(*gatherings: Gathering) -> Callable[[Plan], Plan]:
    return lambda plan: replace(plan, gatherings=gatherings)


def swap_parts(plan: Plan) -> Plan:
    turned = list(plan.pages)
    turned[5], turned[6] = replace(turned[5], part=1), replace(turned[6], part=0)
    return replace(plan, pages=tuple(turned))


def skip_number(plan: Plan) -> Plan:
    return replace(plan, pages=(*plan.pages[:-1], replace(plan.pages[-1], number=9)))


BROKEN: dict[str, tuple[Callable[[Plan], Plan], str]] = {
    "order": (pages("title", "-", "opener", "text", "text", "hero", "hero", "-"), "order"),
    "missing block": (pages("title", "-", "opener", "hero", "hero", "-", "-", "-"), "not those"),
    "missing page": (pages("title", "-", "opener", "hero", "hero", "text", "-", "-"), "all there"),
    "opener on a verso": (
        pages("title", "opener", "-", "hero", "hero", "text", "text", "-"),
        "begin on a recto",
    ),
    "spread on a recto": (
        pages("title", "-", "opener", "-", "hero", "hero", "text", "text"),
        "recto",
    ),
    "blank before what needs none": (
        pages("title", "-", "opener", "hero", "hero", "-", "text", "text"),
        "no reader expects",
    ),
    "block torn apart": (
        pages("title", "-", "opener", "hero", "hero", "text", "-", "text"),
        "Other pages",
    ),
    "parts swapped": (swap_parts, "all there"),
    "a number left out": (skip_number, "should stand here"),
    "too little paper": (paper(Gathering(1, 1, 1)), "have 4 pages"),
    "sheets not allowed": (paper(Gathering(1, 1, 1), Gathering(2, 1, 5)), "not allowed"),
    "a gap in the gatherings": (paper(Gathering(1, 2, 2)), "should begin on page 1"),
    "gatherings out of order": (paper(Gathering(2, 2, 1)), "Gathering 1 should"),
    "no choice": (lambda p: replace(p, choices=p.choices[1:]), "No alternative"),
    "a choice that is not there": (
        lambda p: replace(p, choices=(*p.choices[:-1], ("text", 5))),
        "No alternative",
    ),
    "no pages": (lambda p: replace(p, pages=(), gatherings=()), "no pages"),
}


@pytest.mark.parametrize("name", BROKEN)
def test_broken_plans(name: str) -> None:
    spoil, words = BROKEN[name]
    findings = verify_plan(STORY, spoil(SOUND), (2,))
    assert any(f.severity is Severity.BLOCK and words in f.message for f in findings), findings


def test_two_blank_pages_inside() -> None:
    blocks = ("title", "-", "-", "-", "opener", "hero", "hero", "text", "text", "-", "-", "-")
    plan = replace(SOUND, pages=lay(*blocks), gatherings=(Gathering(1, 3, 1),))
    assert any("follow each other" in f.message for f in verify_plan(STORY, plan))


def test_split_spread_is_a_warning() -> None:
    plan = replace(SOUND, gatherings=(Gathering(1, 1, 1), Gathering(2, 1, 5)))
    (finding,) = verify_plan(STORY, plan)
    assert (finding.severity, finding.where) == (Severity.WARN, "pages 4-5")
