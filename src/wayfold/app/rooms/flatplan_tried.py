"""A trial as it is shown: where things would lie, what moves, what it costs, and the ways out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from wayfold.app.block_names import put_names
from wayfold.app.rooms.flatplan_judged import PlanFinding, view_findings
from wayfold.app.rooms.flatplan_rows import TriedPage, view_rows
from wayfold.app.rooms.flatplan_trial import Trial, name_trial
from wayfold.app.rooms.flatplan_ways import Way, WayName
from wayfold.plan.explain import tell_place
from wayfold.plan.facing import list_facing
from wayfold.plan.model import Interleaf, Plan


@dataclass(frozen=True, slots=True)
class TriedLeaf:
    """The interleaf that was asked for over page ``over``, and where it comes out again.

    ``depth`` sheets lie outside it; None where it is pasted in, and comes out nowhere else. It
    comes out between page ``after_page`` and the next as ``role`` says, and there lie ``facing``.
    """

    over: int
    depth: int | None
    after_page: int | None
    role: str
    facing: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TriedWay:
    """A way out; ``extra`` is what it costs more, in points, None where that is not known.

    ``name`` is the kind of wish that is met by it; "page": it begins on ``page`` instead;
    "exchange": it stands on ``page``, and ``block`` in its place; "let go": ``block`` is no longer
    held.
    """

    name: WayName
    changes: tuple[str, ...]
    extra: int | None
    page: int | None
    block: str


@dataclass(frozen=True, slots=True)
class SheetAgain:
    """A printed sheet that would have to be printed again, and why."""

    label: str
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Tried:
    """A trial for a person to judge; ``extra`` in points, None where it cannot be compared.

    ``met`` says whether what was wished for comes of it. ``still``: no page looks otherwise.
    ``sheets_again`` is None until the trial is laid out; ``gatherings_again`` are known before.
    """

    number: int
    possible: bool
    met: bool
    still: bool
    block: str
    lies: tuple[str, ...]
    changes: tuple[str, ...]
    extra: int | None
    findings: tuple[PlanFinding, ...]
    before: tuple[TriedPage, ...]
    after: tuple[TriedPage, ...]
    leaf: TriedLeaf | None
    ways: tuple[TriedWay, ...]
    gatherings_again: tuple[int, ...]
    drawn: bool
    work: int | None
    sheets_again: tuple[SheetAgain, ...] | None


def view_leaf(trial: Trial, names: Mapping[str, str]) -> TriedLeaf | None:
    """Give the interleaf over the block that the trial is about, if it has one."""
    block, plan = trial.block, trial.plan
    if block is None or plan is None:
        return None
    pages = {page.number for page in plan.pages if page.block == block.id}
    for leaf in plan.interleaves:
        for at, end in enumerate(leaf.ends):
            if end.over in pages:
                return _view_leaf(plan, leaf, at, names)
    return None


def view_trial(
    number: int,
    trial: Trial,
    ways: Sequence[Way],
    keys_before: Sequence[str],
    keys_after: Sequence[str] | None,
    work: int | None,
    sheets_again: tuple[SheetAgain, ...] | None,
) -> Tried:
    """Give all that is said of a trial."""
    results, answer, plan = trial.before.results, trial.answer, trial.plan
    names = name_trial(trial)
    block = trial.block
    before, after = view_rows(trial, keys_before, keys_after)
    lies = tell_place(plan, block) if plan is not None and block is not None else ()
    same_story = trial.told.story.blocks == results.story.blocks
    same_prices = answer.problem.prices == results.planned.problem.prices
    extra = answer.result.cost - results.planned.result.cost
    was, lost = results.planned.printed, set(answer.printed)
    return Tried(
        number,
        plan is not None,
        trial.is_met,
        plan is not None and not before and not after,
        names.get(block.id, "") if block is not None else "",
        tuple(put_names(reason, names) for reason in lies),
        tuple(put_names(change, names) for change in trial.changes),
        extra if plan is not None and same_story and same_prices else None,
        view_findings(trial.findings, plan, names),
        before,
        after,
        view_leaf(trial, names),
        tuple(_view_way(way, names) for way in ways),
        tuple(number for number in was if number not in lost),
        keys_after is not None,
        work,
        sheets_again,
    )


def _view_way(way: Way, names: Mapping[str, str]) -> TriedWay:
    changes = tuple(put_names(change, names) for change in way.changes)
    block = names[way.block] if way.block is not None else ""
    return TriedWay(way.name, changes, way.extra, way.page, block)


def _view_leaf(plan: Plan, leaf: Interleaf, at: int, names: Mapping[str, str]) -> TriedLeaf:
    over = leaf.ends[at].over or 0
    if leaf.depth is None or len(leaf.ends) < 2:
        return TriedLeaf(over, None, None, "", ())
    other = leaf.ends[1 - at]
    blocks = [page.block for page in list_facing(plan, other.after_page)]
    facing = dict.fromkeys(names[block] for block in blocks if block is not None)
    return TriedLeaf(over, leaf.depth, other.after_page, other.role.value, tuple(facing))
