"""What is to be said beside each opening of a gathering, in a maker's words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wayfold.bench.openings import Gap
from wayfold.pages.interleaves import InterleafLeaf
from wayfold.plan.facing import begins_crossing
from wayfold.plan.model import EndRole, Gathering, Plan
from wayfold.story.model import BlockKind, Story


@dataclass(frozen=True, slots=True)
class Note:
    """Words beside an opening; a ``heading`` names the place and stands first."""

    words: str
    heading: bool = False


def write_notes(story: Story, plan: Plan, gathering: Gathering, gap: Gap) -> tuple[Note, ...]:
    """Give what is worth knowing of an opening, the place first."""
    return (
        *_name_place(plan, gathering, gap),
        *_note_chapter(story, plan, gap),
        *_note_crossing(story, plan, gathering, gap),
        *(Note(describe_leaf(plan, leaf)) for leaf, _ in gap.leaves),
    )


def describe_leaf(plan: Plan, leaf: InterleafLeaf) -> str:
    """Say what a translucent leaf does, and where its other half lies."""
    interleaf = plan.interleaves[leaf.interleaf]
    end = interleaf.ends[leaf.end]
    if interleaf.depth is None:
        return f"translucent leaf over page {end.over}, pasted in by its edge"
    what = {
        EndRole.WANTED: f"translucent leaf over page {end.over}",
        EndRole.ECHO: "translucent leaf with a few words",
        EndRole.PLAIN: "plain translucent leaf",
        EndRole.STUB: "translucent leaf cut back to a stub",
    }[end.role]
    mate = interleaf.ends[1 - leaf.end].after_page
    if mate == end.after_page:
        return f"{what}; its other half lies beside it"
    where = f"after page {mate}" if mate else "before page 1"
    return f"{what}; its other half {where}"


def _name_place(plan: Plan, gathering: Gathering, gap: Gap) -> Iterator[Note]:
    if gap.number == gathering.sheets:
        yield Note("centre", heading=True)
    elif gap.number == 0:
        first = gathering.number == 1
        yield Note("the book begins" if first else f"gathering {gathering.number - 1} lies before")
    elif gap.number == 2 * gathering.sheets:
        last = gathering.number == len(plan.gatherings)
        yield Note("the book ends" if last else f"gathering {gathering.number + 1} follows")


def _note_chapter(story: Story, plan: Plan, gap: Gap) -> Iterator[Note]:
    for number in gap.pages:
        page = plan.pages[number - 1]
        if page.block is None or page.part:
            continue
        block = story.block(page.block)
        if block.kind is BlockKind.OPENER and block.chapter is not None:
            yield Note(f"{story.chapters[block.chapter].title} begins")


def _note_crossing(story: Story, plan: Plan, gathering: Gathering, gap: Gap) -> Iterator[Note]:
    if gap.verso is None or not begins_crossing(story, plan, plan.pages[gap.verso - 1]):
        return
    if gap.number == gathering.sheets:
        yield Note("one picture, unbroken on one sheet")
    elif gap.number in (0, 2 * gathering.sheets):
        yield Note("one picture on two gatherings: its halves can part")
    else:
        yield Note("one picture on two sheets: fold with care")
