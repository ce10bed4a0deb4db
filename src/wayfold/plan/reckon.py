"""What a finished plan costs, reckoned from its pages, sheets and interleaves alone.

Knows nothing of how plans are found, so that a wrong search cannot vouch for itself. One short
function for each thing that costs; the sum is what ``solve`` claims.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from wayfold.plan.facing import find_gap, list_crossings
from wayfold.plan.gaps import price_end
from wayfold.plan.gatherings import allow_sheets
from wayfold.plan.model import Interleaf, Plan
from wayfold.plan.problem import PlanProblem, label_pages, list_unprinted
from wayfold.story.model import Block, BlockKind, Start


def recompute_cost(problem: PlanProblem, plan: Plan) -> int:
    """Give the cost of a plan that keeps the rules, in points.

    Raises ValueError where a broken rule would have to be priced.
    """
    return (
        _price_ways(problem, plan)
        + _price_order(problem, plan)
        + _price_white_pages(problem, plan)
        + _price_crossings(problem, plan)
        + _price_gatherings(problem, plan)
        + sum(_price_interleaf(problem, plan, interleaf) for interleaf in plan.interleaves)
        + _price_changes(problem, plan)
    )


def rank_hero(block: Block) -> int:
    """Give a hero's importance, at least 1; 0 for any other block."""
    return max(1, block.importance) if block.kind is BlockKind.HERO else 0


def _price_ways(problem: PlanProblem, plan: Plan) -> int:
    ways = dict(plan.choices)
    return sum(b.alternatives[ways[b.id]].cost for b in problem.story.blocks)


def _price_order(problem: PlanProblem, plan: Plan) -> int:
    told = {block.id: at for at, block in enumerate(problem.story.blocks)}
    order = [told[p.block] for p in plan.pages if p.block is not None and p.part == 0]
    return problem.prices.swap * sum(a > b for a, b in itertools.pairwise(order))


def _price_white_pages(problem: PlanProblem, plan: Plan) -> int:
    total, run = 0, 0
    for page in plan.pages:
        if page.block is None:
            run += 1
            continue
        if run:
            block = problem.story.block(page.block)
            total += run * _price_white_before(problem, block, dict(plan.choices)[page.block])
        run = 0
    return total + problem.prices.end_blanks(run)


def _price_white_before(problem: PlanProblem, block: Block, way: int) -> int:
    prices, taken = problem.prices, block.alternatives[way]
    if block.kind is BlockKind.COLOPHON:
        return prices.blank_before_colophon
    sides = {Start.RECTO if at % 2 else Start.VERSO for at in taken.spreads} | {taken.start}
    if Start.RECTO in sides:
        return prices.blank_before_recto
    return prices.blank_before_verso if Start.VERSO in sides else prices.blank_quiet


def _price_crossings(problem: PlanProblem, plan: Plan) -> int:
    prices, total = problem.prices, 0
    centres = {g.centre[0] for g in plan.gatherings}
    seams = {g.last_page for g in plan.gatherings}
    for block, page in list_crossings(problem.story, plan):
        hero = rank_hero(block)
        if page in seams:
            total += prices.spread_between + prices.hero_between * hero
        elif page not in centres:
            total += prices.hero_inner * hero if hero else prices.spread_inner
    return total


def _price_gatherings(problem: PlanProblem, plan: Plan) -> int:
    allowed, _ = allow_sheets(problem.paper, problem.binding)
    if allowed is None:
        raise ValueError("no gathering is allowed")
    prices, sizes = problem.prices, [g.sheets for g in plan.gatherings]
    off = sum(abs(size - allowed.preferred) for size in sizes)
    unlike = sum(a != b for a, b in itertools.pairwise(sizes))
    return prices.sheet * sum(sizes) + prices.size_off * off + prices.size_unlike * unlike


def _price_interleaf(problem: PlanProblem, plan: Plan, interleaf: Interleaf) -> int:
    if interleaf.depth is None:
        return problem.prices.tip_in
    if interleaf.ends[0].after_page == interleaf.ends[1].after_page:
        return problem.prices.interleaf_double
    total = 0
    for end in interleaf.ends:
        price = price_end(find_gap(problem.story, plan, end.after_page), end.role, problem.prices)
        if price is None:
            raise ValueError(f"a leaf after page {end.after_page} cannot be {end.role}")
        total += price
    return total


def _price_changes(problem: PlanProblem, plan: Plan) -> int:
    kept = {(g.sheets, label_pages(plan, g)) for g in plan.gatherings}
    changed = sum(entry not in kept for entry in list_unprinted(problem))
    reprinted = sum(1 for _ in list_reprinted(problem, plan))
    return problem.prices.gathering_changed * changed + problem.prices.reprint * reprinted


def list_reprinted(problem: PlanProblem, plan: Plan) -> Iterator[int]:
    """Give the index of each printed gathering that the plan does not keep as it is."""
    for index, printed in enumerate(problem.printed):
        here = next((g for g in plan.gatherings if g.number == printed.number), None)
        if (
            here is None
            or (here.sheets, here.first_page) != (printed.sheets, printed.first_page)
            or label_pages(plan, here) != printed.labels
        ):
            yield index
