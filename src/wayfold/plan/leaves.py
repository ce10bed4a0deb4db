"""The story unrolled into leaves: a graph whose arcs each lay a recto and a verso.

    ( 4 pages told ) ──[ recto: group g | verso: hero h, part 1 ]──► ( in h, 1 page laid )
                     ──[ recto: white   | verso: group g        ]──► ( before h )

A node says how far the story is told and what the last verso shows to the page that will face it;
every path from the first node to an end is one way to lay the whole story. Nothing here knows how
many sheets a gathering has: where the leaves fall is the business of ``places``.

Nodes are kept in the story's order, so one walk over the list passes every arc forwards.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from wayfold.plan.demands import Demand, Way, list_whites
from wayfold.plan.gaps import Gap, classify_gap
from wayfold.plan.prices import Prices
from wayfold.plan.problem import PageLabel

NEVER = 10**9
"""A price nobody can pay: what it is asked for cannot be."""
ANYWHERE, SAME_GATHERING = 0, -1
"""Whether an arc may begin a gathering; from 1 on: it must begin the kept gathering so numbered."""


class Sight(NamedTuple):
    """What a page shows to the page it faces.

    ``inner`` and ``between`` are the prices of a picture that crosses from it to the next page:
    away from a centre, and between two gatherings. At a centre it costs nothing.
    """

    wanted: bool = False
    bears: bool = False
    crosses: bool = False
    inner: int = 0
    between: int = 0


WHITE = Sight()


class Cursor(NamedTuple):
    """How far the story is told: block ``block`` comes next, or is being laid before that.

    ``swapped``: the block after the next was told already, in exchange. ``laying`` and ``way``
    are the block and alternative under way (-1: none), ``part`` the pages of it that are laid
    (below 0: white pages still to come before it). Once all is told, ``part`` counts white pages.
    """

    block: int
    swapped: bool = False
    laying: int = -1
    way: int = -1
    part: int = 0

    @property
    def progress(self) -> tuple[int, bool, int]:
        """Grows with every page."""
        return self.block, self.swapped, self.part - (NEVER if self.laying >= 0 else 0)


class LaidPage(NamedTuple):
    """A page laid: its price (of the block's way, white pages, a swap), and where the story is."""

    cost: int
    label: PageLabel | None
    sight: Sight
    cursor: Cursor
    page: int = 0
    """The page number it is pinned to; 0 where it is free."""


@dataclass(slots=True)
class Arc:
    """A leaf laid from one node to the node ``to``; the gap before it has the class ``gap``."""

    to: int
    cost: int
    gap: Gap
    opens: int
    leaf: int
    """The leaf of the book (from 0) it must be; -1 where it is free."""
    recto: PageLabel | None
    verso: PageLabel | None


@dataclass(slots=True)
class Node:
    """A place in the story between two leaves.

    ``facing`` is what the last verso shows; ``end_gap`` is set where the book may end.
    """

    facing: Sight = WHITE
    arcs: list[Arc] = field(default_factory=list)
    end_gap: Gap | None = None


class Kept(NamedTuple):
    """A gathering that is worth keeping: its leaves as they are, and what keeping it saves.

    ``number`` and ``first_leaf`` bind a printed gathering to its place (0 and -1: free).
    """

    sheets: int
    leaves: tuple[tuple[PageLabel | None, PageLabel | None], ...]
    saves: int
    number: int = 0
    first_leaf: int = -1


Chain = tuple[int, int]
"""Inside a kept gathering: which (from 1), and how many of its leaves are laid; (0, 0) = none."""
FREE: Chain = (0, 0)
_Key = tuple[Cursor, Sight, Chain]


def unroll_story(
    demands: Sequence[Demand], prices: Prices, kept: Sequence[Kept], whites_max: int
) -> list[Node]:
    """Give the nodes of the graph in the story's order; the first is where the book begins."""
    return _Unrolling(demands, prices, kept, whites_max).unroll()


@dataclass(slots=True)
class _Unrolling:
    demands: Sequence[Demand]
    prices: Prices
    kept: Sequence[Kept]
    whites_max: int
    _laid: dict[tuple[Cursor, bool], tuple[LaidPage, ...]] = field(default_factory=dict)
    _labels: dict[tuple[int, int, int], PageLabel] = field(default_factory=dict)

    def unroll(self) -> list[Node]:
        start = (Cursor(0), WHITE, FREE)
        found: dict[_Key, list[tuple[Arc, _Key]]] = {start: []}
        waiting = [start]
        while waiting:
            key = waiting.pop()
            found[key] = leaves = list(self._leave(*key))
            for _, target in leaves:
                if target not in found:
                    found[target] = []
                    waiting.append(target)
        order = sorted(found, key=lambda key: key[0].progress)
        ids = {key: at for at, key in enumerate(order)}
        nodes = []
        for cursor, sight, chain in order:
            node = Node(sight)
            for arc, target in found[cursor, sight, chain]:
                arc.to = ids[target]
                node.arcs.append(arc)
            if cursor.block >= len(self.demands) and cursor.laying < 0 and chain == FREE:
                node.end_gap = classify_gap(sight.wanted, False, sight.bears)
            nodes.append(node)
        return nodes

    def _leave(self, cursor: Cursor, facing: Sight, chain: Chain) -> Iterator[tuple[Arc, _Key]]:
        """Give every leaf that may come next, with the node it leads to."""
        ended = cursor.block >= len(self.demands) and cursor.laying < 0
        for recto in self._lay(cursor, True):
            wanted = facing.wanted or recto.sight.wanted
            gap = classify_gap(wanted, facing.crosses, facing.bears or recto.sight.bears)
            for verso in self._lay(recto.cursor, False):
                if recto.page and verso.page and verso.page != recto.page + 1:
                    continue
                leaf = (recto.label, verso.label)
                cost, at = recto.cost + verso.cost, (max(recto.page, verso.page) + 1) // 2 - 1
                for opens, saves, inside in self._follow(chain, leaf, ended):
                    yield (
                        Arc(-1, cost - saves, gap, opens, at, *leaf),
                        (verso.cursor, verso.sight, inside),
                    )

    def _follow(
        self, chain: Chain, leaf: tuple[PageLabel | None, PageLabel | None], ended: bool
    ) -> Iterator[tuple[int, int, Chain]]:
        """Say how a leaf goes with the kept gatherings: what it opens, saves, and is inside of."""
        kept, laid = chain
        if kept:
            leaves = self.kept[kept - 1].leaves
            if leaves[laid] == leaf:
                yield SAME_GATHERING, 0, FREE if laid + 1 == len(leaves) else (kept, laid + 1)
            return
        yield SAME_GATHERING if ended else ANYWHERE, 0, FREE
        if not ended:
            for at, entry in enumerate(self.kept, start=1):
                if entry.leaves[0] == leaf:
                    yield at, entry.saves, (at, 1)

    def _lay(self, cursor: Cursor, on_recto: bool) -> tuple[LaidPage, ...]:
        key = (cursor, on_recto)
        if key not in self._laid:
            self._laid[key] = tuple(
                page
                for page in self._lay_next(cursor, on_recto)
                if not page.page or page.page % 2 == on_recto
            )
        return self._laid[key]

    def _lay_next(self, cursor: Cursor, on_recto: bool) -> Iterator[LaidPage]:
        """Give every page that may come next, on a recto or a verso."""
        block, swapped = cursor.block, cursor.swapped
        if cursor.laying >= 0:
            yield self._lay_part(cursor, 0)
        elif block >= len(self.demands):
            if cursor.part < self.whites_max:
                price = self.prices.end_blanks(cursor.part + 1)
                price -= self.prices.end_blanks(cursor.part)
                yield LaidPage(price, None, WHITE, cursor._replace(part=cursor.part + 1))
        elif swapped:
            yield from self._begin(Cursor(block + 2), block, on_recto, 0)
        else:
            yield from self._begin(Cursor(block + 1), block, on_recto, 0)
            if self.demands[block].swaps:
                after = Cursor(block, swapped=True)
                yield from self._begin(after, block + 1, on_recto, self.prices.swap)

    def _begin(self, after: Cursor, block: int, on_recto: bool, cost: int) -> Iterator[LaidPage]:
        """Begin a block in each of its ways, with the white pages that may lie before it."""
        demand = self.demands[block]
        for at, way in enumerate(demand.ways):
            for whites, price in enumerate(list_whites(demand, way, on_recto, self.prices)):
                if price >= 0:
                    begun = Cursor(after.block, after.swapped, block, at, -whites)
                    yield self._lay_part(begun, cost + price + way.cost)

    def _lay_part(self, cursor: Cursor, cost: int) -> LaidPage:
        """Lay the next page of the block under way, or a white page before it."""
        demand = self.demands[cursor.laying]
        way, part = demand.ways[cursor.way], cursor.part
        if part + 1 == way.pages:
            following = Cursor(cursor.block, cursor.swapped)
        else:
            following = Cursor(*cursor[:-1], part + 1)
        if part < 0:
            return LaidPage(cost, None, WHITE, following)
        key = (cursor.laying, way.index, part)
        label = self._labels.setdefault(key, PageLabel(demand.block, part, way.index))
        pinned = demand.page if part == 0 and demand.page is not None else 0
        return LaidPage(cost, label, self._look(demand, way, part), following, pinned)

    def _look(self, demand: Demand, way: Way, part: int) -> Sight:
        wanted, bears = part in way.interleaves, part in way.bears
        if part not in way.spreads:
            return Sight(wanted, bears)
        prices, hero = self.prices, demand.hero
        inner = prices.hero_inner * hero if hero else prices.spread_inner
        between = prices.spread_between + prices.hero_between * hero
        if demand.centred and part == min(way.spreads):
            inner = between = NEVER
        return Sight(wanted, bears, True, inner, between)
