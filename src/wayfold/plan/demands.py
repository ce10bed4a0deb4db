"""What the story asks of the paper: each block's alternatives, with the side they must begin on."""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.base.findings import Finding, Severity
from wayfold.story.model import Alternative, Block, BlockKind, Start, Story


@dataclass(frozen=True, slots=True)
class Way:
    """A usable alternative: its index in the block, and the side its first page must lie on."""

    index: int
    pages: int
    cost: int
    side: Start
    spreads: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Demand:
    """A block as the planner sees it. ``hero`` is a hero's importance (at least 1), else 0."""

    block: str
    ways: tuple[Way, ...]
    hero: int
    is_colophon: bool


def read_demands(story: Story) -> tuple[tuple[Demand, ...], tuple[Finding, ...]]:
    """Give the demands of all blocks, and a finding for each alternative that no book can hold.

    A block that is left without any way blocks the plan.
    """
    demands, findings = [], []
    for block in story.blocks:
        ways = []
        for index, alternative in enumerate(block.alternatives):
            side = first_side(alternative)
            if side is None:
                findings.append(_flaw(block, index))
            else:
                a = alternative
                ways.append(Way(index, a.pages, a.cost, side, tuple(sorted(a.spreads))))
        if not ways:
            findings.append(_no_way(block))
        hero = max(1, block.importance) if block.kind is BlockKind.HERO else 0
        demands.append(Demand(block.id, tuple(ways), hero, block.kind is BlockKind.COLOPHON))
    return tuple(demands), tuple(findings)


def first_side(alternative: Alternative) -> Start | None:
    """Give the side the first page must lie on so that spreads begin on versos; None if none can.

    A spread on the alternative's last page would cross into another block, which cannot be.
    """
    if alternative.pages < 1:
        return None
    if any(not 0 <= at < alternative.pages - 1 for at in alternative.spreads):
        return None
    sides = {Start.RECTO if at % 2 else Start.VERSO for at in alternative.spreads}
    if alternative.start is not Start.ANY:
        sides.add(alternative.start)
    if len(sides) > 1:
        return None
    return sides.pop() if sides else Start.ANY


def _flaw(block: Block, index: int) -> Finding:
    return Finding(
        "plan-alternative",
        Severity.NOTE,
        f"block {block.id}",
        f"Way {index + 1} to lay it out cannot be on paper: its pictures across two pages cannot "
        "all begin on a left page. It was passed over.",
    )


def _no_way(block: Block) -> Finding:
    return Finding(
        "plan-impossible",
        Severity.BLOCK,
        f"block {block.id}",
        "None of the ways to lay it out can be on paper.",
        "Let it take another number of pages or another side.",
    )
