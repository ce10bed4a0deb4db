"""From leaves, places and deeds of a found path to a plan: pages, gatherings, interleaves."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wayfold.plan.ends import Deed
from wayfold.plan.facing import find_gap, list_facing, wants_interleaf
from wayfold.plan.gaps import Gap, choose_role
from wayfold.plan.model import (
    EndRole,
    Gathering,
    Interleaf,
    InterleafEnd,
    Plan,
    PlannedPage,
)
from wayfold.plan.places import Places
from wayfold.plan.prices import Prices
from wayfold.plan.problem import PageLabel
from wayfold.plan.search import Found
from wayfold.story.model import Story


def build_plan(story: Story, prices: Prices, places: Places, found: Found) -> Plan:
    """Give the plan that a found path stands for."""
    labels: list[PageLabel | None] = []
    for step in found.steps:
        if step.arc is not None:
            labels += [step.arc.recto, step.arc.verso]
    pages = tuple(
        PlannedPage(number, None) if la is None else PlannedPage(number, la.block, la.part)
        for number, la in enumerate(labels, start=1)
    )
    ways = {label.block: label.way for label in labels if label is not None}
    choices = tuple((block.id, ways[block.id]) for block in story.blocks)
    gatherings = tuple(_list_gatherings(places, found))
    bare = Plan(pages, gatherings, choices)
    interleaves = sorted(
        _list_interleaves(story, prices, bare, found),
        key=lambda i: (i.gathering, i.ends[0].after_page),
    )
    return Plan(pages, gatherings, choices, tuple(interleaves))


def _list_gatherings(places: Places, found: Found) -> Iterator[Gathering]:
    number = 0
    for leaf, step in enumerate(found.steps):
        if step.arc is not None and places.at[step.place] == 1:
            number += 1
            yield Gathering(number, places.sheets[step.place], 2 * leaf + 1)


def _list_interleaves(
    story: Story, prices: Prices, bare: Plan, found: Found
) -> Iterator[Interleaf]:
    for leaf, step in enumerate(found.steps):
        after_page = 2 * leaf
        if step.deed is Deed.NOTHING:
            continue
        if step.deed is Deed.TIPPED:
            yield _tip_in(story, bare, after_page)
            continue
        gathering = bare.gathering_of(after_page)
        depth = (gathering.last_page - after_page) // 2
        mirrored = gathering.first_page - 1 + 2 * depth
        if step.deed is Deed.TIPPED_BEFORE:
            yield _tip_in(story, bare, mirrored)
        elif step.deed is Deed.DOUBLED:
            yield Interleaf(gathering.number, depth, _double_ends(story, bare, after_page))
        else:
            near, far = (
                _describe_end(story, prices, bare, page) for page in (mirrored, after_page)
            )
            yield Interleaf(gathering.number, depth, (near, far))


def _tip_in(story: Story, bare: Plan, after_page: int) -> Interleaf:
    end = _wanted_end(story, bare, after_page)
    assert end.over is not None
    return Interleaf(bare.gathering_of(end.over).number, None, (end,))


def _describe_end(story: Story, prices: Prices, plan: Plan, after_page: int) -> InterleafEnd:
    gap = find_gap(story, plan, after_page)
    if gap is Gap.W:
        return _wanted_end(story, plan, after_page)
    return InterleafEnd(after_page, choose_role(gap, prices)[1])


def _wanted_end(story: Story, plan: Plan, after_page: int) -> InterleafEnd:
    """Give the end of a leaf that serves a gap: for the recto there, where both ask for it."""
    over = _find_asking(story, plan, after_page)[-1]
    return InterleafEnd(after_page, EndRole.WANTED, over)


def _double_ends(story: Story, plan: Plan, after_page: int) -> tuple[InterleafEnd, InterleafEnd]:
    """Give both ends at a centre: the first lies on the verso, the second on the recto."""
    asking = _find_asking(story, plan, after_page)
    ways = dict(plan.choices)
    bears = any(
        page.block is not None
        and page.part in story.block(page.block).alternatives[ways[page.block]].bears
        for page in list_facing(plan, after_page)
    )
    spare = InterleafEnd(after_page, EndRole.ECHO if bears else EndRole.PLAIN)
    verso, recto = (
        InterleafEnd(after_page, EndRole.WANTED, page) if page in asking else spare
        for page in (after_page, after_page + 1)
    )
    return verso, recto


def _find_asking(story: Story, plan: Plan, after_page: int) -> Sequence[int]:
    """Give the pages (ascending) of a gap over which an interleaf is asked for."""
    facing = list_facing(plan, after_page)
    return [page.number for page in facing if wants_interleaf(story, plan, page)]
