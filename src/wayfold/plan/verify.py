"""Checks any plan against the rules of paper and story, knowing nothing of how it was made.

Broken rules are findings of severity BLOCK; a picture split between gatherings keeps the rules
and is a WARN.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.plan.gatherings import allow_sheets
from wayfold.plan.model import Plan
from wayfold.plan.problem import Pin, PinCentre, PinPage, PinPlace, PinWay, PlanProblem
from wayfold.plan.reckon import list_reprinted, recompute_cost
from wayfold.plan.verify_interleaves import check_interleaves
from wayfold.story.model import Alternative, Block, BlockKind, Start, Story

BLANKS_BEFORE_COLOPHON = 3
BLANKS_BEFORE = (BlockKind.COLOPHON, BlockKind.SINGLE, BlockKind.GROUP, BlockKind.HERO)
"""Blocks that may have white before them though they could begin on either side."""

__all__ = ["recompute_cost", "verify_answer", "verify_plan"]


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
    if findings:
        return findings
    for block in story.blocks:
        index = choices.get(block.id)
        if index is None or not 0 <= index < len(block.alternatives):
            findings += (_broken(f"block {block.id}", "No alternative of it is chosen."),)
        else:
            findings += tuple(_check_block(block, block.alternatives[index], plan))
    findings += tuple(_check_blanks(story, plan))
    if any(f.severity is Severity.BLOCK for f in findings):
        return findings
    return findings + tuple(check_interleaves(story, plan))


def verify_answer(problem: PlanProblem, plan: Plan) -> tuple[Finding, ...]:
    """Give a finding for every rule of the problem that the plan breaks, its pins included."""
    allowed, _ = allow_sheets(problem.paper, problem.binding)
    sizes = set(allowed.sizes_for(len(plan.gatherings))) if allowed is not None else set()
    kept = set(range(len(problem.printed))) - set(list_reprinted(problem, plan))
    sizes |= {problem.printed[index].sheets for index in kept}
    findings = verify_plan(problem.story, plan, sizes)
    if any(f.severity is Severity.BLOCK for f in findings):
        return findings
    return findings + tuple(
        _broken(f"block {pin.block}", "It does not keep to its pin.")
        for pin in problem.pins
        if not _is_met(pin, plan, problem)
    )


def _is_met(pin: Pin, plan: Plan, problem: PlanProblem) -> bool:
    way = dict(plan.choices)[pin.block]
    match pin:
        case PinPage(block, page):
            return plan.first_page_of(block) == page
        case PinWay(_, wanted):
            return way == wanted
        case PinCentre(block):
            spreads = problem.story.block(block).alternatives[way].spreads
            verso = plan.first_page_of(block) + min(spreads, default=0)
            return bool(spreads) and any(g.centre[0] == verso for g in plan.gatherings)
        case PinPlace(block):
            last = problem.last
            return last is not None and (last.first_page_of(block), dict(last.choices)[block]) == (
                plan.first_page_of(block),
                way,
            )


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
    """Blocks come in the story's order, save for exchanged neighbours."""
    met = list(dict.fromkeys(p.block for p in plan.pages if p.block is not None))
    if sorted(met) != sorted(block.id for block in story.blocks):
        yield _broken("plan", "The blocks are not those of the story in its order.")
        return
    at = 0
    while at < len(met):
        block = story.blocks[at]
        if met[at] == block.id:
            at += 1
            continue
        pair = story.blocks[at : at + 2]
        turned = [b.id for b in reversed(pair)]
        if met[at : at + 2] != turned or not _may_turn(*pair):
            yield _broken(f"block {met[at]}", "The blocks are not those of the story in its order.")
            return
        at += 2


def _may_turn(block: Block, following: Block) -> bool:
    same = (block.swap, block.chapter) == (following.swap, following.chapter)
    return block.swap is not None and same


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
    blocks = {block.id: block for block in story.blocks}
    sides = {b.id: _needed_side(b.alternatives[i]) for b, i in _taken(story, plan)}
    run: list[int] = []
    for page in plan.pages:
        if page.block is None:
            run.append(page.number)
            continue
        block = blocks.get(page.block)
        if run and block is not None:
            most = BLANKS_BEFORE_COLOPHON if block.kind is BlockKind.COLOPHON else 1
            expected = block.kind in BLANKS_BEFORE or sides.get(block.id) is not Start.ANY
            if len(run) > most:
                message = f"{len(run)} blank pages follow each other inside the book."
                yield _broken(f"page {run[0]}", message)
            elif page.part or not expected:
                yield _broken(f"page {run[0]}", "A blank page lies where no reader expects one.")
        run = []
    if plan.gatherings and len(run) >= 4 * plan.gatherings[-1].sheets:
        yield _broken("plan", "The last gathering has nothing on its pages.")


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
