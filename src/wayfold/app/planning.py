"""The book's plan: kept while it holds, else made anew with as little change as can be."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from wayfold.base.errors import UserError
from wayfold.base.findings import blocks
from wayfold.base.hashing import hash_values
from wayfold.base.memory import Memory
from wayfold.base.mends import Mend
from wayfold.base.progress import Progress
from wayfold.book.state import Book
from wayfold.plan.model import Plan, PlanResult
from wayfold.plan.planner import judge_plan, solve
from wayfold.plan.pose import pose_problem
from wayfold.plan.prices import PRICES
from wayfold.plan.problem import PlanProblem, label_pages
from wayfold.plan.reckon import list_reprinted, recompute_cost
from wayfold.plan.verify import verify_answer
from wayfold.project.files import BookFolder
from wayfold.project.journal import Journal
from wayfold.project.journal_notes import Kind
from wayfold.project.plan_file import KeptPlan, find_kept, read_plan, write_plan
from wayfold.story.model import Block, Story


@dataclass(frozen=True, slots=True)
class Planned:
    """A plan, and the problem it answers; ``last`` is the plan before it, None if there was none.

    ``printed`` are the gatherings of the plan that lie printed.
    """

    problem: PlanProblem
    result: PlanResult
    plan: Plan
    printed: tuple[int, ...]
    last: Plan | None


@dataclass(frozen=True, slots=True)
class Answer:
    """What the planner answers for a story, before anything of it is kept.

    ``key`` is the identity of what it was made for, ``printed`` the gatherings that still lie
    printed, ``last`` the plan before it. ``is_kept`` where it is the plan that is kept already.
    """

    problem: PlanProblem
    result: PlanResult
    key: str
    printed: tuple[int, ...]
    last: Plan | None
    is_kept: bool = False

    def require(self) -> Planned:
        """Give the plan. Raises UserError where none is possible, saying why."""
        findings, plan = self.result.findings, self.result.plan
        if plan is None:
            raise UserError(
                "No plan is possible: " + " ".join(f.message for f in findings),
                remedy=" ".join(f.remedy for f in findings),
            )
        return Planned(self.problem, self.result, plan, self.printed, self.last)


@dataclass(frozen=True, slots=True)
class Marking:
    """Which gatherings lie ``printed``, wholly or in part.

    Those ``freed`` may change again, unless something of them still lies printed. ``ledgers`` are
    files that say so sheet by sheet, with what they are to hold: all change in the same moment.
    """

    printed: frozenset[int] = frozenset()
    freed: frozenset[int] = frozenset()
    ledgers: Mapping[Path, bytes | None] = field(default_factory=dict)


def keep_or_plan(
    folder: BookFolder,
    story: Story,
    book: Book,
    *,
    afresh: bool = False,
    memory: Memory | None = None,
) -> Planned:
    """Give the kept plan while all is as it was made for; else plan again, and keep that.

    A new plan starts from the kept one and pays for what it changes, unless ``afresh``; printed
    gatherings stay in any case. Raises UserError where no plan is possible.
    """
    while True:
        before = read_plan(folder.plan_file)
        answer = answer_story(folder, story, book, afresh=afresh, memory=memory)
        planned = answer.require()
        if answer.is_kept:
            return planned
        result = answer.result
        kept = KeptPlan(
            planned.plan, result.status, result.cost, result.bound, answer.key, answer.printed
        )
        with Journal(folder).change("the plan", Kind.NOTED) as draft:
            # Where another program kept a plan meanwhile, or marked what lies printed: once more.
            if read_plan(draft.plan_file) == before:
                write_plan(draft.plan_file, kept)
                return planned


def answer_story(
    folder: BookFolder,
    story: Story,
    book: Book,
    *,
    afresh: bool = False,
    memory: Memory | None = None,
    progress: Progress | None = None,
) -> Answer:
    """Plan a story as ``keep_or_plan`` does, and keep nothing.

    A plan that was kept for this very story before is taken again, printed gatherings allowing:
    who takes a change back has the plan back too.
    """
    memory = memory or Memory()
    about = Book("", paper=book.paper, binding=book.binding, planning=book.planning)
    key = memory.recall(_identify, story.blocks, about)
    kept = memory.keep(read_plan(folder.plan_file), "the kept plan")
    if kept is not None and kept.story_key == key and not afresh:
        taken = memory.recall(_take_kept, story, about, kept)
        if taken is not None:
            return Answer(taken.problem, taken.result, key, kept.printed, kept.plan, is_kept=True)
    last, printed = (kept.plan, kept.printed) if kept else (None, ())
    if kept is not None and not afresh:
        for earlier in find_kept(folder, key):
            again = _take_earlier(story, book, kept, earlier)
            if again is not None:
                return again
    problem = pose_problem(story, book, last, printed)
    if afresh:
        problem = replace(problem, last=None)
    result = solve(problem, progress)
    if result.plan is None:
        return Answer(problem, result, key, printed, last)
    lost = {problem.printed[index].number for index in list_reprinted(problem, result.plan)}
    stay = tuple(number for number in printed if number not in lost)
    return Answer(problem, result, key, stay, last)


def _identify(blocks: tuple[Block, ...], book: Book) -> str:
    """Give the identity of what a plan is made for."""
    return hash_values(blocks, book.paper, book.binding, book.planning, PRICES)


def keep_printed(folder: BookFolder, mark: Callable[[], Marking]) -> None:
    """Note which gatherings lie printed: no later plan touches them.

    ``mark`` is asked while no other program can change the book, so that none changes in between
    what it has read. Raises UserError where nothing is planned yet.
    """
    # What lies printed is no decision: to undo one does not take it back.
    about, beside = "which sheets lie printed", dict[Path, bytes | None]()
    with Journal(folder).change(about, Kind.NOTED, beside) as draft:
        kept = read_plan(draft.plan_file)
        if kept is None:
            raise UserError(
                "Nothing is planned yet, so nothing can be printed.",
                where=str(folder.root),
                remedy=f"Make the print files first: {Mend.MAKE}.",
            )
        marking = mark()
        beside |= marking.ledgers
        stay = tuple(sorted(marking.printed | (set(kept.printed) - marking.freed)))
        if stay != kept.printed:
            write_plan(draft.plan_file, replace(kept, printed=stay))


def _take_kept(story: Story, book: Book, kept: KeptPlan) -> Planned | None:
    """Reckon the kept plan anew as its own successor: changing nothing costs nothing.

    Gives None for a plan that breaks a rule: its file was changed by hand, or the rules were.
    """
    problem = pose_problem(story, book, kept.plan, kept.printed)
    result = _reckon(problem, kept)
    if result is None:
        return None
    return Planned(problem, result, kept.plan, kept.printed, kept.plan)


def _take_earlier(story: Story, book: Book, kept: KeptPlan, earlier: KeptPlan) -> Answer | None:
    """Take an earlier plan in place of the kept one; None where printed gatherings forbid it."""
    labels = {g.number: label_pages(earlier.plan, g) for g in earlier.plan.gatherings}
    for gathering in kept.plan.gatherings:
        there = labels.get(gathering.number) == label_pages(kept.plan, gathering)
        if gathering.number in kept.printed and not there:
            return None
    problem = pose_problem(story, book, earlier.plan, kept.printed)
    result = _reckon(problem, earlier)
    if result is None:
        return None
    return Answer(problem, result, earlier.story_key, kept.printed, kept.plan)


def _reckon(problem: PlanProblem, kept: KeptPlan) -> PlanResult | None:
    if blocks(verify_answer(problem, kept.plan)):
        return None
    cost, gap = recompute_cost(problem, kept.plan), kept.cost - kept.bound
    findings = judge_plan(problem, kept.plan, gap)
    return PlanResult(kept.status, kept.plan, cost, cost - gap, findings)
