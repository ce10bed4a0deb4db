"""The ways out of a trial that does not bring what was wished for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from wayfold.app.plan_meet import hold_way
from wayfold.app.rooms.flatplan_trial import Trial, name_trial
from wayfold.app.rooms.flatplan_wishes import Wanted
from wayfold.app.stages import Results
from wayfold.base.progress import Progress
from wayfold.book.edits import Edit, ExchangePictures, HoldBlocks
from wayfold.book.planning import PinChoice
from wayfold.layout.model import PictureFrame
from wayfold.plan.changes import describe_changes
from wayfold.plan.conflicts import find_conflict
from wayfold.plan.explain import WayOut, find_ways
from wayfold.plan.model import Plan
from wayfold.plan.planner import solve, solve_plainly
from wayfold.plan.prepare import is_possible
from wayfold.plan.problem import PinPage, PlanProblem
from wayfold.plan.wishes import Wish, WishKind
from wayfold.story.exchange import EXCHANGEABLE
from wayfold.story.model import Block

NEARBY_MAX = 8
"""How many pages away on both sides a place is looked for, where a block cannot lie on the one
wished; farther away only towards where it lies."""
TRIED_MAX = 48
"""Pages that are tried in all."""
WayName = Literal["centre", "whole", "folded", "size", "page", "exchange", "let go"]
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
    "exchange": its pictures leave their moment and stand on ``page``, and those of ``block``, which
    stood there, take their place; or "let go": ``block`` is no longer held. It is had by ``edits``
    besides the trial's own (an exchange by its alone), or by holding blocks as ``found`` has them.
    """

    name: WayName
    changes: tuple[str, ...]
    extra: int | None = None
    page: int | None = None
    block: str | None = None
    edits: tuple[Edit, ...] = ()
    found: tuple[Wish, WayOut] | None = None


def list_ways(trial: Trial, progress: Progress) -> tuple[Way, ...]:
    """Give the ways out of a trial that does not bring what was wished for; ids for blocks."""
    if trial.plan is None:
        return (*_list_exchanges(trial), *_list_nearby(trial, progress), *_list_releases(trial))
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
    if way.name == "exchange":
        # It is about the picture then, wherever the story has it, and about no page any more.
        photo = _find_block(trial, trial.wanted.block).photos[0]
        return Wanted(edits, photo=photo)
    # Of what is said of one block twice, the later counts.
    return replace(trial.wanted, edits=(*trial.wanted.edits, *edits))


def _list_exchanges(trial: Trial) -> Iterator[Way]:
    """The block on the page wished, or nearest to it, whose pictures could change places.

    The story goes on as it was; only these pictures leave their moments, so paper always allows it.
    """
    wanted, page, results = trial.wanted.block, trial.wanted.page, trial.before.results
    if wanted is None or page is None:
        return
    mine = _find_block(trial, wanted)
    if mine.kind not in EXCHANGEABLE or not mine.photos:
        return
    near = sorted(results.plan.pages, key=lambda p: (abs(p.number - page), p.number))
    for place in near:
        if place.block in (None, wanted) or abs(place.number - page) > NEARBY_MAX:
            continue
        other = results.story.block(place.block or "")
        if other.kind in EXCHANGEABLE and other.photos:
            theirs = _put_first(results, other, place.number)
            pairs = zip(mine.photos, theirs, strict=False)
            edits = tuple(ExchangePictures(one, two) for one, two in pairs)
            yield Way("exchange", (), page=place.number, block=other.id, edits=edits)
            return


def _put_first(results: Results, block: Block, page: int) -> tuple[str, ...]:
    """Give a block's pictures, those that stand on ``page`` first."""
    frames = results.layout.pages[page - 1].frames
    here = {frame.photo for frame in frames if isinstance(frame, PictureFrame)}
    return tuple(sorted(block.photos, key=lambda photo: photo not in here))


def _find_block(trial: Trial, block: str | None) -> Block:
    return trial.before.results.story.block(block or "")


def _list_nearby(trial: Trial, progress: Progress) -> Iterator[Way]:
    """The nearest pages on which a block could begin instead."""
    block, page, problem = trial.wanted.block, trial.wanted.page, trial.answer.problem
    if block is None or page is None:
        return
    results = trial.before.results
    here = results.plan.first_page_of(block)
    found = 0
    pages = _list_pages(page, here)
    with progress.task("Looking for other pages", len(pages)) as task:
        for near in pages:
            task.advance()
            plan = _plan_for(problem, block, page, near)
            if plan is None:
                continue
            changes = describe_changes(trial.told.story, results.plan, plan, told=results.story)
            pinned = HoldBlocks((PinChoice(block, page=near),))
            yield Way("page", changes, page=near, edits=(pinned,))
            found += 1
            if found == WAYS_MAX:
                return


def _plan_for(problem: PlanProblem, block: str, page: int, near: int) -> Plan | None:
    """Give the plan with a block on another page than the one wished; None where none is."""
    pins = tuple(
        PinPage(block, near) if pin == PinPage(block, page) else pin for pin in problem.pins
    )
    tried = replace(problem, pins=pins)
    return solve(tried).plan if is_possible(tried) else None


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
