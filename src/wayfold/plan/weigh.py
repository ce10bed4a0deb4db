"""What everything would cost elsewhere: the exact price of each way and place of each block.

A forward pass with some slack above the optimum leaves all states through which a plan of at most
that cost runs; a backward pass over the same states tells what the rest costs from each. Their sum
at a leaf is the cost of the best plan that has this very leaf there; the least over all leaves that
show a block in some way and place, less the optimum, is what that way and place would cost.
"""

from __future__ import annotations

import enum
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from wayfold.plan.leaves import NEVER, Arc
from wayfold.plan.model import PlanResult, Status
from wayfold.plan.places import Places
from wayfold.plan.prepare import Ready, prepare_searches
from wayfold.plan.problem import PlanProblem
from wayfold.plan.search import Search

SLACK = 600
"""Points above the optimum up to which prices are found: the most important hero off its centre,
and any way of a block. What costs more is named as such, or priced by solving with a pin
(``explain``)."""


class Position(enum.StrEnum):
    """Where a picture that crosses two pages lies in its gathering."""

    CENTRE = "centre"
    INNER = "inner"
    BETWEEN = "between gatherings"


class Spot(NamedTuple):
    """A block laid in one of its ways; with the position of its first crossing picture, if any."""

    block: str
    way: int
    position: Position | None = None


def weigh_spots(
    problem: PlanProblem, result: PlanResult | None = None, slack: int = SLACK
) -> Mapping[Spot, int]:
    """Give the extra cost of every spot that costs at most ``slack`` more than the best plan.

    Spots without position are the best of all positions. ``result`` spares solving again. Empty
    where no plan is possible, or the states allowed do not suffice to find all of them.
    """
    totals: dict[Spot, int] = {}
    readies = list(prepare_searches(problem, strict=True))
    if problem.printed and not any(r.search.bound.least < NEVER for r in readies):
        readies = list(prepare_searches(problem, strict=False))
    readies = [ready for ready in readies if ready.search.bound.least < NEVER]
    best = _find_best(readies, result)
    if best is None:
        return {}
    first_crossings = {
        (block.id, way): min(alternative.spreads)
        for block in problem.story.blocks
        for way, alternative in enumerate(block.alternatives)
        if alternative.spreads
    }
    for search in (ready.search for ready in readies):
        if search.bound.least > best + slack:
            continue
        search.run_pass(best + slack, search.list_lanes)
        if search.expanded >= search.states_max:
            return {}
        _Weighing(search, best + slack, first_crossings, totals).weigh()
    return {spot: total - best for spot, total in totals.items()}


def _find_best(readies: Sequence[Ready], result: PlanResult | None) -> int | None:
    """Give the optimum as the searches reckon it; None where it is not proven."""
    if result is not None and result.status is Status.OPTIMAL and readies:
        return result.cost - readies[0].offset
    found = [(ready.search, ready.search.find_cheapest()) for ready in readies]
    costs = [plan.cost for search, plan in found if plan and search.proven >= plan.cost]
    return min(costs) if costs and len(costs) == len(readies) else None


def find_position(places: Places, place: int) -> Position:
    """Say how a picture lies that crosses the gap after the leaf at a place."""
    if places.is_seam(place):
        return Position.BETWEEN
    return Position.CENTRE if places.at[place] == places.sheets[place] else Position.INNER


@dataclass(slots=True)
class _Weighing:
    """Walks a search's states backwards and notes the least total of every spot on the way."""

    search: Search
    limit: int
    first_crossings: Mapping[tuple[str, int], int]
    """By block and way, the page index at which its first crossing picture begins."""
    totals: dict[Spot, int]

    def weigh(self) -> None:
        layers = self.search.layers
        rest: list[dict[int, dict[int, int]]] = [{} for _ in layers]
        for node in range(len(layers) - 1, -1, -1):
            for place, accounts in layers[node].items():
                costs = {a: past.cost for a, past in accounts.items()}
                rest[node][place] = self._go_back(node, place, costs, rest)

    def _go_back(
        self,
        node: int,
        place: int,
        accounts: Mapping[int, int],
        rest: list[dict[int, dict[int, int]]],
    ) -> dict[int, int]:
        """Give what the rest costs from each state of a node at a place."""
        search, here = self.search, dict.fromkeys(accounts, NEVER)
        if search.bound.nodes[node].end_gap is not None and search.bound.places.may_end(place):
            for account in accounts:
                here[account] = search.settle_last(node, account)[0]
        for lane in search.list_lanes(node, place, self.limit - min(accounts.values())):
            after = rest[lane.to].get(lane.place)
            least = NEVER
            passage = search.find_passage(place, lane)
            for account, paid in accounts.items() if after else ():
                assert after is not None
                for move in passage[account]:
                    beyond = after.get(move.account, NEVER)
                    ahead = lane.cost + move.cost + beyond
                    if beyond < NEVER:
                        here[account] = min(here[account], ahead)
                        least = min(least, paid + ahead)
            if least <= self.limit:
                self._note(node, lane.arc, place, least)
        return here

    def _note(self, node: int, arc: Arc, place: int, total: int) -> None:
        for label in (arc.recto, arc.verso):
            if label is not None and label.part == 0:
                self._lower(Spot(label.block, label.way), total)
        # The recto shows the picture's second half, so the picture began a page before.
        half = arc.recto
        crosses = self.search.bound.nodes[node].facing.crosses
        if crosses and half and self._begins_at(half.block, half.way) == half.part - 1:
            position = find_position(self.search.bound.places, place)
            self._lower(Spot(half.block, half.way, position), total)

    def _begins_at(self, block: str, way: int) -> int | None:
        return self.first_crossings.get((block, way))

    def _lower(self, spot: Spot, total: int) -> None:
        if total < self.totals.get(spot, NEVER):
            self.totals[spot] = total
