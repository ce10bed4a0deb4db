"""What a plan leaves unmet: heroes off their centres, torn pictures, pasted leaves, odd sizes."""

from __future__ import annotations

import enum
from collections.abc import Iterator
from dataclasses import dataclass

from wayfold.plan.demands import first_side
from wayfold.plan.facing import list_crossings
from wayfold.plan.model import Plan
from wayfold.story.model import BlockKind, Start, Story


class WishKind(enum.StrEnum):
    """What was wished for."""

    CENTRE = "centre"
    """A hero at the centre of a gathering."""
    WHOLE = "whole"
    """A picture across two pages of one gathering."""
    FOLDED = "folded"
    """An interleaf sewn in by its fold instead of pasted."""
    SIZE = "size"
    """A block laid in the way that suits it best."""


@dataclass(frozen=True, slots=True)
class Wish:
    """A wish of a block, and the page it concerns."""

    kind: WishKind
    block: str
    page: int


def list_unmet(story: Story, plan: Plan) -> tuple[Wish, ...]:
    """Give the wishes a plan does not meet, the weightiest kinds first."""
    return (
        *_list_torn(story, plan),
        *_list_off_centre(story, plan),
        *_list_pasted(plan),
        *_list_resized(story, plan),
    )


def count_heroes(story: Story, plan: Plan) -> tuple[int, int]:
    """Give how many heroes cross two pages, and how many of them do so at a centre."""
    centres = {g.centre[0] for g in plan.gatherings}
    heroes = [p for block, p in list_crossings(story, plan) if block.kind is BlockKind.HERO]
    return len(heroes), sum(page in centres for page in heroes)


def list_unasked_whites(story: Story, plan: Plan) -> tuple[int, ...]:
    """Give the white pages that a reader takes for an omission.

    Expected are those before a recto that a chapter asks for, before the colophon, and at the end.
    """
    ways = dict(plan.choices)
    unasked: list[int] = []
    run: list[int] = []
    for page in plan.pages:
        if page.block is None:
            run.append(page.number)
            continue
        block = story.block(page.block)
        recto = first_side(block.alternatives[ways[block.id]]) is Start.RECTO
        if not recto and block.kind is not BlockKind.COLOPHON:
            unasked += run
        run = []
    return tuple(unasked)


def _list_torn(story: Story, plan: Plan) -> Iterator[Wish]:
    seams = {g.last_page for g in plan.gatherings}
    for block, page in list_crossings(story, plan):
        if page in seams:
            yield Wish(WishKind.WHOLE, block.id, page)


def _list_off_centre(story: Story, plan: Plan) -> Iterator[Wish]:
    spots = {g.centre[0] for g in plan.gatherings} | {g.last_page for g in plan.gatherings}
    for block, page in list_crossings(story, plan):
        if block.kind is BlockKind.HERO and page not in spots:
            yield Wish(WishKind.CENTRE, block.id, page)


def _list_pasted(plan: Plan) -> Iterator[Wish]:
    for interleaf in plan.interleaves:
        over = interleaf.ends[0].over
        block = plan.pages[over - 1].block if over is not None else None
        if interleaf.depth is None and over is not None and block is not None:
            yield Wish(WishKind.FOLDED, block, over)


def _list_resized(story: Story, plan: Plan) -> Iterator[Wish]:
    ways = dict(plan.choices)
    for block in story.blocks:
        if block.alternatives[ways[block.id]].cost > min(a.cost for a in block.alternatives):
            yield Wish(WishKind.SIZE, block.id, plan.first_page_of(block.id))
