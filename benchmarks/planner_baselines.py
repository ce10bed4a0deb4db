"""Two ways to plan a book without the planner: the ruler to hold it against.

*Fixed*: every block as suits it best, in the order told, gatherings of four sheets throughout.
*Greedy*: gathering after gathering from the left; for each it tries every size, with every block
as suits it best or one of them in another way, and keeps what costs least a page.
Both then fold in each translucent leaf, front to back, where it is cheapest at that moment.
Their plans keep every rule and are priced as any plan; neither tells anything in another order.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wayfold.plan.demands import first_side
from wayfold.plan.facing import find_gap, list_facing, wants_interleaf
from wayfold.plan.gaps import Gap, choose_role
from wayfold.plan.gatherings import SheetRange, allow_sheets
from wayfold.plan.model import EndRole, Gathering, Interleaf, InterleafEnd, Plan, PlannedPage
from wayfold.plan.prices import Prices
from wayfold.plan.problem import PlanProblem
from wayfold.story.model import Alternative, Block, BlockKind, Start

FIXED_SHEETS = 4
Turn = tuple[Block, int]
"""A block, and the index of the alternative it is laid by."""


def plan_fixed(problem: PlanProblem) -> Plan:
    turns = [(block, 0) for block in problem.story.blocks]
    pages = list(_lay(turns, 1))
    sizes = [FIXED_SHEETS] * -(-len(pages) // (4 * FIXED_SHEETS))
    return _finish(problem, turns, pages, sizes)


def plan_greedily(problem: PlanProblem) -> Plan:
    sheets = _sheets_of(problem)
    rest: list[Turn] = [(block, 0) for block in problem.story.blocks]
    told: list[Turn] = []
    pages: list[PlannedPage] = []
    sizes: list[int] = []
    while rest or len(pages) > 4 * sum(sizes):
        first = 4 * sum(sizes)
        best: tuple[float, int, list[Turn]] | None = None
        for size in sheets.sizes:
            for turns in _vary(rest, 4 * size):
                begun = _take_begun(turns, len(pages), first + 4 * size)
                price = _price_gathering(problem.prices, begun, len(pages), first, size)
                price += problem.prices.size_off * abs(size - sheets.preferred)
                price += problem.prices.size_unlike * bool(sizes and sizes[-1] != size)
                if best is None or price / size < best[0]:
                    best = price / size, size, begun
        assert best is not None
        _, size, begun = best
        sizes.append(size)
        told += begun
        pages += _lay(begun, len(pages) + 1)
        rest = rest[len(begun) :]
    return _finish(problem, told, pages, sizes)


def _vary(rest: Sequence[Turn], pages: int) -> Iterator[list[Turn]]:
    near = list(rest[:pages])
    yield near
    for at, (block, _) in enumerate(near):
        for way in range(1, len(block.alternatives)):
            yield [*near[:at], (block, way), *near[at + 1 :]]


def _take_begun(turns: Sequence[Turn], laid: int, last: int) -> list[Turn]:
    """Give the turns that begin within the pages up to ``last``, after ``laid`` pages."""
    begun: list[Turn] = []
    for block, way in turns:
        taken = block.alternatives[way]
        laid += _count_whites(taken, laid + 1)
        if laid >= last:
            break
        begun.append((block, way))
        laid += taken.pages
    return begun


def _price_gathering(
    prices: Prices, begun: Sequence[Turn], laid: int, first: int, sheets: int
) -> int:
    """Price what begins in the gathering after page ``first``, and the paper."""
    total, last = prices.sheet * sheets, first + 4 * sheets
    for block, way in begun:
        taken = block.alternatives[way]
        whites = _count_whites(taken, laid + 1)
        recto = first_side(taken) is Start.RECTO
        white = prices.blank_before_recto if recto else prices.blank_before_verso
        total += taken.cost + whites * white
        laid += whites
        hero = max(1, block.importance) if block.kind is BlockKind.HERO else 0
        for verso in (laid + at + 1 for at in taken.spreads):
            if verso == last:
                total += prices.spread_between + prices.hero_between * hero
            elif verso != first + 2 * sheets and verso < last:
                total += prices.hero_inner * hero if hero else prices.spread_inner
        laid += taken.pages
    return total + prices.end_blanks(max(0, last - laid))


def _lay(turns: Sequence[Turn], page: int) -> Iterator[PlannedPage]:
    """Give the pages of the blocks from page ``page`` on, white where a side asks for it."""
    for block, way in turns:
        taken = block.alternatives[way]
        if _count_whites(taken, page):
            yield PlannedPage(page, None)
            page += 1
        for part in range(taken.pages):
            yield PlannedPage(page, block.id, part)
            page += 1


def _count_whites(taken: Alternative, page: int) -> int:
    side = first_side(taken)
    return int(side is not Start.ANY and (side is Start.RECTO) != (page % 2 == 1))


def _sheets_of(problem: PlanProblem) -> SheetRange:
    sheets, _ = allow_sheets(problem.paper, problem.binding)
    assert sheets is not None
    return sheets


def _finish(
    problem: PlanProblem, told: list[Turn], pages: list[PlannedPage], sizes: list[int]
) -> Plan:
    gatherings, first = [], 1
    for number, size in enumerate(sizes, start=1):
        gatherings.append(Gathering(number, size, first))
        first += 4 * size
    pages = [*pages, *(PlannedPage(number, None) for number in range(len(pages) + 1, first))]
    ways = tuple((block.id, way) for block, way in told)
    bare = Plan(tuple(pages), tuple(gatherings), ways)
    leaves = tuple(_fold_in(problem, bare))
    return Plan(bare.pages, bare.gatherings, ways, leaves)


def _fold_in(problem: PlanProblem, plan: Plan) -> Iterator[Interleaf]:
    """Give a leaf for every gap that wants one, front to back."""
    gaps = {at: find_gap(problem.story, plan, at) for at in range(0, len(plan.pages) + 1, 2)}
    taken: set[int] = set()
    for after, gap in gaps.items():
        if gap is not Gap.W or after in taken:
            continue
        home = next(g for g in plan.gatherings if g.first_page - 1 <= after <= g.last_page)
        best = problem.prices.tip_in, Interleaf(home.number, None, (_want(problem, plan, after),))
        for folded in _list_folds(plan, after):
            front, back = (end.after_page for end in folded.ends)
            if {front, back} & taken:
                continue
            price = problem.prices.interleaf_double
            ends: list[InterleafEnd] = []
            if front != back:
                price = sum(choose_role(gaps[at], problem.prices)[0] for at in (front, back))
            for at in (front, back):
                role = choose_role(gaps[at], problem.prices)[1]
                wanted = role is EndRole.WANTED and not (ends and front == back)
                spare = EndRole.PLAIN if role is EndRole.WANTED else role
                ends.append(_want(problem, plan, at) if wanted else InterleafEnd(at, spare))
            if price < best[0]:
                best = price, Interleaf(folded.gathering, folded.depth, tuple(ends))
        taken |= {end.after_page for end in best[1].ends}
        yield best[1]


def _list_folds(plan: Plan, after: int) -> Iterator[Interleaf]:
    """Give the folded sheets with an end in that gap; their ends' roles are still to be said."""
    for g in plan.gatherings:
        before = g.first_page - 1
        if not before <= after <= g.last_page:
            continue
        depth = min(after - before, g.last_page - after) // 2
        ends = (before + 2 * depth, g.last_page - 2 * depth)
        yield Interleaf(g.number, depth, tuple(InterleafEnd(at, EndRole.PLAIN) for at in ends))


def _want(problem: PlanProblem, plan: Plan, after: int) -> InterleafEnd:
    over = next(
        page.number
        for page in list_facing(plan, after)
        if wants_interleaf(problem.story, plan, page)
    )
    return InterleafEnd(after, EndRole.WANTED, over)
