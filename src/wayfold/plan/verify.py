"""Checks any plan against the rules of paper and story, knowing nothing of how it was made.

Broken rules are findings of severity BLOCK; a picture split between gatherings keeps the rules
and is a WARN.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.plan.model import Plan
from wayfold.plan.reckon import recompute_cost
from wayfold.story.model import Alternative, Block, BlockKind, Start, Story

__all__ = ["recompute_cost", "verify_plan"]


def verify_plan(
    story: Story, plan: Plan, sheets: Collection[int] | None = None
) -> tuple[Finding, ...]:
    """Give a finding for every rule the plan breaks; ``sheets`` are the allowed gathering sizes.

    Story-bound rules are judged only once pages and gatherings themselves are sound.
    """
    findings = (*_check_numbers(plan), *_check_gatherings(plan, sheets))
    if findings:
        return findings
    choices = dict(plan.choices)
    findings += tuple(_check_order(story, plan))
    for block in story.blocks:
        index = choices.get(block.id)
        if index is None or not 0 <= index < len(block.alternatives):
            findings += (_broken(f"block {block.id}", "No alternative of it is chosen."),)
        else:
            findings += tuple(_check_block(block, block.alternatives[index], plan))
    return findings + tuple(_check_blanks(story, plan))


def _check_numbers(plan: Plan) -> Iterator[Finding]:
    if not plan.pages:
        yield _broken("plan", "It has no pages.")
    for expected, page in enumerate(plan.pages, start=1):
        if page.number != expected:
            yield _broken(f"page {page.number}", f"Page {expected} should stand here.")
            return


def _check_gatherings(plan: Plan, sheets: Collection[int] | None) -> Iterator[Finding]:
    next_page = 1
    for expected, gathering in enumerate(plan.gatherings, start=1):
        where = f"gathering {gathering.number}"
        if gathering.number != expected:
            yield _broken(where, f"Gathering {expected} should stand here.")
        if gathering.first_page != next_page:
            yield _broken(where, f"It should begin on page {next_page}.")
        if gathering.sheets < 1 or (sheets is not None and gathering.sheets not in sheets):
            yield _broken(where, f"{gathering.sheets} sheets are not allowed.")
        next_page += 4 * gathering.sheets
    if next_page - 1 != len(plan.pages):
        yield _broken(
            "plan", f"The gatherings have {next_page - 1} pages, the book {len(plan.pages)}."
        )


def _check_order(story: Story, plan: Plan) -> Iterator[Finding]:
    wanted = [block.id for block in story.blocks]
    met = list(dict.fromkeys(p.block for p in plan.pages if p.block is not None))
    if met != wanted:
        yield _broken("plan", "The blocks are not those of the story in its order.")


def _check_block(block: Block, taken: Alternative, plan: Plan) -> Iterator[Finding]:
    where = f"block {block.id}"
    pages = [p for p in plan.pages if p.block == block.id]
    if [p.part for p in pages] != list(range(taken.pages)):
        yield _broken(where, f"Its {taken.pages} pages are not all there once and in order.")
        return
    if pages[-1].number - pages[0].number != taken.pages - 1:
        yield _broken(where, "Other pages lie between its pages.")
    first_is_recto = pages[0].number % 2 == 1
    if taken.start is not Start.ANY and first_is_recto != (taken.start is Start.RECTO):
        yield _broken(where, f"It should begin on a {taken.start}.")
    for at in taken.spreads:
        page = pages[at].number
        if page % 2 == 1 or at + 1 >= taken.pages:
            yield _broken(where, f"The picture across two pages begins on page {page}, a recto.")
        elif any(g.last_page == page for g in plan.gatherings):
            yield Finding(
                "spread-between-gatherings",
                Severity.WARN,
                f"pages {page}-{page + 1}",
                "A picture crosses from one gathering to the next, where its halves can part.",
                "Move the picture, or let another block before it take a page more or less.",
            )


def _check_blanks(story: Story, plan: Plan) -> Iterator[Finding]:
    kinds = {block.id: block.kind for block in story.blocks}
    sides = {b.id: _needed_side(b.alternatives[i]) for b, i in _taken(story, plan)}
    run: list[int] = []
    for page in plan.pages:
        if page.block is None:
            run.append(page.number)
            continue
        if run and kinds.get(page.block) is not BlockKind.COLOPHON:
            where = f"page {run[0]}"
            if len(run) > 1:
                yield _broken(where, f"{len(run)} blank pages follow each other inside the book.")
            elif page.part or sides.get(page.block, Start.ANY) is Start.ANY:
                yield _broken(where, "A blank page lies where no reader expects one.")
        run = []


def _taken(story: Story, plan: Plan) -> Iterator[tuple[Block, int]]:
    choices = dict(plan.choices)
    for block in story.blocks:
        index = choices.get(block.id)
        if index is not None and 0 <= index < len(block.alternatives):
            yield block, index


def _needed_side(taken: Alternative) -> Start:
    if taken.start is not Start.ANY or not taken.spreads:
        return taken.start
    return Start.VERSO if taken.spreads[0] % 2 == 0 else Start.RECTO


def _broken(where: str, message: str) -> Finding:
    return Finding("plan-rule", Severity.BLOCK, where, message, "Plan the book again.")
