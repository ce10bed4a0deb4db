"""The exact search for the cheapest plan: a dynamic programme over blocks and places in gatherings.

A state is (sheets of the gathering under way, pages of it already filled). The side a page lies
on, its distance from the centre and the gap to the next gathering follow from that alone, so the
cheapest way to every state after each block gives the cheapest plan. Page numbers are in no state
and no price.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from wayfold.plan.demands import Demand, Way
from wayfold.plan.gatherings import SheetRange
from wayfold.plan.prices import BLANKS_BEFORE_COLOPHON_MAX, Prices
from wayfold.story.model import Start

State = tuple[int, int]
"""Sheets of the gathering under way (0 = none begun yet), and its pages already filled."""
UNBEGUN: State = (0, 0)
Walk = tuple[State, int, tuple[int, ...], int]
"""Where a walk starts, how many pages it lays, which of them begin spreads, a hero's importance."""
Ending = tuple[State, int, tuple[int, ...]]
"""Where a walk ends, its price, the sheets of the gatherings begun on it."""


@dataclass(frozen=True, slots=True)
class Step:
    """The cheapest way to a state: where from, and what was done on the way."""

    cost: int
    before: State
    way: int
    blanks: int
    sizes: tuple[int, ...]
    """Sheets of the gatherings begun in this step."""


@dataclass(frozen=True, slots=True)
class Route:
    """A whole plan in short: a step for each block, and the sheets of each gathering."""

    cost: int
    steps: tuple[Step, ...]
    sizes: tuple[int, ...]
    blanks_at_end: int


@dataclass(slots=True)
class Search:
    """Searches for one story at a time; ``one_gathering`` forbids a second gathering."""

    sheets: SheetRange
    sizes: tuple[int, ...]
    prices: Prices
    one_gathering: bool = False
    _walks: dict[Walk, tuple[Ending, ...]] = field(default_factory=dict)

    def find_cheapest(self, demands: Sequence[Demand]) -> Route | None:
        """Give the cheapest plan, or None where these gatherings hold none."""
        layers: list[dict[State, Step]] = []
        reached: dict[State, int] = {UNBEGUN: 0}
        for demand in demands:
            layer = self._extend(reached, demand)
            layers.append(layer)
            reached = {state: step.cost for state, step in layer.items()}
        ends = [
            (cost + self.prices.end_blanks(4 * s - filled), (s, filled))
            for (s, filled), cost in reached.items()
            if s
        ]
        if not ends:
            return None
        cost, state = min(ends)
        return _trace(layers, state, cost)

    def _extend(self, reached: dict[State, int], demand: Demand) -> dict[State, Step]:
        layer: dict[State, Step] = {}
        for before, paid in reached.items():
            for way in demand.ways:
                for blanks, price in self._leads(before, way, demand):
                    spreads = tuple(at + blanks for at in way.spreads)
                    fixed = paid + price + way.cost
                    for after, cost, sizes in self._walk(
                        before, blanks + way.pages, spreads, demand.hero
                    ):
                        total = fixed + cost
                        known = layer.get(after)
                        if known is None or total < known.cost:
                            layer[after] = Step(total, before, way.index, blanks, sizes)
        return layer

    def _leads(self, state: State, way: Way, demand: Demand) -> Iterator[tuple[int, int]]:
        """Blank pages that may come before a block, with their price; only where expected."""
        on_recto = state[1] % 2 == 0
        fits_now = way.side is Start.ANY or (way.side is Start.RECTO) == on_recto
        if demand.is_colophon:
            for blanks in range(BLANKS_BEFORE_COLOPHON_MAX + 1):
                if way.side is Start.ANY or fits_now == (blanks % 2 == 0):
                    yield blanks, blanks * self.prices.blank_before_colophon
        elif fits_now:
            yield 0, 0
        elif way.side is Start.RECTO:
            yield 1, self.prices.blank_before_recto
        else:
            yield 1, self.prices.blank_before_verso

    def _walk(
        self, start: State, pages: int, spreads: tuple[int, ...], hero: int
    ) -> tuple[Ending, ...]:
        """Lay ``pages`` from ``start``: all states they can end in, with price and gatherings."""
        key = (start, pages, spreads, hero)
        if key not in self._walks:
            ends: dict[State, tuple[int, tuple[int, ...]]] = {start: (0, ())}
            for page in range(pages):
                ends = self._lay_page(ends, page in spreads, hero)
            self._walks[key] = tuple((s, cost, sizes) for s, (cost, sizes) in ends.items())
        return self._walks[key]

    def _lay_page(
        self, ends: dict[State, tuple[int, tuple[int, ...]]], crosses: bool, hero: int
    ) -> dict[State, tuple[int, tuple[int, ...]]]:
        after: dict[State, tuple[int, tuple[int, ...]]] = {}
        for (s, filled), (cost, begun) in ends.items():
            if filled < 4 * s:
                places = [(s, filled, cost, begun)]
            elif s and self.one_gathering:
                places = []
            else:
                places = [
                    (n, 0, cost + self._gathering_price(s, n), (*begun, n)) for n in self.sizes
                ]
            for sheets, at, paid, sizes in places:
                total = paid + (self._spread_price(sheets, at, hero) if crosses else 0)
                state = (sheets, at + 1)
                if state not in after or total < after[state][0]:
                    after[state] = (total, sizes)
        return after

    def _gathering_price(self, before: int, sheets: int) -> int:
        p = self.prices
        unlike = p.size_unlike if before and before != sheets else 0
        return p.sheet * sheets + p.size_off * abs(sheets - self.sheets.preferred) + unlike

    def _spread_price(self, sheets: int, at: int, hero: int) -> int:
        """The price of a picture from the verso with ``at`` pages before it to the next page."""
        p = self.prices
        if at + 1 == 2 * sheets:
            return 0
        if at + 1 == 4 * sheets:
            return p.spread_between + p.hero_between * hero
        return p.hero_inner * hero if hero else p.spread_inner


def _trace(layers: Sequence[dict[State, Step]], state: State, cost: int) -> Route:
    blanks = 4 * state[0] - state[1]
    steps = []
    for layer in reversed(layers):
        step = layer[state]
        steps.append(step)
        state = step.before
    steps.reverse()
    sizes = tuple(size for step in steps for size in step.sizes)
    return Route(cost, tuple(steps), sizes, blanks)
