"""What the rest of the book costs at least, from every node at every place.

The same programme without the accounts of interleaves, walked backwards: exact for everything but
them. For a gap where an interleaf is wanted it counts the least that gap can cost: nothing if the
mirrored gap may be wanted too; else what the cheapest class of gap that may lie there costs the
other end, or a tip-in. So it never counts too much, and mostly little too little.

What may lie so many leaves ahead of a node or behind it is kept as one number per class of gap, a
bit a leaf.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from wayfold.plan.ends import Accounts
from wayfold.plan.gaps import Gap
from wayfold.plan.leaves import ANYWHERE, NEVER, Arc, Node
from wayfold.plan.places import START, Places

Horizon = list[int]
"""For each class of gap (by its number) the distances in leaves at which it may lie, as bits."""


@dataclass(slots=True)
class Bound:
    """``rest[node][place]`` is the least the rest costs; a place that is missing leads nowhere."""

    nodes: Sequence[Node]
    places: Places
    accounts: Accounts
    rest: list[dict[int, int]] = field(default_factory=list)
    ahead: list[Horizon] = field(default_factory=list)
    behind: list[Horizon] = field(default_factory=list)
    _before: dict[int, dict[int, int]] = field(default_factory=dict)
    _mates_ahead: dict[int, list[int]] = field(default_factory=dict)
    _mates_behind: dict[int, list[int]] = field(default_factory=dict)
    _far: int = 0

    def __post_init__(self) -> None:
        reached = self._find_reached()
        self._far = 2 * max(self.places.sheets) + 2
        self._look_around()
        self.rest = [{} for _ in self.nodes]
        for at in range(len(self.nodes) - 1, -1, -1):
            self._bound_node(at, reached[at])

    @property
    def least(self) -> int:
        """What the whole book costs at least; NEVER where there is no way to lay it."""
        return self.rest[0].get(START, NEVER)

    def charge(self, node: int, arc: Arc, place: int, following: int) -> int:
        """Give the least that the interleaf wanted in the gap before ``arc`` costs."""
        at, sheets = self.places.at[place], self.places.sheets[place]
        tip = self.accounts.prices.tip_in
        if self.places.is_seam(place):
            ahead = self._mate_ahead(arc.to, 2 * self.places.sheets[following] - 1)
            return min(tip, ahead, self._mate_behind(node, 2 * sheets))
        if at == sheets:
            return self.accounts.alone
        if at < sheets:
            return min(tip, self._mate_ahead(arc.to, 2 * (sheets - at) - 1))
        return min(tip, self._mate_behind(node, 2 * (at - sheets)))

    def hopes(self, node: int, distance: int) -> bool:
        """Whether an interleaf may be wanted so many leaves ahead of the node."""
        return bool(self.ahead[node][Gap.W] >> distance & 1)

    def _list_mates(self, horizon: Horizon) -> list[int]:
        """Give for each distance the least that another end costs in a gap there."""
        ends = sorted((self.accounts.other_end[gap], gap) for gap in Gap)
        mates = []
        for distance in range(self._far):
            costs = (cost for cost, gap in ends if horizon[gap] >> distance & 1)
            mates.append(next(costs, NEVER))
        return mates

    def _mate_ahead(self, node: int, distance: int) -> int:
        if node not in self._mates_ahead:
            self._mates_ahead[node] = self._list_mates(self.ahead[node])
        return self._mates_ahead[node][distance]

    def _mate_behind(self, node: int, distance: int) -> int:
        if node not in self._mates_behind:
            self._mates_behind[node] = self._list_mates(self.behind[node])
        return self._mates_behind[node][distance]

    def _find_reached(self) -> list[set[int]]:
        """Find the places each node can come to lie at."""
        reached: list[set[int]] = [set() for _ in self.nodes]
        counts = count_leaves(self.nodes)
        reached[0].add(START)
        for node, here in zip(self.nodes, reached, strict=True):
            ways: dict[int, set[int]] = {}
            for arc in node.arcs if here else ():
                if arc.opens not in ways:
                    steps = self.places.steps
                    ways[arc.opens] = {q for p in here for q, _ in steps(p, arc.opens)}
                there = ways[arc.opens]
                if arc.leaf >= 0:
                    there = {q for q in there if self.places.leaf[q] == arc.leaf}
                if counts:
                    there = {q for q in there if self._counts_right(counts[arc.to], q)}
                reached[arc.to] |= there
        return reached

    def _counts_right(self, counts: int, place: int) -> bool:
        """Whether a node with these leaf counts, as bits, can lie at a place."""
        leaf = self.places.leaf[place]
        if leaf < 0:
            return counts >> self.places.last_leaf + 1 > 0
        return bool(counts >> leaf + 1 & 1)

    def _look_around(self) -> None:
        clip = (1 << self._far) - 1
        self.ahead = [[0] * len(Gap) for _ in self.nodes]
        self.behind = [[0] * len(Gap) for _ in self.nodes]
        for at in range(len(self.nodes) - 1, -1, -1):
            here, end_gap = self.ahead[at], self.nodes[at].end_gap
            if end_gap is not None:
                here[end_gap] |= 1
            for arc in self.nodes[at].arcs:
                here[arc.gap] |= 1
                for gap, bits in enumerate(self.ahead[arc.to]):
                    here[gap] |= bits << 1 & clip
        for at, node in enumerate(self.nodes):
            here = self.behind[at]
            for arc in node.arcs:
                there = self.behind[arc.to]
                there[arc.gap] |= 2
                for gap, bits in enumerate(here):
                    there[gap] |= bits << 1 & clip

    def _bound_node(self, at: int, reached: set[int]) -> None:
        node, rest = self.nodes[at], self.rest[at]
        if node.end_gap is not None:
            for place in reached:
                if self.places.may_end(place):
                    rest[place] = self._charge_end(at, node.end_gap, place)
        for arc in node.arcs:
            if arc.opens == ANYWHERE and arc.leaf < 0 and arc.gap is not Gap.W:
                self._try_free_arc(arc, reached, rest)
                continue
            for place in reached:
                price = self._price_arc(at, arc, place)
                if price < rest.get(place, NEVER):
                    rest[place] = price

    def _try_free_arc(self, arc: Arc, reached: set[int], rest: dict[int, int]) -> None:
        """Lower the bounds of a node by an arc that is bound to nothing, as nearly all are."""
        before = self._bound_before(arc.to, reached)
        for place in reached:
            beyond = before.get(place, NEVER)
            crossing = self.price_crossing(arc, place) if arc.crosses else 0
            # Compared one by one: what keeping saves may bring even a sum with NEVER below it.
            if beyond >= NEVER or crossing >= NEVER:
                continue
            price = beyond + crossing + arc.cost
            if price < rest.get(place, NEVER):
                rest[place] = price

    def _bound_before(self, node: int, reached: set[int]) -> dict[int, int]:
        """Give what it costs at least to go on from each place by a leaf to ``node``."""
        before, after = self._before.setdefault(node, {}), self.rest[node]
        if not before:
            at = self.places.at
            before.update((place - 1, price) for place, price in after.items() if at[place] > 1)
        for place in reached:
            if place not in before and self.places.is_seam(place):
                steps = self.places.steps(place, ANYWHERE)
                before[place] = min(
                    (price + after.get(following, NEVER) for following, price in steps),
                    default=NEVER,
                )
        return before

    def _price_arc(self, node: int, arc: Arc, place: int) -> int:
        """Give the least the rest costs if it begins with ``arc``."""
        after, places = self.rest[arc.to], self.places
        crossing = self.price_crossing(arc, place)
        if crossing >= NEVER:
            return NEVER
        best = NEVER
        for following, price in places.steps(place, arc.opens):
            beyond = after.get(following)
            if beyond is None or (arc.leaf >= 0 and places.leaf[following] != arc.leaf):
                continue
            price += beyond
            if arc.gap is Gap.W:
                price += self.charge(node, arc, place, following)
            if price < best:
                best = price
        return best + arc.cost + crossing if best < NEVER else NEVER

    def price_crossing(self, arc: Arc, place: int) -> int:
        """Give the price of the picture that crosses the gap before ``arc``, if any does."""
        if not arc.crosses:
            return 0
        at, sheets = self.places.at[place], self.places.sheets[place]
        if at == 2 * sheets:
            return arc.between
        return 0 if at == sheets else arc.inner

    def _charge_end(self, node: int, gap: Gap, place: int) -> int:
        if gap is not Gap.W:
            return 0
        mate = self._mate_behind(node, 2 * self.places.sheets[place])
        return min(self.accounts.prices.tip_in, mate)


def count_leaves(nodes: Sequence[Node]) -> list[int]:
    """Give how many leaves may lie before each node if every pinned leaf is to come out right.

    As bits: bit n says that n leaves may. Empty where nothing is pinned.
    """
    if all(arc.leaf < 0 for node in nodes for arc in node.arcs):
        return []
    before = [0] * len(nodes)
    before[0] = 1
    for at, node in enumerate(nodes):
        for arc in node.arcs:
            here = before[at] if arc.leaf < 0 else before[at] & 1 << arc.leaf
            before[arc.to] |= here << 1
    able = [0] * len(nodes)
    for at in range(len(nodes) - 1, -1, -1):
        if nodes[at].end_gap is not None:
            able[at] = before[at]
        for arc in nodes[at].arcs:
            there = able[arc.to] >> 1
            able[at] |= before[at] & (there if arc.leaf < 0 else there & 1 << arc.leaf)
    return able
