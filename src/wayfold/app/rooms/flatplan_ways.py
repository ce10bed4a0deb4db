"""The ways out of a trial that does not bring what was wished for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from wayfold.app.plan_meet import hold_way
from wayfold.app.rooms.flatplan_trial import Trial, name_trial
from wayfold.app.rooms.flatplan_wishes import Wanted
from wayfold.book.edits import Edit, HoldBlocks
from wayfold.book.planning import PinChoice
from wayfold.plan.changes import describe_changes
from wayfold.plan.conflicts import find_conflict
from wayfold.plan.explain import WayOut, find_ways
from wayfold.plan.planner import solve, solve_plainly
from wayfold.plan.prepare import is_possible
from wayfold.plan.problem import PinPage
from wayfold.plan.wishes import Wish, WishKind

NEARBY_MAX = 8
"""How many pages away on both sides a place is looked for, where a block cannot lie on the one
wished; farther away only towards where it lies."""
TRIED_MAX = 48
"""Pages that are tried in all."""
WayName = Literal["centre", "whole", "folded", "size", "page", "let go"]
_NAMES: dict[WishKind, WayName] = {
    WishKind.CENTRE: "centre",
    WishKind.WHOLE: "whole",
    WishKind.FOLDED: "folded",
    WishKind.SIZE: "size",
}
WAYS_MAX = 3
"""Ways out that are worth reading."""


@dataclass(frozen=True, slots=True)
class Way:
    """A way out: what it brings, what else would be, and what it costs more (None: not known).

    ``name`` is the kind of wish that is met; or "page": the block begins on ``page`` instead; or
    "let go": ``block`` is no longer held. It is had by ``edits`` besides the trial's own, or by
    holding blocks as ``found`` has them.
    """

    name: WayName
    changes: tuple[str, ...]
    extra: int | None = None
    page: int | None = None
    block: str | None = None
    edits: tuple[Edit, ...] = ()
    found: tuple[Wish, WayOut] | None = None


def list_ways(trial: Trial) -> tuple[Way, ...]:
    """Give the ways out of a trial that does not bring what was wished for; ids for blocks."""
    if trial.plan is None:
        return (*_list_nearby(trial), *_list_releases(trial))
    wish = trial.unmet
    if wish is None:
        return ()
    ways = find_ways(trial.answer.problem, trial.answer.result, wish)
    return tuple(Way(_NAMES[wish.kind], w.changes, w.extra, found=(wish, w)) for w in ways)


def take_way(trial: Trial, way: Way) -> Wanted:
    """Give what is wanted, by one of its ways. Raises UserError where no pin can hold it."""
    edits = way.edits
    if way.found is not None:
        wish, out = way.found
        edits = (hold_way(trial.answer.problem, out, wish, name_trial(trial)[wish.block]),)
    # Of what is said of one block twice, the later counts.
    return replace(trial.wanted, edits=(*trial.wanted.edits, *edits))


def _list_nearby(trial: Trial) -> Iterator[Way]:
    """The nearest pages on which a block could begin instead."""
    block, page, problem = trial.wanted.block, trial.wanted.page, trial.answer.problem
    if block is None or page is None:
        return
    results = trial.before.results
    here = results.plan.first_page_of(block)
    found = 0
    for near in _list_pages(page, here):
        pins = tuple(
            PinPage(block, near) if pin == PinPage(block, page) else pin for pin in problem.pins
        )
        tried = replace(problem, pins=pins)
        plan = solve(tried).plan if is_possible(tried) else None
        if plan is None:
            continue
        changes = describe_changes(trial.told.story, results.plan, plan, told=results.story)
        pinned = HoldBlocks((PinChoice(block, page=near),))
        yield Way("page", changes, page=near, edits=(pinned,))
        found += 1
        if found == WAYS_MAX:
            return


def _list_pages(page: int, here: int) -> list[int]:
    """Give the pages to try instead of ``page``, the nearest first, but the one it lies on."""
    nearby = [page + step for far in range(1, NEARBY_MAX + 1) for step in (-far, far)]
    back = range(page, here, 1 if page < here else -1)
    pages = dict.fromkeys((*nearby, *back))
    return [near for near in pages if near > 0 and near not in (page, here)][:TRIED_MAX]


def _list_releases(trial: Trial) -> Iterator[Way]:
    """Blocks that are held, and could be let go of instead."""
    problem = trial.answer.problem
    if is_possible(problem) or not is_possible(replace(problem, pins=())):
        return
    conflict = find_conflict(problem, solve_plainly)
    for release in conflict.releases:
        block = release.pin.block
        if release.cost is not None and block != trial.wanted.block:
            yield Way("let go", (), block=block, edits=(HoldBlocks((PinChoice(block),)),))
