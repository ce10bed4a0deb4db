"""What a finished plan's pages show to each other: looked up from the pages alone."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.plan.gaps import Gap, classify_gap
from wayfold.plan.model import Plan, PlannedPage
from wayfold.story.model import Alternative, Block, Story


def list_crossings(story: Story, plan: Plan) -> Iterator[tuple[Block, int]]:
    """Give each picture across two pages: its block, and the page it begins on."""
    ways = dict(plan.choices)
    for block in story.blocks:
        first = plan.first_page_of(block.id)
        for at in block.alternatives[ways[block.id]].spreads:
            yield block, first + at


def list_facing(plan: Plan, after_page: int) -> tuple[PlannedPage, ...]:
    """Give the pages that face each other after page ``after_page`` (0 = before the first)."""
    return plan.pages[max(0, after_page - 1) : after_page + 1]


def wants_interleaf(story: Story, plan: Plan, page: PlannedPage) -> bool:
    """Whether an interleaf is asked for over the page."""
    taken = _taken(story, plan, page)
    return taken is not None and page.part in taken.interleaves


def begins_crossing(story: Story, plan: Plan, page: PlannedPage) -> bool:
    """Whether a picture across two pages begins on the page."""
    taken = _taken(story, plan, page)
    return taken is not None and page.part in taken.spreads


def find_gap(story: Story, plan: Plan, after_page: int) -> Gap:
    """Give the class of the gap after page ``after_page``, a verso (0 = before the first)."""
    facing = [(page, _taken(story, plan, page)) for page in list_facing(plan, after_page)]
    return classify_gap(
        any(taken is not None and page.part in taken.interleaves for page, taken in facing),
        any(
            taken is not None and page.number == after_page and page.part in taken.spreads
            for page, taken in facing
        ),
        any(taken is not None and page.part in taken.bears for page, taken in facing),
    )


def _taken(story: Story, plan: Plan, page: PlannedPage) -> Alternative | None:
    if page.block is None:
        return None
    return story.block(page.block).alternatives[dict(plan.choices)[page.block]]
