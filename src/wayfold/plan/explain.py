"""Why a block lies where it lies, what elsewhere would cost, and how an unmet wish can be met."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from wayfold.plan.changes import describe_changes, list_rewayed, list_turned
from wayfold.plan.facing import list_crossings
from wayfold.plan.model import Plan, PlanResult
from wayfold.plan.planner import solve
from wayfold.plan.problem import Pin, PinCentre, PinWay, PlanProblem
from wayfold.plan.reckon import recompute_cost
from wayfold.plan.weigh import Position, Spot, weigh_spots
from wayfold.plan.wishes import Wish, WishKind
from wayfold.story.model import Alternative, Block, BlockKind, Start, Story

WAYS_MAX = 3
"""Ways to meet a wish that are worth reading."""
UNTHINKABLE = 50_000
"""A price that no plan pays if any other is possible, and still below a reprint."""


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """Another way or position for a block; ``extra`` is None where it cannot be at all."""

    spot: Spot
    extra: int | None


@dataclass(frozen=True, slots=True)
class Explanation:
    """Why a block is where it is, in sentences, and what elsewhere would cost, cheapest first."""

    block: str
    page: int
    reasons: tuple[str, ...]
    elsewhere: tuple[Elsewhere, ...]


@dataclass(frozen=True, slots=True)
class WayOut:
    """A way to meet a wish: the problem to solve instead, its plan, and what it costs more."""

    problem: PlanProblem
    result: PlanResult
    extra: int
    changes: tuple[str, ...]

    def describe(self, wish: Wish) -> str:
        """Say it in one sentence."""
        what = {
            WishKind.CENTRE: "can lie at a centre",
            WishKind.WHOLE: "can stay within one gathering",
            WishKind.FOLDED: "can have its interleaf folded in",
            WishKind.SIZE: "can be laid as suits it best",
        }[wish.kind]
        changes = [c for c in self.changes if c != f"{wish.block} comes to a centre"]
        return f"{wish.block} {what} if {join_words(changes or ['nothing else changes'])}."


def explain_block(
    problem: PlanProblem,
    result: PlanResult,
    block: str,
    weights: Mapping[Spot, int] | None = None,
) -> Explanation:
    """Explain where a block lies. ``weights`` are those of ``weigh_spots``, if at hand.

    Raises KeyError for a block the story lacks, ValueError for a result without a plan.
    """
    plan = _plan_of(result)
    told = problem.story.block(block)
    weights = weigh_spots(problem, result) if weights is None else weights
    here = _find_spot(problem.story, plan, told)
    elsewhere = [
        Elsewhere(spot, _price_spot(problem, result, spot, weights))
        for spot in _list_spots(told)
        if spot != here
    ]
    elsewhere.sort(key=lambda e: UNTHINKABLE if e.extra is None else e.extra)
    page = plan.first_page_of(block)
    return Explanation(
        block, page, (*tell_place(plan, told), *_tell_rules(plan, told)), tuple(elsewhere)
    )


def find_ways(problem: PlanProblem, result: PlanResult, wish: Wish) -> tuple[WayOut, ...]:
    """Give the two or three cheapest ways to meet a wish that differ, cheapest first.

    One is the best plan that meets the wish, where each gathering that changes costs too, as in
    any replanning; the others keep what it would change: the other heroes at their centres, then
    the ways and the order of the blocks it would touch. ``extra`` leaves the changing itself out.
    """
    plan = _plan_of(result)
    wished = replace(_force(problem, wish), last=plan)
    ways: list[WayOut] = []
    for tried in _vary(problem.story, plan, wished, ways):
        answer = solve(tried)
        if answer.plan is None or _is_unmet(problem, answer.plan, wish):
            continue
        extra = recompute_cost(problem, answer.plan) - recompute_cost(problem, plan)
        changes = describe_changes(problem.story, plan, answer.plan)
        if all(changes != way.changes for way in ways):
            ways.append(WayOut(tried, answer, extra, changes))
    return tuple(sorted(ways, key=lambda way: way.extra)[:WAYS_MAX])


def _vary(
    story: Story, plan: Plan, wished: PlanProblem, ways: list[WayOut]
) -> Iterator[PlanProblem]:
    """Give the problems to try; ``ways`` are those found so far."""
    yield wished
    centres = tuple(pin for pin in _pin_heroes(story, plan) if pin not in wished.pins)
    if centres:
        yield replace(wished, pins=(*wished.pins, *centres))
    for way in tuple(ways):
        if way.result.plan is not None:
            yield _hold(story, plan, way.result.plan, way.problem)


def _hold(story: Story, plan: Plan, changed: Plan, problem: PlanProblem) -> PlanProblem:
    """Keep the ways and the order of the blocks that a plan would change."""
    wished = {pin.block for pin in problem.pins}
    before = dict(plan.choices)
    pins = tuple(PinWay(b, before[b]) for b in list_rewayed(plan, changed) if b not in wished)
    turned = {b for pair in list_turned(story, changed) for b in pair}
    turned -= {b for pair in list_turned(story, plan) for b in pair}
    blocks = tuple(replace(b, swap=None) if b.id in turned else b for b in problem.story.blocks)
    held = replace(problem.story, blocks=blocks)
    return replace(problem, story=held, pins=(*problem.pins, *pins))


def _force(problem: PlanProblem, wish: Wish) -> PlanProblem:
    """Give the problem in which the wish must be met."""
    prices = problem.prices
    if wish.kind is WishKind.CENTRE:
        return replace(problem, pins=(*problem.pins, PinCentre(wish.block)))
    if wish.kind is WishKind.SIZE:
        ways = problem.story.block(wish.block).alternatives
        best = min(range(len(ways)), key=lambda way: ways[way].cost)
        return replace(problem, pins=(*problem.pins, PinWay(wish.block, best)))
    if wish.kind is WishKind.WHOLE:
        return replace(problem, prices=replace(prices, spread_between=UNTHINKABLE))
    return replace(problem, prices=replace(prices, tip_in=UNTHINKABLE))


def _is_unmet(problem: PlanProblem, plan: Plan, wish: Wish) -> bool:
    """Whether a wish that is forced by price alone is still not met."""
    if wish.kind is WishKind.WHOLE:
        seams = {g.last_page for g in plan.gatherings}
        crossings = list_crossings(problem.story, plan)
        return any(block.id == wish.block and page in seams for block, page in crossings)
    if wish.kind is WishKind.FOLDED:
        pasted = {i.ends[0].over for i in plan.interleaves if i.depth is None}
        return any(p.block == wish.block and p.number in pasted for p in plan.pages)
    return False


def _pin_heroes(story: Story, plan: Plan) -> Iterator[Pin]:
    centres = {g.centre[0] for g in plan.gatherings}
    for block, page in list_crossings(story, plan):
        if block.kind is BlockKind.HERO and page in centres:
            yield PinCentre(block.id)


def join_words(words: Sequence[str]) -> str:
    """Give words as one list: "a, b and c"."""
    *most, last = words
    return f"{', '.join(most)}{' and ' if most else ''}{last}"


def _list_spots(block: Block) -> Iterator[Spot]:
    for way, alternative in enumerate(block.alternatives):
        positions = tuple(Position) if alternative.spreads else (None,)
        yield from (Spot(block.id, way, position) for position in positions)


def _find_spot(story: Story, plan: Plan, block: Block) -> Spot:
    way = dict(plan.choices)[block.id]
    page = next((p for b, p in list_crossings(story, plan) if b.id == block.id), None)
    if page is None:
        return Spot(block.id, way)
    if any(g.last_page == page for g in plan.gatherings):
        return Spot(block.id, way, Position.BETWEEN)
    centred = any(g.centre[0] == page for g in plan.gatherings)
    return Spot(block.id, way, Position.CENTRE if centred else Position.INNER)


def _price_spot(
    problem: PlanProblem, result: PlanResult, spot: Spot, weights: Mapping[Spot, int]
) -> int | None:
    """Give what a spot costs more: from the weights, or by solving once with it forced."""
    if spot in weights:
        return weights[spot]
    pins: tuple[Pin, ...] = (PinWay(spot.block, spot.way),)
    if spot.position is Position.CENTRE:
        pins += (PinCentre(spot.block),)
    elif spot.position is not None:
        # Nobody wishes a picture away from a centre, so no pin says it: dearer than the slack.
        return None
    forced = solve(replace(problem, pins=(*problem.pins, *pins)))
    return None if forced.plan is None else forced.cost - result.cost


def tell_place(plan: Plan, block: Block) -> tuple[str, ...]:
    """Say in sentences where a block lies."""
    taken = _way_of(plan, block)
    first = plan.first_page_of(block.id)
    gathering = plan.gathering_of(first)
    at_centre = any(first + at == gathering.centre[0] for at in taken.spreads)
    return (
        f"It begins on page {first}, in gathering {gathering.number} "
        f"(pages {gathering.first_page}-{gathering.last_page}).",
        *(
            (f"Its picture lies at the centre of gathering {gathering.number}, on one sheet.",)
            if at_centre
            else ()
        ),
    )


def _tell_rules(plan: Plan, block: Block) -> Iterator[str]:
    """Say what its place follows from."""
    taken = _way_of(plan, block)
    first = plan.first_page_of(block.id)
    if taken.start is not Start.ANY:
        yield f"It must begin on a {taken.start}."
    elif taken.spreads:
        yield "Its picture across two pages must begin on a verso."
    if taken.cost > min(a.cost for a in block.alternatives):
        yield f"It takes {taken.pages} pages, not what suits it best, for the sake of others."
    if first > 1 and plan.pages[first - 2].block is None:
        yield "A white page lies before it."


def _way_of(plan: Plan, block: Block) -> Alternative:
    return block.alternatives[dict(plan.choices)[block.id]]


def _plan_of(result: PlanResult) -> Plan:
    if result.plan is None:
        raise ValueError("there is no plan to explain")
    return result.plan
