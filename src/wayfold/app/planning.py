"""The book's plan: kept while it holds, else made anew with as little change as can be."""

from __future__ import annotations

from dataclasses import dataclass, replace

from wayfold.base.errors import UserError
from wayfold.base.findings import blocks
from wayfold.base.hashing import hash_values
from wayfold.book.state import Book
from wayfold.plan.model import Plan, PlanResult
from wayfold.plan.planner import judge_plan, solve
from wayfold.plan.pose import pose_problem
from wayfold.plan.prices import PRICES
from wayfold.plan.problem import PlanProblem
from wayfold.plan.reckon import list_reprinted, recompute_cost
from wayfold.plan.verify import verify_answer
from wayfold.project.files import BookFolder
from wayfold.project.journal import Journal, Kind
from wayfold.project.plan_file import KeptPlan, read_plan, write_plan
from wayfold.story.model import Story


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


def keep_or_plan(folder: BookFolder, story: Story, book: Book, *, afresh: bool = False) -> Planned:
    """Give the kept plan while all is as it was made for; else plan again, and keep that.

    A new plan starts from the kept one and pays for what it changes, unless ``afresh``; printed
    gatherings stay in any case. Raises UserError where no plan is possible.
    """
    key = hash_values(story.blocks, book.paper, book.binding, book.planning, PRICES)
    kept = read_plan(folder.plan_file)
    if kept is not None and kept.story_key == key and not afresh:
        taken = _take_kept(story, book, kept)
        if taken is not None:
            return taken
    last, printed = (kept.plan, kept.printed) if kept else (None, ())
    problem = pose_problem(story, book, last, printed)
    if afresh:
        problem = replace(problem, last=None)
    result = solve(problem)
    if result.plan is None:
        raise UserError(
            "No plan is possible: " + " ".join(f.message for f in result.findings),
            remedy=" ".join(f.remedy for f in result.findings),
        )
    lost = {problem.printed[index].number for index in list_reprinted(problem, result.plan)}
    stay = tuple(number for number in printed if number not in lost)
    with Journal(folder).change("the plan", Kind.NOTED):
        write_plan(
            folder.plan_file,
            KeptPlan(result.plan, result.status, result.cost, result.bound, key, stay),
        )
    return Planned(problem, result, result.plan, stay, last)


def keep_printed(folder: BookFolder, printed: frozenset[int], freed: frozenset[int]) -> None:
    """Note which gatherings lie ``printed``, wholly or in part: no later plan touches them.

    Those ``freed`` may change again, unless something of them still lies printed.

    Raises UserError where nothing is planned yet.
    """
    kept = read_plan(folder.plan_file)
    if kept is None:
        raise UserError(
            "Nothing is planned yet, so nothing can be printed.",
            where=str(folder.root),
            remedy=f"Make the print files first: wayfold make {folder.root}",
        )
    write_plan(
        folder.plan_file,
        replace(kept, printed=tuple(sorted(printed | (set(kept.printed) - freed)))),
    )


def _take_kept(story: Story, book: Book, kept: KeptPlan) -> Planned | None:
    """Reckon the kept plan anew as its own successor: changing nothing costs nothing.

    Gives None for a plan that breaks a rule: its file was changed by hand, or the rules were.
    """
    problem = pose_problem(story, book, kept.plan, kept.printed)
    if blocks(verify_answer(problem, kept.plan)):
        return None
    cost, gap = recompute_cost(problem, kept.plan), kept.cost - kept.bound
    findings = judge_plan(problem, kept.plan, gap)
    result = PlanResult(kept.status, kept.plan, cost, cost - gap, findings)
    return Planned(problem, result, kept.plan, kept.printed, kept.plan)
