"""What the interleaves of a gathering owe each other while its leaves are laid one by one.

A folded interleaf has an end in gap e and one in the mirrored gap 2s-e. What it costs shows only
at the second. So the search remembers of each gap of the front half what the mirrored gap has to
know, and settles there; nothing is guessed ahead:

    EMPTY     of no use to the mirrored gap: a leaf wanted there can only be tipped in
    OPEN+g    in this gap of class g none was wanted; the other end of one wanted there may lie here
    WAITING   a leaf was wanted here
    ALONE     the same, but none can be wanted in the mirrored gap any more

Once the rest of the story can no longer ask for a leaf in the mirrored gap, the gap is *closed*:
OPEN becomes EMPTY and WAITING becomes ALONE, and what its other end costs at the least is paid. So
states that differ only in what no longer matters become one, and no state owes what a bound on the
rest of the book (``bound``) counts.

Three bits a gap hold this.
"""

from __future__ import annotations

import enum
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

from wayfold.plan.gaps import Gap, choose_role
from wayfold.plan.prices import Prices

EMPTY, OPEN, WAITING, ALONE = 0, 1, 4, 5
BITS, MASK = 3, 7
UNWANTED = (Gap.N, Gap.T, Gap.X)


class Deed(enum.Enum):
    """What is done in a gap when the leaf after it is laid."""

    NOTHING = enum.auto()
    FOLDED = enum.auto()
    """A folded interleaf has its second end here, its first in the mirrored gap."""
    DOUBLED = enum.auto()
    """A folded interleaf has both ends here, at the centre."""
    TIPPED = enum.auto()
    """A leaf is pasted in here."""
    TIPPED_BEFORE = enum.auto()
    """A leaf is pasted into the mirrored gap: nothing may lie here for its sake."""


class Move(NamedTuple):
    """One way to pass a gap: the account after it, the price, and the deed."""

    account: int
    cost: int
    deed: Deed


@dataclass(slots=True)
class Accounts:
    """Knows every way to pass a gap."""

    prices: Prices
    other_end: dict[Gap, int] = field(default_factory=dict)
    """What the end that nobody asked for costs in a gap; 0 in W, where somebody did."""
    least: int = 0
    """The least that a wanted leaf costs if none is wanted in the mirrored gap."""
    alone: int = 0
    """The least a gap at the centre costs: there a leaf is its own mate, or pasted in."""

    def __post_init__(self) -> None:
        self.other_end = {gap: choose_role(gap, self.prices)[0] for gap in Gap}
        self.least = min(self.prices.tip_in, *(self.other_end[gap] for gap in UNWANTED))
        self.alone = min(self.prices.tip_in, self.prices.interleaf_double)

    def list_moves(self, at: int, sheets: int, gap: Gap, account: int) -> Iterator[Move]:
        """Give the ways to pass a gap with the account as it is before that; nothing closes."""
        if at == 2 * sheets:
            yield from self._pass_seam(gap, account)
        elif at < sheets:
            yield Move(account | self.begin(gap) << BITS * at, 0, Deed.NOTHING)
        elif at == sheets:
            yield Move(account, *self._pass_centre(gap))
        else:
            shift = BITS * (2 * sheets - at)
            entry = account >> shift & MASK
            yield Move(account ^ entry << shift, *self.settle(entry, gap))

    def begin(self, gap: Gap) -> int:
        """Give what is remembered of a gap of the front half."""
        if gap is Gap.W:
            return WAITING
        return OPEN + gap if self.other_end[gap] < self.prices.tip_in else EMPTY

    def settle(self, entry: int, gap: Gap) -> tuple[int, Deed]:
        """Give price and deed in a gap of the back half, whose mirrored gap left ``entry``."""
        tip = self.prices.tip_in
        if gap is Gap.W:
            if entry == EMPTY:
                return tip, Deed.TIPPED
            return 0 if entry == WAITING else self.other_end[Gap(entry - OPEN)], Deed.FOLDED
        if entry < WAITING:
            return 0, Deed.NOTHING
        paid = self.least if entry == ALONE else 0
        if self.other_end[gap] <= tip:
            return self.other_end[gap] - paid, Deed.FOLDED
        return tip - paid, Deed.TIPPED_BEFORE

    def _pass_centre(self, gap: Gap) -> tuple[int, Deed]:
        """Give price and deed at the centre, where a folded interleaf has both its ends."""
        if gap is not Gap.W:
            return 0, Deed.NOTHING
        if self.prices.interleaf_double <= self.prices.tip_in:
            return self.prices.interleaf_double, Deed.DOUBLED
        return self.prices.tip_in, Deed.TIPPED

    def _pass_seam(self, gap: Gap, entry: int) -> Iterator[Move]:
        """Between two gatherings: at most one of them has a leaf there.

        A leaf wanted there that the one before could only tip in is left to the one that follows,
        which can tip it in too.
        """
        price, deed = self.settle(entry, gap)
        if deed is Deed.FOLDED:
            yield Move(EMPTY, price, deed)
            if entry < WAITING:
                yield Move(WAITING, 0, Deed.NOTHING)
        elif deed is Deed.TIPPED:
            yield Move(WAITING, 0, Deed.NOTHING)
        else:
            yield Move(self.begin(gap), price, deed)


class Passage(dict[int, tuple[Move, ...]]):
    """The ways to pass gap ``at`` of a gathering, by the account before it; found when asked for.

    ``closed`` are the gaps of the front half that are closed once this one is passed.
    """

    def __init__(
        self, accounts: Accounts, at: int, sheets: int, gap: Gap, closed: frozenset[int]
    ) -> None:
        super().__init__()
        self._accounts = accounts
        self._gap = (at, sheets, gap)
        self._closed = closed

    def __missing__(self, account: int) -> tuple[Move, ...]:
        moves = self._accounts.list_moves(*self._gap, account)
        self[account] = closed = tuple(self._close(move) for move in moves)
        return closed

    def _close(self, move: Move) -> Move:
        account, cost = move.account, move.cost
        for gap in self._closed:
            entry = account >> BITS * gap & MASK
            left = EMPTY if entry < WAITING else ALONE
            cost += self._accounts.least if entry == WAITING else 0
            account ^= (entry ^ left) << BITS * gap
        return Move(account, cost, move.deed)
