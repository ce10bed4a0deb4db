"""The exact search: a dynamic programme over leaves.

A state is (node of the story, place in a gathering, accounts of its interleaves); ``leaves``,
``places`` and ``ends`` say what each part holds. From a state every leaf that may come next leads
on; the cheapest way to each state is all that is kept of the past.

    story    ──►  node ─── leaf ──► node ─── leaf ──► node            the same state may be reached
    paper    ──►  e=3      │        e=4      │        e=1, s=2        in many ways: one is kept
    accounts ──►  [..]   deed       [..]   deed       [..]

``bound`` says what the rest costs at least, so a pass leaves out every state whose cost so far and
the bound exceed a limit. A pass that reaches an end within its limit has found the optimum: what
it left out would have cost more. The limit begins at the bound of the whole book and grows; a
first plan, along the bound's own best path, caps it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

from wayfold.plan.bound import Bound
from wayfold.plan.ends import Accounts, Deed, Move, Passage
from wayfold.plan.gaps import Gap
from wayfold.plan.leaves import NEVER, Arc
from wayfold.plan.places import START

FIRST_SLACK = 12
"""How far above the bound the first pass may go: about two captions."""
CHEAP_PASS = 1000
"""Up to so many states a pass costs so little that the next may go twice as far; after a dearer
one it goes half as far again, which about doubles its states (measured)."""


class Lane(NamedTuple):
    """A leaf laid at a place: where it leads, its price bare of interleaves, the bound then."""

    to: int
    place: int
    cost: int
    rest: int
    arc: Arc


class Past(NamedTuple):
    """The cheapest way found to a state: cost, the state before, the leaf, the gap's passing."""

    cost: int
    node: int = -1
    place: int = START
    account: int = 0
    lane: Lane | None = None
    move: Move | None = None


Layer = dict[int, dict[int, Past]]
"""The states of a node: by place, then by account."""
Lanes = Callable[[int, int, int], Iterable[Lane]]
"""Gives the leaves that may come next at a node and a place, for so much to the book's end."""


class Step(NamedTuple):
    """One leaf of a found plan: where it lies, what it carries, what was done in the gap before."""

    place: int
    arc: Arc | None
    """None for the gap after the last leaf."""
    deed: Deed


@dataclass(frozen=True, slots=True)
class Found:
    """A plan as the search sees it: its cost, and its leaves in order."""

    cost: int
    steps: tuple[Step, ...]


@dataclass(slots=True)
class Search:
    """Searches one problem; ``expanded`` counts the states looked at, up to ``states_max``."""

    bound: Bound
    accounts: Accounts
    states_max: int
    expanded: int = 0
    proven: int = 0
    """No plan costs less."""
    layers: list[Layer] = field(default_factory=list)
    watch: Callable[[int], None] | None = None
    """Told of states as they are looked at; what it raises ends the search."""
    _passages: dict[tuple[int, int, Gap, int], Passage] = field(default_factory=dict)

    def find_cheapest(self) -> Found | None:
        """Give the cheapest plan, or the best found within the states allowed.

        None where the rules leave no plan. It is proven where ``proven`` equals its cost.
        """
        self.proven = self.bound.least
        if self.proven >= NEVER:
            return None
        best = self.walk_bound()
        slack = FIRST_SLACK
        while self.proven < best.cost:
            limit = min(self.bound.least + slack, best.cost - 1)
            before = self.expanded
            found = self.run_pass(limit, self.list_lanes)
            if found is not None:
                self.proven = found.cost
                return found
            if self.expanded >= self.states_max:
                return best
            self.proven = limit + 1
            slack += slack if self.expanded - before <= CHEAP_PASS else slack // 2
        return best

    def walk_bound(self) -> Found:
        """Give a first plan: the bound's best path, with the best interleaves on it."""
        path: dict[tuple[int, int], tuple[Lane, ...]] = {}
        node, place = 0, START
        while True:
            lanes = tuple(self.list_lanes(node, place, NEVER))
            price = min((self._price_lane(node, place, lane) for lane in lanes), default=NEVER)
            if self.bound.rest[node][place] < price:
                break
            best = next(la for la in lanes if self._price_lane(node, place, la) == price)
            path[node, place] = (best,)
            node, place = best.to, best.place
        found = self.run_pass(NEVER, lambda node, place, _: path.get((node, place), ()))
        if found is None:
            raise AssertionError("a path of the bound can always be walked with tipped-in leaves")
        return found

    def run_pass(self, limit: int, lanes: Lanes) -> Found | None:
        """Look at all states that can lead to a plan of at most ``limit``; give the best plan."""
        nodes = self.bound.nodes
        layers: list[Layer] = [{} for _ in nodes]
        layers[0][START] = {0: Past(0)}
        best: tuple[int, int, int, int, Deed] | None = None
        for node in range(len(nodes)):
            if self.watch is not None:
                self.watch(sum(map(len, layers[node].values())))
            for place, accounts in layers[node].items():
                self.expanded += len(accounts)
                self._extend(layers, node, place, limit, lanes)
                if nodes[node].end_gap is not None and self.bound.places.may_end(place):
                    for account, past in accounts.items():
                        price, deed = self.settle_last(node, account)
                        total = past.cost + price
                        if total <= limit and (best is None or total < best[0]):
                            best = (total, node, place, account, deed)
            if self.expanded >= self.states_max and best is None and limit < NEVER:
                break
        self.layers = layers
        return None if best is None else self._trace(layers, *best)

    def _extend(self, layers: list[Layer], node: int, place: int, limit: int, lanes: Lanes) -> None:
        """Lay every next leaf from all states of a node at a place."""
        accounts = layers[node][place]
        least = min(past.cost for past in accounts.values())
        for lane in lanes(node, place, limit - least):
            room = limit - lane.cost - lane.rest
            layer = layers[lane.to].setdefault(lane.place, {})
            passage = self.find_passage(place, lane)
            for account, past in accounts.items():
                left = room - past.cost
                if left < 0:
                    continue
                for move in passage[account]:
                    if move.cost > left:
                        continue
                    cost = past.cost + lane.cost + move.cost
                    known = layer.get(move.account)
                    if known is None or cost < known.cost:
                        layer[move.account] = Past(cost, node, place, account, lane, move)
            if not layer:
                del layers[lane.to][lane.place]

    def list_lanes(self, node: int, place: int, most: int) -> Iterator[Lane]:
        """Give every leaf that may come next at a place and leads to an end for at most ``most``.

        Interleaves that are not paid for yet are counted as the bound counts them.
        """
        places, rest = self.bound.places, self.bound.rest
        crossing = self.bound.price_crossing(self.bound.nodes[node], place)
        if crossing >= NEVER:
            return
        for arc in self.bound.nodes[node].arcs:
            after, cost = rest[arc.to], crossing + arc.cost
            for following, price in places.steps(place, arc.opens):
                beyond = after.get(following)
                if beyond is None or cost + price + beyond > most:
                    continue
                if arc.leaf < 0 or places.leaf[following] == arc.leaf:
                    yield Lane(arc.to, following, cost + price, beyond, arc)

    def _price_lane(self, node: int, place: int, lane: Lane) -> int:
        wanted = lane.arc.gap is Gap.W
        charge = self.bound.charge(node, lane.arc, place, lane.place) if wanted else 0
        return lane.cost + lane.rest + charge

    def find_passage(self, place: int, lane: Lane) -> Passage:
        """Give the ways to pass the gap before a lane's leaf, by account."""
        wanted = self.bound.horizon.find_wanted(lane.to)
        key = (place, lane.place, lane.arc.gap, wanted)
        if key not in self._passages:
            places = self.bound.places
            at, whole = places.at[lane.place], 2 * places.sheets[lane.place]
            passed = range(min(at, whole - at + 1))
            closed = frozenset(gap for gap in passed if not wanted >> whole - gap - at & 1)
            self._passages[key] = Passage(
                self.accounts, places.at[place], places.sheets[place], lane.arc.gap, closed
            )
        return self._passages[key]

    def settle_last(self, node: int, account: int) -> tuple[int, Deed]:
        """Give price and deed in the gap after the book's last leaf, a seam that none follows."""
        gap = self.bound.nodes[node].end_gap
        assert gap is not None
        return self.accounts.settle(account, gap)

    def _trace(
        self, layers: list[Layer], cost: int, node: int, place: int, account: int, last: Deed
    ) -> Found:
        steps = [Step(place, None, last)]
        while (past := layers[node][place][account]).lane is not None:
            assert past.move is not None
            steps.append(Step(place, past.lane.arc, past.move.deed))
            node, place, account = past.node, past.place, past.account
        steps.reverse()
        return Found(cost, tuple(steps))
