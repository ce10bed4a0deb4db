"""Stories of travel books to plan, from a seed alone: the same story on every machine.

Five lengths, each sparse and dense in pictures across two pages and in translucent leaves:

    pages   heroes  interleaves  chapters     dense: heroes  interleaves
    40      4       3            3                   6       8
    96      7       6            4                   10      14
    120     8       8            6                   14      16
    200     12      12           8                   20      20
    400     20      20           12                  20      40

A book is a half title and a title (rectos), a page of contents, the chapters, and a colophon. A
chapter opens on a recto, tells itself in a text of one to three pages that may run a page longer,
and goes on in days: two to five singles and groups each, of which three groups in four could
take a page more or less, at a cost. Neighbours of one day may change places. Heroes (importance
one to five) are dealt out over the days, never two to one day while others have none. Interleaves
are asked for over openers for one half, as far as there are openers, and over singles. A caption
leaf is tolerated beside every page of text, three groups in five and three singles in ten.
Pages are those at preferred lengths; white pages come on top, and chance adds or takes a few.
"""

from __future__ import annotations

import itertools
import random
from dataclasses import dataclass, replace

from wayfold.book.materials import Binding, Paper
from wayfold.plan.problem import PlanProblem
from wayfold.story.model import Alternative, Block, BlockKind, Start, Story

PAPER = Paper(caliper_um=120.0)
BINDING = Binding(sheets_min=2, sheets_max=5, sheets_preferred=4)


@dataclass(frozen=True, slots=True)
class Kind:
    """A row of the table: how long a book, and how much of it is hard to place."""

    pages: int
    heroes: int
    interleaves: int
    chapters: int
    dense: bool = False

    @property
    def name(self) -> str:
        return f"{self.pages}{' dense' if self.dense else ''}"


SPARSE = (
    Kind(40, 4, 3, 3),
    Kind(96, 7, 6, 4),
    Kind(120, 8, 8, 6),
    Kind(200, 12, 12, 8),
    Kind(400, 20, 20, 12),
)
DENSE = (
    Kind(40, 6, 8, 3, dense=True),
    Kind(96, 10, 14, 4, dense=True),
    Kind(120, 14, 16, 6, dense=True),
    Kind(200, 20, 20, 8, dense=True),
    Kind(400, 20, 40, 12, dense=True),
)
SEEDS = range(10)
GROUP_LENGTHS = (
    ((1, 0), (2, 8)),
    ((2, 0), (1, 10)),
    ((2, 0), (1, 10), (3, 12)),
    ((1, 0),),
)
"""Pages and cost of the ways a group could be laid out, the preferred first."""


def make_problem(kind: Kind, seed: int) -> PlanProblem:
    """Give the story of that kind and seed on paper for gatherings of two to five sheets."""
    return PlanProblem(make_story(kind, seed), PAPER, BINDING)


def make_story(kind: Kind, seed: int) -> Story:
    chance = random.Random(f"{kind.pages} {kind.dense} {seed}")
    days = _deal_days(chance, kind)
    blocks = [
        Block("half-title", BlockKind.HALF_TITLE, (Alternative(1, start=Start.RECTO),)),
        Block("title", BlockKind.TITLE, (Alternative(1, start=Start.RECTO),)),
        Block("contents", BlockKind.CONTENTS, (Alternative(1),)),
    ]
    for chapter, told in enumerate(days):
        opener = Alternative(1, start=Start.RECTO)
        blocks.append(Block(f"opener {chapter}", BlockKind.OPENER, (opener,), chapter=chapter))
        blocks.append(_write_text(chance, chapter))
        for number, day in enumerate(told):
            key = f"day {chapter}.{number}"
            blocks += [replace(block, chapter=chapter, swap=key) for block in day]
    blocks.append(Block("colophon", BlockKind.COLOPHON, (Alternative(1),)))
    return Story((), tuple(_ask_for_leaves(chance, blocks, kind.interleaves)))


def _deal_days(chance: random.Random, kind: Kind) -> list[list[list[Block]]]:
    """Give chapters of days of blocks that come out at the pages wanted."""
    # Front matter and colophon; an opener and on average two pages of text for each chapter.
    room = kind.pages - 4 - 3 * kind.chapters - 2 * kind.heroes
    days: list[list[Block]] = []
    number = 0
    while room > 0:
        day = []
        for _ in range(chance.randint(2, 5)):
            if room > 0:
                day.append(_show_pictures(chance, number))
                room -= day[-1].alternatives[0].pages
                number += 1
        days.append(day)
    while len(days) < kind.chapters:
        days.append([])
    turns = list(range(len(days)))
    chance.shuffle(turns)
    for hero in range(kind.heroes):
        day = days[turns[hero % len(days)]]
        ways = (Alternative(2, spreads=(0,)),)
        block = Block(f"hero {hero}", BlockKind.HERO, ways, importance=chance.randint(1, 5))
        day.insert(chance.randint(0, len(day)), block)
    cuts = [round(at * len(days) / kind.chapters) for at in range(kind.chapters + 1)]
    return [days[a:b] for a, b in itertools.pairwise(cuts)]


def _write_text(chance: random.Random, chapter: int) -> Block:
    pages = chance.randint(1, 3)
    ways = tuple(
        Alternative(length, cost, bears=tuple(range(length)))
        for length, cost in ((pages, 0), (pages + 1, 6))
    )
    return Block(f"text {chapter}", BlockKind.TEXT, ways, chapter=chapter)


def _show_pictures(chance: random.Random, number: int) -> Block:
    if chance.random() < 0.45:
        one = Alternative(1, bears=(0,) if chance.random() < 0.3 else ())
        return Block(f"single {number}", BlockKind.SINGLE, (one,))
    bears_too = chance.random() < 0.6
    lengths = chance.choice(
        (((1, 0), (2, 8)), ((2, 0), (1, 10)), ((2, 0), (1, 10), (3, 12)), ((1, 0),))
    )
    ways = []
    for length, cost in lengths:
        bears: tuple[int, ...] = tuple(range(length)) if bears_too else ()
        # A group of two facing pages now and then has one picture across the fold.
        spreads = (0,) if length == 2 and chance.random() < 0.15 else ()
        ways.append(Alternative(length, cost, spreads=spreads, bears=bears))
    return Block(f"group {number}", BlockKind.GROUP, tuple(ways))


def _ask_for_leaves(chance: random.Random, blocks: list[Block], count: int) -> list[Block]:
    """Ask for interleaves over openers first, then over singles."""
    openers = [at for at, b in enumerate(blocks) if b.kind is BlockKind.OPENER]
    singles = [at for at, b in enumerate(blocks) if b.kind is BlockKind.SINGLE]
    chance.shuffle(openers)
    chance.shuffle(singles)
    veiled = set([*openers[: (count + 1) // 2], *singles][:count])
    return [
        replace(b, alternatives=tuple(replace(a, interleaves=(0,)) for a in b.alternatives))
        if at in veiled
        else b
        for at, b in enumerate(blocks)
    ]
