"""Problems that bind the planner's hands: pins, a last plan, printed gatherings."""

from __future__ import annotations

import random
from dataclasses import replace

from tests.plan.oracle.evaluate import Draft, Page, number_sheets
from tests.plan.oracle.small_stories import Case, make_case, make_way
from wayfold.plan.model import Plan
from wayfold.plan.planner import solve
from wayfold.plan.problem import (
    Pin,
    PinCentre,
    PinPage,
    PinPlace,
    PinWay,
    PlanProblem,
    Printed,
    mark_printed,
)
from wayfold.story.model import Block

Label = tuple[str, int, int] | None
"""What a page shows: block, its page of it, and the index of the alternative."""


def bind(seed: int, pages_most: int = 10) -> tuple[Case, PlanProblem]:
    """Give a problem whose story was edited since its last plan, some of it pinned or printed."""
    chance = random.Random(seed)
    before = make_case(seed, pages_most)
    last = solve(before.ask()).plan
    assert last is not None
    case = replace(before, story=replace(before.story, blocks=edit(chance, before.story.blocks)))
    printed: tuple[Printed, ...] = ()
    if chance.random() < 0.5:
        numbers = range(1, chance.randint(1, len(last.gatherings)) + 1)
        printed = tuple(mark_printed(last, n) for n in numbers)
    pins = tuple(pin for b in case.story.blocks if (pin := choose_pin(chance, b)) is not None)
    # A pin of what lies printed may only say what is printed: that is tested elsewhere.
    if printed:
        pins = ()
    return case, replace(case.ask(), pins=pins, printed=printed, last=last)


def edit(chance: random.Random, blocks: tuple[Block, ...]) -> tuple[Block, ...]:
    """Give one block another way to lay it out, or leave all as it is."""
    at = chance.randrange(len(blocks))
    block = blocks[at]
    ways = list(block.alternatives)
    if chance.random() < 0.8:
        ways[chance.randrange(len(ways))] = make_way(chance, block.kind, 4)
    return (*blocks[:at], replace(block, alternatives=tuple(ways)), *blocks[at + 1 :])


def choose_pin(chance: random.Random, block: Block) -> Pin | None:
    if chance.random() > 0.25:
        return None
    way = chance.randrange(len(block.alternatives))
    pins: list[Pin] = [PinPage(block.id, chance.randint(1, 10)), PinWay(block.id, way)]
    if block.alternatives[way].spreads:
        pins += [PinCentre(block.id)] * 2
    return chance.choice([*pins, PinPlace(block.id)])


def keeps_pins(problem: PlanProblem, draft: Draft, pages: list[Page | None]) -> bool:
    return all(_keeps(problem, pin, draft, pages) for pin in problem.pins)


def _keeps(problem: PlanProblem, pin: Pin, draft: Draft, pages: list[Page | None]) -> bool:
    begins = next(
        n
        for n, p in enumerate(pages, 1)
        if p is not None and p.block.id == pin.block and not p.part
    )
    ways = {problem.story.blocks[i].id: way for i, way, _ in draft.told}
    match pin:
        case PinPage(_, page):
            return begins == page
        case PinWay(_, way):
            return ways[pin.block] == way
        case PinPlace(_):
            assert problem.last is not None
            then = problem.last.first_page_of(pin.block), dict(problem.last.choices)[pin.block]
            return then == (begins, ways[pin.block])
        case PinCentre(_):
            spreads = problem.story.block(pin.block).alternatives[ways[pin.block]].spreads
            if not spreads:
                return False
            left = begins - 1 + min(spreads)
            sheet_of_page = number_sheets(draft.sizes)
            return sheet_of_page[left] == sheet_of_page[left + 1]


Sheaf = tuple[int, int, list[Label]]
"""A gathering: its sheets, its first page, what its pages show."""


def find_kept(problem: PlanProblem, draft: Draft, pages: list[Page | None]) -> frozenset[int]:
    """Give the gatherings (from 0) of the draft that lie printed just so."""
    here = list_sheaves(problem, draft, pages)
    return frozenset(
        sheaf.number - 1
        for sheaf in problem.printed
        if sheaf.number <= len(here)
        and here[sheaf.number - 1] == (sheaf.sheets, sheaf.first_page, _list_labels(sheaf))
    )


def list_sheaves(problem: PlanProblem, draft: Draft, pages: list[Page | None]) -> list[Sheaf]:
    ways = {problem.story.blocks[i].id: way for i, way, _ in draft.told}
    here: list[Sheaf] = []
    first = 1
    for size in draft.sizes:
        shown = pages[first - 1 : first - 1 + 4 * size]
        here.append((size, first, [_label(page, ways) for page in shown]))
        first += 4 * size
    return here


def price_changes(problem: PlanProblem, draft: Draft, pages: list[Page | None]) -> int:
    """Price what a maker has to print again, and what was looked at and is gone."""
    here = list_sheaves(problem, draft, pages)
    again = len(problem.printed) - len(find_kept(problem, draft, pages))
    printed = [_list_labels(sheaf) for sheaf in problem.printed]
    gone = sum(
        labels not in printed and (size, labels) not in [(s, shown) for s, _, shown in here]
        for size, labels in _list_last(problem.last)
    )
    return problem.prices.reprint * again + problem.prices.gathering_changed * gone


def _list_labels(sheaf: Printed) -> list[Label]:
    return [None if la is None else (la.block, la.part, la.way) for la in sheaf.labels]


def _label(page: Page | None, index: dict[str, int]) -> Label:
    return None if page is None else (page.block.id, page.part, index[page.block.id])


def _list_last(last: Plan | None) -> list[tuple[int, list[Label]]]:
    if last is None:
        return []
    ways = dict(last.choices)
    return [
        (
            g.sheets,
            [
                None if p.block is None else (p.block, p.part, ways[p.block])
                for p in last.pages[g.first_page - 1 : g.first_page - 1 + 4 * g.sheets]
            ],
        )
        for g in last.gatherings
    ]
