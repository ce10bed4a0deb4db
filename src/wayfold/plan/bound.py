"""What the rest of the book costs at least, from every node at every place.

The same programme without the accounts of interleaves, walked backwards: exact for everything but
them. For a gap where an interleaf is wanted it counts the least that gap can cost: nothing if the
mirrored gap may be wanted too; else what the cheapest class of gap that may lie there costs the
other end, or a tip-in (``horizon``). So it never counts too much, and mostly little too little.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from wayfold.plan.ends import Accounts
from wayfold.plan.gaps import Gap
from wayfold.plan.horizon import Horizon
from wayfold.plan.leaves import ANYWHERE, NEVER, Arc, Node
from wayfold.plan.places import START, Places


@dataclass(slots=True)
class Bound:
    """``rest[node][place]`` is the least the rest costs; a place that is missing leads nowhere."""

    nodes: Sequence[Node]
    places: Places
    accounts: Accounts
    rest: list[dict[int, int]] = field(default_factory=list)
    horizon: Horizon = field(init=False)
    _before: dict[int, dict[int, int]] = field(default_factory=dict)
    _seams: set[int] = field(default_factory=set)
    _away: list[int] = field(default_factory=list)
    """By place, how many leaves ahead the gap is that mirrors the gap after it; behind: below 0."""

    def __post_init__(self) -> None:
        reached = self._find_reached()
        self.horizon = Horizon(self.nodes, self.accounts, 2 * max(self.places.sheets) + 2)
        self._seams = {p for p in range(len(self.places.at)) if self.places.is_seam(p)}
        filled = zip(self.places.at, self.places.sheets, strict=True)
        self._away = [2 * (sheets - at) for at, sheets in filled]
        self.rest = [{} for _ in self.nodes]
        for at in range(len(self.nodes) - 1, -1, -1):
            self._bound_node(at, reached[at])

    @property
    def least(self) -> int:
        """What the whole book costs at least; NEVER where there is no way to lay it."""
        return self.rest[0].get(START, NEVER)

    def charge(self, node: int, arc: Arc, place: int, following: int) -> int:
        """Give the least that the interleaf wanted in the gap before ``arc`` costs."""
        away = self._away[place]
        if place in self._seams:
            ahead = self.horizon.list_mates_ahead(arc.to)[2 * self.places.sheets[following] - 1]
            return min(ahead, self.horizon.list_mates_behind(node)[-away])
        if away == 0:
            return self.accounts.alone
        if away > 0:
            return self.horizon.list_mates_ahead(arc.to)[away - 1]
        return self.horizon.list_mates_behind(node)[-away]

    def _find_reached(self) -> list[set[int]]:
        """Find the places each node can come to lie at, as far as it matters."""
        if not self.places.counted:
            # Nearly every node can come to lie at every place: looking closer is not worth it.
            self.places.steps(START, ANYWHERE)
            every = set(range(1, len(self.places.at)))
            return [{START}, *[every] * (len(self.nodes) - 1)]
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

    def _bound_node(self, at: int, reached: set[int]) -> None:
        node, rest = self.nodes[at], dict.fromkeys(reached, NEVER)
        seams = reached & self._seams
        for arc in node.arcs:
            cost = arc.cost
            for place, price in self._bound_by(at, arc, reached, seams).items():
                if place in rest and price + cost < rest[place]:
                    rest[place] = price + cost
        if node.facing.crosses:
            for place, price in rest.items():
                crossing = self.price_crossing(node, place)
                # One by one: what keeping saves may bring even a sum with NEVER below it.
                rest[place] = NEVER if NEVER in (price, crossing) else price + crossing
        if node.end_gap is not None:
            for place in reached:
                if self.places.may_end(place):
                    rest[place] = min(rest[place], self._charge_end(at, node.end_gap, place))
        self.rest[at] = {place: price for place, price in rest.items() if price < NEVER}

    def _bound_by(
        self, node: int, arc: Arc, reached: set[int], seams: set[int]
    ) -> Mapping[int, int]:
        """Give what the rest costs at least, by place, if it begins with ``arc``.

        Without the cost of ``arc`` itself and of what crosses before it.
        """
        if arc.opens != ANYWHERE or arc.leaf >= 0:
            prices = ((place, self._price_arc(node, arc, place)) for place in reached)
            return {place: price for place, price in prices if price < NEVER}
        before = self._bound_before(arc.to, seams)
        if arc.gap is not Gap.W:
            return before
        return {
            place: self._price_arc(node, arc, place)
            if place in self._seams
            else price + self.charge(node, arc, place, place + 1)
            for place, price in before.items()
        }

    def _bound_before(self, node: int, seams: set[int]) -> dict[int, int]:
        """Give what it costs at least to go on from each place by a leaf to ``node``."""
        before, after = self._before.setdefault(node, {}), self.rest[node]
        if not before:
            at = self.places.at
            before.update((place - 1, price) for place, price in after.items() if at[place] > 1)
        for place in seams - before.keys():
            steps = self.places.steps(place, ANYWHERE)
            prices = [price + after[to] for to, price in steps if to in after]
            if prices:
                before[place] = min(prices)
        return before

    def _price_arc(self, node: int, arc: Arc, place: int) -> int:
        """Give the same for one place; NEVER where the arc cannot leave it."""
        after, places, best = self.rest[arc.to], self.places, NEVER
        for following, price in places.steps(place, arc.opens):
            beyond = after.get(following)
            if beyond is None or (arc.leaf >= 0 and places.leaf[following] != arc.leaf):
                continue
            price += beyond
            if arc.gap is Gap.W:
                price += self.charge(node, arc, place, following)
            best = min(best, price)
        return best

    def price_crossing(self, node: Node, place: int) -> int:
        """Give the price of the picture that crosses the gap after ``node``, if any does."""
        if not node.facing.crosses:
            return 0
        at, sheets = self.places.at[place], self.places.sheets[place]
        if at == 2 * sheets:
            return node.facing.between
        return 0 if at == sheets else node.facing.inner

    def _charge_end(self, node: int, gap: Gap, place: int) -> int:
        if gap is not Gap.W:
            return 0
        return self.horizon.list_mates_behind(node)[-self._away[place]]


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
