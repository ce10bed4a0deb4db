"""What may lie so many leaves ahead of a node of the story, or behind it.

An interleaf's other end lies some leaves away. Which classes of gap any way of telling the story
can bring there says what that end costs at the least, and whether it can be wanted at all.

Kept as one number a node: a bit a leaf, the classes of gap one after the other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from wayfold.plan.ends import Accounts
from wayfold.plan.gaps import Gap
from wayfold.plan.leaves import NEVER, Node


@dataclass(slots=True)
class Horizon:
    """Looks ``far`` leaves ahead of each node, the gap after it being 0 ahead, and behind it."""

    nodes: Sequence[Node]
    accounts: Accounts
    far: int
    _ahead: list[int] = field(default_factory=list)
    _behind: list[int] = field(default_factory=list)
    _mates: dict[int, list[int]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        first = [1 << gap * self.far for gap in Gap]
        within = ((1 << self.far) - 1 & ~1) * sum(first)
        self._ahead, self._behind = [0] * len(self.nodes), [0] * len(self.nodes)
        for at in range(len(self.nodes) - 1, -1, -1):
            node = self.nodes[at]
            seen = 0 if node.end_gap is None else first[node.end_gap]
            for arc in node.arcs:
                seen |= first[arc.gap] | self._ahead[arc.to] << 1 & within
            self._ahead[at] = seen
        for at, node in enumerate(self.nodes):
            seen = self._behind[at] << 1 & within
            for arc in node.arcs:
                self._behind[arc.to] |= seen | first[arc.gap] << 1

    def find_wanted(self, node: int) -> int:
        """Give, as bits, how many leaves ahead an interleaf may be wanted."""
        return self._ahead[node] >> Gap.W * self.far & (1 << self.far) - 1

    def list_mates_ahead(self, node: int) -> list[int]:
        """Give the least that a wanted leaf costs whose mirrored gap is so many leaves ahead."""
        return self._list_mates(self._ahead[node])

    def list_mates_behind(self, node: int) -> list[int]:
        """Give the same for a mirrored gap that many leaves behind; at 0 the gap is its own."""
        return self._list_mates(self._behind[node])

    def _list_mates(self, seen: int) -> list[int]:
        if seen not in self._mates:
            tip = self.accounts.prices.tip_in
            ends = sorted((self.accounts.other_end[gap], gap * self.far) for gap in Gap)
            mates = [
                next((cost for cost, first in ends if seen >> first + leaves & 1), NEVER)
                for leaves in range(self.far)
            ]
            self._mates[seen] = [min(tip, mate) for mate in mates]
        return self._mates[seen]
