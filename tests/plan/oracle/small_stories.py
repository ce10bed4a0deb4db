"""Small stories and problems of every kind, from a seed alone."""

from __future__ import annotations

import random
from dataclasses import dataclass, replace

from tests.plan.oracle.evaluate import Sheets
from wayfold.book.materials import Binding, Paper
from wayfold.plan.prices import PRICES, Prices
from wayfold.plan.problem import PlanProblem
from wayfold.story.model import Alternative, Block, BlockKind, Start, Story

KINDS = (
    BlockKind.HERO,
    BlockKind.HERO,
    BlockKind.GROUP,
    BlockKind.SINGLE,
    BlockKind.TEXT,
    BlockKind.OPENER,
    BlockKind.COLOPHON,
)
THIN = Paper(caliper_um=80)
"""So thin that only the binding's own limits count."""


@dataclass(frozen=True)
class Case:
    """A story with the paper and the prices to lay it with."""

    story: Story
    sheets: Sheets
    prices: Prices = PRICES

    def ask(self) -> PlanProblem:
        s = self.sheets
        binding = Binding(
            sheets_min=None if s.alone else s.least, sheets_max=s.most, sheets_preferred=s.preferred
        )
        return PlanProblem(self.story, THIN, binding, self.prices)


def make_case(seed: int, pages_most: int = 12, pages_least: int = 2, blocks_most: int = 7) -> Case:
    """Give a story of about that many pages, with its paper and prices."""
    chance = random.Random(seed)
    blocks: list[Block] = []
    room = chance.randint(pages_least, pages_most)
    day = 0
    while room > 0 and len(blocks) < blocks_most:
        kind = chance.choice(KINDS)
        if kind is BlockKind.COLOPHON and not blocks:
            continue
        ways = [make_way(chance, kind, room) for _ in range(chance.choice((1, 1, 2)))]
        day += chance.random() < 0.3
        blocks.append(
            Block(
                f"b{len(blocks)}",
                kind,
                tuple(ways),
                chapter=chance.choice((0, 0, 0, 1)),
                importance=chance.randint(0, 5),
                swap=chance.choice((None, f"day {day}", f"day {day}")),
            )
        )
        room -= min(way.pages for way in ways)
    alone = chance.random() < 0.3
    most = chance.choice((1, 2, 2, 3, 3, 4))
    least = min(2, most) if alone else chance.randint(1, most)
    sheets = Sheets(least, most, chance.randint(least, most), alone)
    return Case(Story((), tuple(blocks)), sheets, chance.choice((PRICES, make_prices(chance))))


def make_way(chance: random.Random, kind: BlockKind, room: int) -> Alternative:
    """Give an alternative that paper can hold."""
    pages = chance.choice((1, 1, 2, 2, 3, 4))
    spreads: tuple[int, ...] = ()
    start = chance.choice((Start.ANY, Start.ANY, Start.ANY, Start.VERSO, Start.RECTO))
    if kind is BlockKind.HERO or (kind is BlockKind.GROUP and chance.random() < 0.4):
        pages, at = chance.choice(((2, 0), (2, 0), (3, 0), (3, 1), (4, 0), (4, 1), (4, 2)))
        spreads = (at, at + 2) if at + 3 < pages and chance.random() < 0.5 else (at,)
        side = Start.RECTO if at % 2 else Start.VERSO
        start = chance.choice((Start.ANY, side))
    elif kind is BlockKind.OPENER:
        start = Start.RECTO
    crossed = {page for at in spreads for page in (at, at + 1)}
    free = [page for page in range(pages) if page not in crossed]
    wanted = chance.choice((0.0, 0.3, 0.6))
    bearing = chance.choice((0.0, 0.4, 0.8))
    return Alternative(
        pages,
        chance.choice((0, 0, 4, 9, 25)),
        start,
        spreads,
        tuple(page for page in free if chance.random() < wanted),
        tuple(page for page in range(pages) if chance.random() < bearing),
    )


def make_prices(chance: random.Random) -> Prices:
    """Give prices of another maker, so that no order of size can be taken for granted."""

    def some(*values: int) -> int:
        return chance.choice(values)

    return replace(
        PRICES,
        spread_between=some(0, 60, 1000),
        hero_inner=some(0, 3, 20, 100),
        spread_inner=some(0, 2, 30),
        tip_in=some(0, 10, 40, 90),
        stub_across=some(0, 12, 45),
        interleaf_stub=some(0, 5, 20),
        interleaf_plain=some(0, 15, 30),
        interleaf_double=some(0, 8, 60),
        interleaf_echo=some(0, 6, 25),
        blank_quiet=some(1, 10, 120),
        blank_before_verso=some(0, 20, 60),
        blank_before_recto=some(0, 8),
        blank_before_colophon=some(0, 6),
        blank_at_end=some(0, 5, 20),
        blank_too_many=some(0, 25),
        swap=some(0, 3, 12),
        size_off=some(0, 5),
        size_unlike=some(0, 3, 30),
        sheet=some(0, 3, 15),
    )
