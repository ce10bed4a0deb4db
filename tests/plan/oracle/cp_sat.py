"""The same question put to a constraint solver: no walk over leaves, only choices and sums.

Says for every block where it begins and in which way, for every leaf whether a gathering of so
many sheets begins there, for every fold whether a translucent sheet lies in it, and lets OR-Tools'
CP-SAT find the least sum of prices. Shares nothing with the planner.
"""

from __future__ import annotations

from typing import Any

from ortools.sat.python import cp_model

from tests.plan.oracle.evaluate import Sheets
from wayfold.plan.prices import Prices
from wayfold.story.model import Block, BlockKind, Start, Story

PICTURES = (BlockKind.SINGLE, BlockKind.GROUP, BlockKind.HERO)


class Model:
    """The model of one story; gaps are numbered by the leaves before them."""

    def __init__(self, story: Story, sheets: Sheets, prices: Prices) -> None:
        self.story, self.prices = story, prices
        self.blocks = story.blocks
        self.model = cp_model.CpModel()
        self.costs: list[Any] = []
        longest = sum(max(w.pages for w in b.alternatives) + 3 for b in self.blocks)
        self.sheets_most = -(-longest // 4) + sheets.most
        self.leaves = 2 * self.sheets_most
        self.allowed = sheets
        self._lay_blocks()
        self._gather()
        self._look_into_gaps()
        self._price_pictures()
        self._interleave()

    def solve(self, seconds: float = 60.0) -> int | None:
        """Give the optimum; None where there is no plan. Raises RuntimeError if unproven."""
        self.model.minimize(sum(self.costs))
        solver = cp_model.CpSolver()
        solver.parameters.max_time_in_seconds = seconds
        solver.parameters.num_workers = 2
        status = solver.solve(self.model)
        if status == cp_model.INFEASIBLE:
            return None
        if status != cp_model.OPTIMAL:
            raise RuntimeError("not proven in time")
        return round(solver.objective_value)

    def _lay_blocks(self) -> None:
        m, last = self.model, 4 * self.sheets_most
        self.begins: list[dict[tuple[int, int], Any]] = []
        starts, ends, whites = [], [], []
        for block in self.blocks:
            here = {}
            for way, taken in enumerate(block.alternatives):
                for page in range(1, last - taken.pages + 2):
                    if self._may_begin(block, way, page):
                        here[way, page] = m.new_bool_var("")
                        self.costs.append(taken.cost * here[way, page])
            m.add_exactly_one(here.values())
            self.begins.append(here)
            start, end = m.new_int_var(1, last, ""), m.new_int_var(1, last + 1, "")
            m.add(start == sum(page * x for (_, page), x in here.items()))
            ways = ((block.alternatives[w].pages + page, x) for (w, page), x in here.items())
            m.add(end == sum(after * x for after, x in ways))
            starts.append(start)
            ends.append(end)
            whites.append(m.new_int_var(0, 3, ""))
        self._price_whites(whites)
        count = len(self.blocks)
        turned = [m.new_bool_var("") for _ in range(count)]
        for at, swap in enumerate(turned):
            if at + 1 == count or not self._may_turn(at):
                m.add(swap == 0)
            elif at + 2 < count:
                m.add(swap + turned[at + 1] <= 1)
            self.costs.append(self.prices.swap * swap)
        after: Any = 1  # the first page that is free when the turn comes to the block
        for at in range(count):
            # Whoever is told in turn ``at``: the block itself, or the one it changed places with.
            done = m.new_int_var(1, last + 1, "")
            own = [] if at == 0 else [turned[at - 1].negated()]
            told = [(at, [turned[at].negated(), *own])]
            if at + 1 < count:
                told.append((at + 1, [turned[at]]))
            if at:
                told.append((at - 1, [turned[at - 1]]))
            for index, when in told:
                m.add(starts[index] == after + whites[index]).only_enforce_if(when)
                m.add(done == ends[index]).only_enforce_if(when)
            after = done
        self.end = after

    def _may_turn(self, at: int) -> bool:
        a, b = self.blocks[at : at + 2]
        return a.swap is not None and a.swap == b.swap and a.chapter == b.chapter

    def _may_begin(self, block: Block, way: int, page: int) -> bool:
        taken = block.alternatives[way]
        wrong = Start.RECTO if page % 2 == 0 else Start.VERSO
        return taken.start is not wrong and all((page + at) % 2 == 0 for at in taken.spreads)

    def _price_whites(self, whites: list[Any]) -> None:
        m, prices = self.model, self.prices
        for block, white, begins in zip(self.blocks, whites, self.begins, strict=True):
            if block.kind is BlockKind.COLOPHON:
                self.costs.append(prices.blank_before_colophon * white)
                continue
            m.add(white <= 1)
            for (way, page), x in begins.items():
                taken = block.alternatives[way]
                if taken.start is Start.ANY and not taken.spreads:
                    price = prices.blank_quiet
                    if block.kind not in PICTURES:
                        m.add(white == 0).only_enforce_if(x)
                        continue
                else:
                    odd = page % 2 == 1
                    price = prices.blank_before_recto if odd else prices.blank_before_verso
                both = m.new_bool_var("")
                m.add(both >= white + x - 1)
                self.costs.append(price * both)

    def _gather(self) -> None:
        """Cut the leaves into gatherings: a path of arcs from the first leaf to some end."""
        m, prices, allowed = self.model, self.prices, self.allowed
        least = 1 if allowed.alone else allowed.least
        self.opens = {
            (2 * first, size): m.new_bool_var("")
            for first in range(self.sheets_most)
            for size in range(least, allowed.most + 1)
            if first + size <= self.sheets_most
        }
        self.stops = {leaf: m.new_bool_var("") for leaf in range(2, self.leaves + 1, 2)}
        m.add_exactly_one(x for (leaf, _), x in self.opens.items() if leaf == 0)
        m.add_exactly_one(self.stops.values())
        for leaf, stop in self.stops.items():
            closing = sum(x for (f, s), x in self.opens.items() if f + 2 * s == leaf)
            m.add(closing == stop + sum(x for (f, _), x in self.opens.items() if f == leaf))
        for (first, size), x in self.opens.items():
            if size < allowed.least:  # only as the one gathering of a book
                m.add(x <= self.stops[2 * size]) if first == 0 else m.add(x == 0)
            m.add(self.end > 2 * first + 1).only_enforce_if(x)
            self.costs.append(
                (prices.sheet * size + prices.size_off * abs(size - allowed.preferred)) * x
            )
            for (after, other), y in self.opens.items():
                if after == first + 2 * size and other != size:
                    both = m.new_bool_var("")
                    m.add(both >= x + y - 1)
                    self.costs.append(prices.size_unlike * both)
        rest, many = m.new_int_var(0, 4 * allowed.most, ""), m.new_int_var(0, 4 * allowed.most, "")
        m.add(rest == sum(2 * leaf * x for leaf, x in self.stops.items()) + 1 - self.end)
        m.add(many >= rest - 3)
        self.costs.append(prices.blank_at_end * rest + prices.blank_too_many * many)

    def _look_into_gaps(self) -> None:
        """Say of every gap whether something is wanted, crosses, or bears a caption there."""
        wanted: dict[int, list[Any]] = {g: [] for g in range(self.leaves + 1)}
        crossed: dict[int, list[Any]] = {g: [] for g in range(self.leaves + 1)}
        bears: dict[int, list[Any]] = {g: [] for g in range(self.leaves + 1)}
        self.crossings: dict[tuple[int, int], list[Any]] = {}
        for block, begins in zip(self.blocks, self.begins, strict=True):
            hero = max(1, block.importance) if block.kind is BlockKind.HERO else 0
            for (way, page), x in begins.items():
                taken = block.alternatives[way]
                for at in taken.interleaves:
                    wanted[(page + at) // 2].append(x)
                for at in taken.bears:
                    bears[(page + at) // 2].append(x)
                for at in taken.spreads:
                    crossed[(page + at) // 2].append(x)
                    self.crossings.setdefault(((page + at) // 2, hero), []).append(x)
        self.wanted = {g: self._any(found) for g, found in wanted.items()}
        self.crossed = {g: self._any(found) for g, found in crossed.items()}
        self.bears = {g: self._any(found) for g, found in bears.items()}

    def _any(self, found: list[Any]) -> Any:
        either = self.model.new_bool_var("")
        self.model.add_max_equality(either, [*found, 0])
        return either

    def _price_pictures(self) -> None:
        m, prices = self.model, self.prices
        for (gap, hero), found in self.crossings.items():
            centre = sum(x for (f, s), x in self.opens.items() if f + s == gap)
            seam = sum(x for (f, _), x in self.opens.items() if f == gap)
            there, inner, torn = sum(found), m.new_bool_var(""), m.new_bool_var("")
            m.add(inner >= there - centre - seam)
            m.add(torn >= there + seam - 1)
            self.costs.append((prices.hero_inner * hero if hero else prices.spread_inner) * inner)
            self.costs.append((prices.spread_between + prices.hero_between * hero) * torn)

    def _interleave(self) -> None:
        m, prices = self.model, self.prices
        lying: dict[int, list[Any]] = {g: [] for g in range(self.leaves + 1)}
        for (first, size), x in self.opens.items():
            for depth in range(size + 1):
                fold = m.new_bool_var("")
                m.add(fold <= x)
                front, back = first + depth, first + 2 * size - depth
                m.add(fold <= self.wanted[front] + self.wanted[back])
                for gap in {front, back}:
                    lying[gap].append(fold)
                if front == back:
                    self.costs.append(prices.interleaf_double * fold)
        plain = min(prices.interleaf_plain, prices.interleaf_stub)
        for gap, folds in lying.items():
            tip = m.new_bool_var("")
            m.add(sum(folds) + tip <= 1)
            m.add(sum(folds) + tip >= self.wanted[gap])
            m.add(tip <= self.wanted[gap])
            self.costs.append(prices.tip_in * tip)
            # What a leaf costs where none is wanted, by what it meets there.
            spare = m.new_bool_var("")
            m.add(spare >= sum(folds) - self.wanted[gap])
            for price, when in (
                (prices.stub_across, [self.crossed[gap]]),
                (min(prices.interleaf_echo, plain), [self.crossed[gap].negated(), self.bears[gap]]),
                (plain, [self.crossed[gap].negated(), self.bears[gap].negated()]),
            ):
                paid = m.new_bool_var("")
                m.add_bool_or([spare.negated(), *(w.negated() for w in when), paid])
                self.costs.append(price * paid)


def find_optimum(story: Story, sheets: Sheets, prices: Prices) -> int | None:
    """Give the least cost of a plan by CP-SAT."""
    return Model(story, sheets, prices).solve()
