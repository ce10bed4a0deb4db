"""What must hold between two plans, whatever the story.

Source: logic. More freedom never costs more; an order that means nothing changes nothing.
"""

import hashlib
import os
import random
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

import pytest

from tests.plan.oracle.binding_cases import bind
from tests.plan.oracle.how_many import choose_seeds
from tests.plan.oracle.small_stories import Case, make_case, make_way
from wayfold.plan.planner import solve
from wayfold.plan.problem import PlanProblem
from wayfold.story.model import Alternative, Block, BlockKind, Start

SEEDS = choose_seeds(40, 20)
T = TypeVar("T")
MAY_HAVE_WHITE_BEFORE = (BlockKind.SINGLE, BlockKind.GROUP, BlockKind.HERO, BlockKind.COLOPHON)
"""Blocks that may have a white page before them on either side. A text or an opener may only have
one where its side asks for it, so that taking the side away takes the white page away too."""
WHITES_ALIKE = {
    "blank_quiet": 0,
    "blank_before_recto": 0,
    "blank_before_verso": 0,
    "blank_before_colophon": 0,
}
"""A white page that no parity asks for is dearer than one it asks for: with that difference, taking
the side away would make the same pages dearer."""


def cost(problem: PlanProblem) -> int:
    """Give a cost above all others where there is no plan."""
    result = solve(problem)
    return 10**9 if result.plan is None else result.cost


def change(case: Case, at: int, block: Block) -> Case:
    blocks = case.story.blocks
    return replace(case, story=replace(case.story, blocks=(*blocks[:at], block, *blocks[at + 1 :])))


def medium(seed: int) -> Case:
    return make_case(seed, pages_most=40, pages_least=8, blocks_most=20)


@pytest.mark.parametrize("seeds", SEEDS, ids=lambda seeds: f"{seeds[0]}+")
def test_more_sizes_of_gatherings_never_cost_more(seeds: range) -> None:
    for seed in seeds:
        case = medium(seed)
        # With its least left open, a range of 1 to 1 would become one of 2 to 2.
        case = replace(case, sheets=replace(case.sheets, alone=False))
        wider = replace(case, sheets=replace(case.sheets, most=case.sheets.most + 1))
        assert cost(wider.ask()) <= cost(case.ask()), f"seed {seed}"


@pytest.mark.parametrize("seeds", SEEDS, ids=lambda seeds: f"{seeds[0]}+")
def test_either_side_never_costs_more_than_a_recto(seeds: range) -> None:
    for seed in seeds:
        case = medium(seed)
        case = replace(case, prices=replace(case.prices, **WHITES_ALIKE))
        for at, block in enumerate(case.story.blocks):
            if block.kind not in MAY_HAVE_WHITE_BEFORE:
                continue
            free = tuple(replace(a, start=Start.ANY) for a in block.alternatives)
            looser = change(case, at, replace(block, alternatives=free))
            assert cost(looser.ask()) <= cost(case.ask()), f"seed {seed}"


@pytest.mark.parametrize("seeds", SEEDS, ids=lambda seeds: f"{seeds[0]}+")
def test_one_more_alternative_never_costs_more(seeds: range) -> None:
    for seed in seeds:
        case, chance = medium(seed), random.Random(seed)
        at = chance.randrange(len(case.story.blocks))
        block = case.story.blocks[at]
        more = (*block.alternatives, make_way(chance, block.kind, 3))
        assert cost(change(case, at, replace(block, alternatives=more)).ask()) <= cost(case.ask())


@pytest.mark.parametrize("seeds", SEEDS, ids=lambda seeds: f"{seeds[0]}+")
def test_one_more_swap_never_costs_more(seeds: range) -> None:
    for seed in seeds:
        case = medium(seed)
        blocks = case.story.blocks
        one_day = tuple(replace(b, swap="the same day", chapter=0) for b in blocks)
        looser = replace(case, story=replace(case.story, blocks=one_day))
        strict = tuple(replace(b, swap=None) for b in blocks)
        stricter = replace(case, story=replace(case.story, blocks=strict))
        assert cost(looser.ask()) <= cost(case.ask()) <= cost(stricter.ask()), f"seed {seed}"


@pytest.mark.parametrize("seeds", SEEDS, ids=lambda seeds: f"{seeds[0]}+")
def test_letting_go_of_pins_never_costs_more(seeds: range) -> None:
    for seed in seeds:
        _, problem = bind(seed)
        for pin in problem.pins:
            freer = replace(problem, pins=tuple(p for p in problem.pins if p is not pin))
            assert cost(freer) <= cost(problem), f"seed {seed}"


@pytest.mark.parametrize("seeds", SEEDS, ids=lambda seeds: f"{seeds[0]}+")
def test_an_order_that_means_nothing_changes_nothing(seeds: range) -> None:
    for seed in seeds:
        case, chance = medium(seed), random.Random(seed)
        blocks = tuple(
            replace(
                block,
                alternatives=tuple(shuffle_pages(chance, way) for way in block.alternatives),
                swap=block.swap and f"{block.swap} by another name",
            )
            for block in case.story.blocks
        )
        shuffled = replace(case, story=replace(case.story, blocks=blocks))
        assert solve(shuffled.ask()) == solve(case.ask()), f"seed {seed}"
        _, problem = bind(seed)
        pins, printed = shuffle(chance, problem.pins), shuffle(chance, problem.printed)
        turned = replace(problem, pins=pins, printed=printed)
        assert solve(turned).plan == solve(problem).plan, f"seed {seed}"


@pytest.mark.parametrize("seeds", SEEDS, ids=lambda seeds: f"{seeds[0]}+")
def test_the_order_of_alternatives_never_changes_the_cost(seeds: range) -> None:
    for seed in seeds:
        case, chance = medium(seed), random.Random(seed)
        blocks = tuple(
            replace(block, alternatives=shuffle(chance, block.alternatives))
            for block in case.story.blocks
        )
        shuffled = replace(case, story=replace(case.story, blocks=blocks))
        assert cost(shuffled.ask()) == cost(case.ask()), f"seed {seed}"


def shuffle(chance: random.Random, items: tuple[T, ...]) -> tuple[T, ...]:
    return tuple(chance.sample(items, len(items)))


def shuffle_pages(chance: random.Random, way: Alternative) -> Alternative:
    return replace(
        way,
        spreads=shuffle(chance, way.spreads),
        interleaves=shuffle(chance, way.interleaves),
        bears=shuffle(chance, way.bears),
    )


@pytest.mark.parametrize("seeds", SEEDS, ids=lambda seeds: f"{seeds[0]}+")
def test_an_alternative_that_cannot_be_changes_nothing(seeds: range) -> None:
    nowhere = (
        Alternative(2, -50, spreads=(1,)),  # runs off its last page
        Alternative(5, -50, spreads=(0, 3)),  # a left page and a right page at once
        Alternative(3, -50, Start.RECTO, spreads=(0,)),
        Alternative(1, 10**6),  # can be, but nobody would
    )
    for seed in seeds:
        case, chance = medium(seed), random.Random(seed)
        at = chance.randrange(len(case.story.blocks))
        block = case.story.blocks[at]
        more = (*block.alternatives, chance.choice(nowhere))
        assert cost(change(case, at, replace(block, alternatives=more)).ask()) == cost(case.ask())


@pytest.mark.parametrize("hash_seed", ["0", "1"])
def test_the_same_question_gets_the_same_plan_in_any_process(hash_seed: str) -> None:
    # Sets and dictionaries of strings are walked in another order with another hash seed.
    told = subprocess.run(
        [sys.executable, "-c", "from tests.plan.oracle.test_loosening import tell; print(tell())"],
        env={**os.environ, "PYTHONHASHSEED": hash_seed},
        cwd=Path(__file__).parents[3],
        capture_output=True,
        text=True,
        check=True,
    )
    assert told.stdout.strip() == tell()


def tell() -> str:
    """Give a digest of the plans of some stories and bound problems."""
    problems = [*(medium(seed).ask() for seed in range(20)), *(bind(seed)[1] for seed in range(40))]
    return hashlib.sha256(repr([solve(p) for p in problems]).encode()).hexdigest()
