"""What the story asks of the paper: each block's alternatives, with the side they must begin on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from wayfold.base.findings import Finding, Severity
from wayfold.plan.prices import BLANKS_BEFORE_COLOPHON_MAX, Prices
from wayfold.plan.problem import PAGES_MAX
from wayfold.story.model import Alternative, Block, BlockKind, Start, Story

QUIET_BEFORE = frozenset({BlockKind.SINGLE, BlockKind.GROUP, BlockKind.HERO})
"""What a quiet page may lie before: pictures. A white page inside a text reads as its end."""


@dataclass(frozen=True, slots=True)
class Way:
    """A usable alternative: its index in the block, and the side its first page must lie on."""

    index: int
    pages: int
    cost: int
    side: Start
    spreads: frozenset[int] = frozenset()
    interleaves: frozenset[int] = frozenset()
    bears: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Demand:
    """A block as the planner sees it, with the pins that bind it.

    ``hero`` is a hero's importance (at least 1), else 0. ``swaps`` says whether the block may
    change places with the next. ``page`` is where it is pinned; ``centred`` whether its first
    picture across two pages must lie at a centre.
    """

    block: str
    kind: BlockKind
    ways: tuple[Way, ...]
    hero: int = 0
    swaps: bool = False
    page: int | None = None
    centred: bool = False


def read_demands(story: Story) -> tuple[tuple[Demand, ...], tuple[Finding, ...]]:
    """Give the demands of all blocks, and a finding for each alternative that no book can hold.

    A block that is left without any way blocks the plan.
    """
    demands, findings = [], []
    for block in story.blocks:
        ways = []
        for index, alternative in enumerate(block.alternatives):
            flaw = find_flaw(alternative)
            if flaw:
                findings.append(_flaw(block, index, flaw))
            else:
                ways.append(_read_way(index, alternative))
        if not ways:
            findings.append(_no_way(block))
        hero = max(1, block.importance) if block.kind is BlockKind.HERO else 0
        demands.append(Demand(block.id, block.kind, tuple(ways), hero))
    for at, (block, following) in enumerate(zip(story.blocks, story.blocks[1:], strict=False)):
        if may_swap(block, following):
            demands[at] = replace(demands[at], swaps=True)
    return tuple(demands), tuple(findings)


def may_swap(block: Block, following: Block) -> bool:
    """Whether two neighbours may change places: one swap key, one chapter."""
    return block.swap is not None and (block.swap, block.chapter) == (
        following.swap,
        following.chapter,
    )


def list_whites(demand: Demand, way: Way, on_recto: bool, prices: Prices) -> Iterator[int]:
    """Give the price of 0, 1, … white pages before a block whose turn comes on that side.

    A price below 0 says that so many cannot be.
    """
    fits = way.side is Start.ANY or (way.side is Start.RECTO) == on_recto
    if demand.kind is BlockKind.COLOPHON:
        for whites in range(BLANKS_BEFORE_COLOPHON_MAX + 1):
            can = way.side is Start.ANY or fits == (whites % 2 == 0)
            yield whites * prices.blank_before_colophon if can else -1
        return
    yield 0 if fits else -1
    if not fits:
        recto = way.side is Start.RECTO
        yield prices.blank_before_recto if recto else prices.blank_before_verso
    elif way.side is Start.ANY and demand.kind in QUIET_BEFORE:
        yield prices.blank_quiet


def find_flaw(alternative: Alternative) -> str | None:
    """Say why no book can hold an alternative; None where one can."""
    a = alternative
    if not 1 <= a.pages <= PAGES_MAX:
        return f"it has {a.pages} pages"
    if first_side(a) is None:
        return "its pictures across two pages cannot all begin on a left page"
    if any(not 0 <= at < a.pages for at in (*a.interleaves, *a.bears)):
        return "it asks for translucent leaves beside pages it does not have"
    crossed = {page for at in a.spreads for page in (at, at + 1)}
    if crossed & set(a.interleaves):
        return "it asks for a translucent leaf in the fold of a picture that crosses it"
    return None


def first_side(alternative: Alternative) -> Start | None:
    """Give the side the first page must lie on so that spreads begin on versos; None if none can.

    A spread on the alternative's last page would cross into another block, which cannot be.
    """
    if any(not 0 <= at < alternative.pages - 1 for at in alternative.spreads):
        return None
    sides = {Start.RECTO if at % 2 else Start.VERSO for at in alternative.spreads}
    if alternative.start is not Start.ANY:
        sides.add(alternative.start)
    if len(sides) > 1:
        return None
    return sides.pop() if sides else Start.ANY


def _read_way(index: int, a: Alternative) -> Way:
    side = first_side(a) or Start.ANY
    sets = (frozenset(a.spreads), frozenset(a.interleaves), frozenset(a.bears))
    return Way(index, a.pages, a.cost, side, *sets)


def _flaw(block: Block, index: int, flaw: str) -> Finding:
    return Finding(
        "plan-alternative",
        Severity.NOTE,
        f"block {block.id}",
        f"Way {index + 1} to lay it out cannot be on paper: {flaw}. It was passed over.",
    )


def _no_way(block: Block) -> Finding:
    return Finding(
        "plan-impossible",
        Severity.BLOCK,
        f"block {block.id}",
        "None of the ways to lay it out can be on paper.",
        "Let it take another number of pages or another side.",
    )
