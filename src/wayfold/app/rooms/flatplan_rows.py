"""The gatherings that a trial changes, as they are and as they would be: two rows of pages."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from wayfold.app.rooms.flatplan_trial import Trial, name_trial
from wayfold.plan.model import Interleaf, Plan
from wayfold.story.model import Story

Moved = Literal["stays", "moves", "comes", "goes"]


@dataclass(frozen=True, slots=True)
class TriedPage:
    """A page in the row of before or after.

    ``moved``: whether what lies on it lies elsewhere in the other row, or not at all there;
    ``other`` is the page there. ``opens`` and ``centre``: it begins a gathering; it is left at a
    centre. ``veiled``: a translucent leaf lies before it. ``picture`` is None where it is not
    drawn yet.
    """

    number: int
    block: str | None
    name: str
    moved: Moved
    other: int | None
    opens: bool
    centre: bool
    veiled: bool
    picture: str | None


def view_rows(
    trial: Trial, keys_before: Sequence[str], keys_after: Sequence[str] | None
) -> tuple[tuple[TriedPage, ...], tuple[TriedPage, ...]]:
    """Give the gatherings that differ, as they are and as they would be.

    Until a trial is drawn, what lies elsewhere looks as it does now.
    """
    results, plan = trial.before.results, trial.plan
    if plan is None:
        return (), ()
    names = name_trial(trial)
    was = label_plan(results.story, results.plan)
    now = label_plan(trial.told.story, plan)
    first, last = _find_window(results.plan, plan, was, now)
    if first > last:
        return (), ()
    looks = dict(zip(was, keys_before, strict=True))
    pictures: Sequence[str | None] = keys_after or [looks.get(label) for label in now]
    before = _view_row(results.plan, was, now, keys_before, names, "goes")
    after = _view_row(plan, now, was, pictures, names, "comes")
    return (
        tuple(page for page in before if first <= page.number <= last),
        tuple(page for page in after if first <= page.number <= last),
    )


PageContent = tuple[str, int, int, tuple[str, ...]] | None
"""What lies on a page: block, part, way and photographs; None on a white one."""


def label_plan(story: Story, plan: Plan) -> tuple[PageContent, ...]:
    """Give what lies on each page."""
    ways = dict(plan.choices)
    photos = {block.id: block.photos for block in story.blocks}
    return tuple(
        None if p.block is None else (p.block, p.part, ways[p.block], photos[p.block])
        for p in plan.pages
    )


def _view_row(
    plan: Plan,
    mine: Sequence[PageContent],
    theirs: Sequence[PageContent],
    pictures: Sequence[str | None],
    names: Mapping[str, str],
    alone: Moved,
) -> list[TriedPage]:
    there = {label: at for at, label in enumerate(theirs, start=1) if label is not None}
    opens = {gathering.first_page for gathering in plan.gatherings}
    centres = {gathering.centre[0] for gathering in plan.gatherings}
    veils = _list_leaves(plan)
    row = []
    for page, label, picture in zip(plan.pages, mine, pictures, strict=True):
        number = page.number
        other = there.get(label) if label is not None else None
        at_home = number <= len(theirs) and theirs[number - 1] == label
        moved: Moved = "stays" if at_home else alone if other is None else "moves"
        name = names[page.block] if page.block is not None else ""
        row.append(
            TriedPage(
                number,
                page.block,
                name,
                moved,
                other,
                number in opens,
                number in centres,
                number - 1 in veils,
                picture,
            )
        )
    return row


def _find_window(
    old: Plan, new: Plan, was: Sequence[PageContent], now: Sequence[PageContent]
) -> tuple[int, int]:
    """Give the first and last page of the gatherings that differ; 1 and 0 where none does."""
    sizes = ([g.sheets for g in old.gatherings], [g.sheets for g in new.gatherings])
    differing = {
        page
        for page in range(1, max(len(was), len(now)) + 1)
        if was[page - 1 : page] != now[page - 1 : page]
    }
    seams = ({g.last_page for g in old.gatherings}, {g.last_page for g in new.gatherings})
    if sizes[0] != sizes[1]:
        differing |= seams[0] ^ seams[1]
    differing |= {
        page for leaf in set(old.interleaves) ^ set(new.interleaves) for page in _touch(leaf)
    }
    if not differing:
        return 1, 0
    first, last = min(differing), max(differing)
    for plan in (old, new):
        for gathering in plan.gatherings:
            if gathering.first_page <= min(differing) <= gathering.last_page:
                first = min(first, gathering.first_page)
            if gathering.first_page <= max(differing) <= gathering.last_page:
                last = max(last, gathering.last_page)
    return first, last


def _touch(leaf: Interleaf) -> set[int]:
    """Give a page beside each end of an interleaf, in the gathering that it belongs to."""
    return {leaf.ends[0].after_page + 1, leaf.ends[-1].after_page} - {0}


def _list_leaves(plan: Plan) -> set[int]:
    return {end.after_page for leaf in plan.interleaves for end in leaf.ends}
