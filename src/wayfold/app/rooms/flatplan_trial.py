"""A trial: the book as it would be after edits that nobody has made yet. Nothing is written."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import reduce
from typing import Literal

from wayfold.app.block_names import name_blocks
from wayfold.app.measuring import keep_measures
from wayfold.app.plan_meet import hold_way
from wayfold.app.planning import Answer, answer_story
from wayfold.app.rooms.flatplan_wishes import Wanted
from wayfold.app.session import Session
from wayfold.app.shown import Shown
from wayfold.app.stages import lay_out
from wayfold.app.telling import Told, derive_story
from wayfold.base.findings import Finding
from wayfold.base.progress import Progress
from wayfold.book.edits import Edit, HoldBlocks, apply_edit
from wayfold.book.planning import PinChoice
from wayfold.book.state import Book
from wayfold.plan.changes import describe_changes
from wayfold.plan.conflicts import find_conflict
from wayfold.plan.explain import WayOut, find_ways
from wayfold.plan.model import Plan
from wayfold.plan.planner import solve, solve_plainly
from wayfold.plan.prepare import is_possible
from wayfold.plan.problem import PinPage
from wayfold.plan.wishes import Wish, WishKind, list_unmet
from wayfold.story.choose import is_wide
from wayfold.story.model import Block, BlockKind

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
class Trial:
    """What comes of ``wanted``: the book, its story and the planner's answer; ``before`` is now."""

    before: Shown
    wanted: Wanted
    book: Book
    told: Told
    answer: Answer

    @property
    def plan(self) -> Plan | None:
        """The plan it comes to; None where none is possible."""
        return self.answer.result.plan

    @property
    def block(self) -> Block | None:
        """The block that it is about, as the story tells it then."""
        wanted = self.wanted
        for block in self.told.story.blocks:
            if block.id == wanted.block or (wanted.photo and wanted.photo in block.photos):
                return block
        return None

    @property
    def unmet(self) -> Wish | None:
        """The wish that it is for, where it is not met even then."""
        block, plan = self.block, self.plan
        if block is None or plan is None or self.wanted.kind is None:
            return None
        wishes = list_unmet(self.told.story, plan)
        found = (w for w in wishes if w.block == block.id and w.kind is self.wanted.kind)
        return next(found, None)

    @property
    def is_met(self) -> bool:
        """Whether what was wished for comes of it."""
        block, plan = self.block, self.plan
        if plan is None or self.unmet is not None:
            return False
        if self.wanted.photo and self.wanted.kind is WishKind.CENTRE:
            # A picture too narrow for two pages is a hero on a page of its own.
            photo = self.before.results.photos[self.wanted.photo]
            is_hero = block is not None and block.kind is BlockKind.HERO
            return is_hero or not is_wide(self.book, photo)
        if self.wanted.kind is WishKind.FOLDED and block is not None:
            pages = {page.number for page in plan.pages if page.block == block.id}
            return any(end.over in pages for leaf in plan.interleaves for end in leaf.ends)
        return True

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What story and planner say of it that they do not say of the book as it is."""
        said = self.before.results.findings
        found = (*self.told.story.findings, *self.answer.result.findings)
        return tuple(finding for finding in found if finding not in said)

    @property
    def changes(self) -> tuple[str, ...]:
        """What changes against the book as it is, with the blocks' ids."""
        results = self.before.results
        if self.plan is None:
            return ()
        return describe_changes(self.told.story, results.plan, self.plan, told=results.story)


def try_out(session: Session, wanted: Wanted) -> Trial:
    """Plan the open book as it would be. Takes as long as planning does; writes nothing."""
    shown, folder = session.shown, session.folder
    results = shown.results
    book = reduce(apply_edit, wanted.edits, results.book)
    memory = session.memory
    measurer = keep_measures(folder, shown.typesetter, memory)
    told = derive_story(folder, book, results.catalogue, measurer, memory)
    return Trial(shown, wanted, book, told, answer_story(folder, told.story, book, memory=memory))


def draw_trial(session: Session, trial: Trial, progress: Progress) -> Shown:
    """Lay a trial out, with the pages it would have. Raises UserError where that cannot be."""
    results = lay_out(
        session.folder,
        trial.book,
        trial.before.results.catalogue,
        trial.told,
        trial.answer.require(),
        trial.before.typesetter,
        progress,
        session.memory,
    )
    return trial.before.beside(results, session.memory)


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


def name_trial(trial: Trial) -> dict[str, str]:
    """Give what to call the blocks, of the story as it is and as it would be."""
    results = trial.before.results
    return {
        **name_blocks(results.story, results.photos),
        **name_blocks(trial.told.story, results.photos),
    }


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
