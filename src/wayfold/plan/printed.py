"""What is printed, and what was planned before: gatherings worth keeping, and why one could not."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wayfold.base.findings import Finding, Severity
from wayfold.plan.demands import may_swap
from wayfold.plan.leaves import Kept
from wayfold.plan.model import Plan
from wayfold.plan.problem import (
    PageLabel,
    PinPage,
    PinPlace,
    PinWay,
    PlanProblem,
    Printed,
    list_unprinted,
)
from wayfold.plan.reckon import list_reprinted
from wayfold.story.model import Story


def list_kept(problem: PlanProblem) -> tuple[Kept, ...]:
    """Give the printed gatherings, and those of the last plan that should stay as they are."""
    prices = problem.prices
    printed = [
        Kept(p.sheets, _pair(p.labels), prices.reprint, p.number, (p.first_page - 1) // 2)
        for p in problem.printed
    ]
    planned = [
        Kept(sheets, _pair(labels), prices.gathering_changed)
        for sheets, labels in list_unprinted(problem)
        if prices.gathering_changed
    ]
    return (*printed, *planned)


def judge_printed(problem: PlanProblem) -> Iterator[Finding]:
    """Name what is said of printed gatherings that cannot be true of any book."""
    numbers = [p.number for p in problem.printed]
    for p in problem.printed:
        where = f"gathering {p.number}"
        if p.number < 1 or p.sheets < 1 or p.first_page < 1 or p.first_page % 4 != 1:
            yield _untrue(where, f"it cannot begin on page {p.first_page} with {p.sheets} sheets")
        elif len(p.labels) != 4 * p.sheets:
            yield _untrue(where, f"it has {len(p.labels)} pages on {p.sheets} sheets")
        elif numbers.count(p.number) > 1:
            yield _untrue(where, "it is named twice")


def explain_reprints(problem: PlanProblem, plan: Plan) -> Iterator[Finding]:
    """Say which printed gatherings must be printed again, and why."""
    for index in list_reprinted(problem, plan):
        printed = problem.printed[index]
        yield Finding(
            "printed-again",
            Severity.WARN,
            f"gathering {printed.number}",
            f"It was printed (pages {printed.first_page}-"
            f"{printed.first_page + 4 * printed.sheets - 1}) and must be printed again: "
            f"{_find_reason(problem, printed)}",
            "Undo the last edit to keep the printed sheets.",
        )


def _find_reason(problem: PlanProblem, printed: Printed) -> str:
    labels = [label for label in printed.labels if label is not None]
    reason = _find_missing(problem.story, labels) or _find_newcomer(problem.story, labels)
    return (
        reason
        or _find_pin(problem, printed)
        or (
            f"what comes before it no longer fills {printed.first_page - 1} pages in "
            f"{printed.number - 1} gatherings, or what comes after it begins elsewhere."
        )
    )


def _find_missing(story: Story, labels: Sequence[PageLabel]) -> str | None:
    blocks = {block.id: block for block in story.blocks}
    for label in labels:
        block = blocks.get(label.block)
        if block is None:
            return f"{label.block} is no longer in the story."
        if label.way >= len(block.alternatives):
            return f"{label.block} can no longer be laid that way."
        if label.part >= block.alternatives[label.way].pages:
            return f"{label.block} now takes fewer pages."
    return None


def _find_newcomer(story: Story, labels: Sequence[PageLabel]) -> str | None:
    printed = {label.block for label in labels}
    told = [at for at, block in enumerate(story.blocks) if block.id in printed]
    for at in range(told[0], told[-1] + 1) if told else ():
        block = story.blocks[at]
        if block.id in printed:
            continue
        # A block told in exchange with the first or the last one may lie outside.
        if not any(may_swap(*story.blocks[i : i + 2]) for i in (at - 1, at) if i >= 0):
            return f"{block.id} now comes between its pages."
    return None


def _find_pin(problem: PlanProblem, printed: Printed) -> str | None:
    for at, label in enumerate(printed.labels):
        for pin in problem.pins if label is not None else ():
            assert label is not None
            if pin.block != label.block or isinstance(pin, PinPlace):
                continue
            if isinstance(pin, PinWay) and pin.way != label.way:
                return f"{label.block} is pinned to another way."
            first = printed.first_page + at - label.part
            if isinstance(pin, PinPage) and pin.page != first:
                return f"{label.block} is pinned to page {pin.page}."
    return None


def _pair(
    labels: Sequence[PageLabel | None],
) -> tuple[tuple[PageLabel | None, PageLabel | None], ...]:
    return tuple(zip(labels[::2], labels[1::2], strict=True))


def _untrue(where: str, what: str) -> Finding:
    return Finding(
        "plan-printed",
        Severity.BLOCK,
        where,
        f"What is noted of it as printed is not true of any book: {what}.",
        "Take it off the list of what is printed, and note it again from the sheets.",
    )
