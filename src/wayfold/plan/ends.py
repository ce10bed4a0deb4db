"""What the interleaves of a gathering owe each other while its leaves are laid one by one.

A folded interleaf has an end in gap e and one in the mirrored gap 2s-e. When the first is passed,
the second lies ahead, so the search remembers for each gap of the front half what was put there;
at the mirrored gap the account is settled:

    NONE    nothing lies there
    GIVEN   a leaf lies over what it was made for; its other end will lie wherever it comes to lie
    PAIR    the same, but its other end must be wanted too
    OWED+g  a leaf was put into a gap of class g only because its other end will be wanted

Three bits a gap hold this. Prices are paid so early that the account never owes what a bound on
the rest of the book (``bound``) counts: GIVEN pays the least that any other end costs at once.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

from wayfold.plan.gaps import Gap, choose_role
from wayfold.plan.prices import Prices

NONE, GIVEN, PAIR, OWED = 0, 1, 2, 3
BITS, MASK = 3, 7
UNWANTED = (Gap.N, Gap.T, Gap.X)


class Deed(NamedTuple):
    """One thing that can be done at a gap: what is remembered after it, its price, what it is."""

    account: int
    cost: int
    tips: bool = False
    doubles: bool = False


@dataclass(slots=True)
class Accounts:
    """The deeds open at each gap, by its class; ``hope``: the mirrored gap may be wanted."""

    prices: Prices
    other_end: dict[Gap, int] = field(default_factory=dict)
    """What the end that nobody asked for costs in a gap; 0 in W, where somebody did."""
    least: int = 0
    alone: int = 0
    """The least a gap at the centre costs: there a leaf is its own mate, or pasted in."""

    def __post_init__(self) -> None:
        self.other_end = {gap: choose_role(gap, self.prices)[0] for gap in Gap}
        self.least = min(self.other_end[gap] for gap in UNWANTED)
        self.alone = min(self.prices.tip_in, self.prices.interleaf_double)

    def begin(self, gap: Gap, hope: bool) -> tuple[Deed, ...]:
        """At a gap of the front half, or a seam where no leaf lies yet."""
        if gap is Gap.W:
            deeds = [Deed(GIVEN, self.least), Deed(NONE, self.prices.tip_in, tips=True)]
            return (Deed(PAIR, 0), *deeds) if hope else tuple(deeds)
        pays = hope and self.other_end[gap] < self.prices.tip_in
        return (Deed(NONE, 0), Deed(OWED + gap, 0)) if pays else (Deed(NONE, 0),)

    def settle(self, gap: Gap, account: int) -> tuple[Deed, ...]:
        """At a gap of the back half, whose mirrored gap left ``account``."""
        if account == GIVEN:
            # A wanted mate was hoped for, so PAIR says the same of it for less.
            return () if gap is Gap.W else (Deed(NONE, self.other_end[gap] - self.least),)
        if account == NONE:
            return (
                (Deed(NONE, self.prices.tip_in, tips=True),) if gap is Gap.W else (Deed(NONE, 0),)
            )
        if gap is not Gap.W:
            return ()
        return (Deed(NONE, 0 if account == PAIR else self.other_end[Gap(account - OWED)]),)

    def centre(self, gap: Gap) -> tuple[Deed, ...]:
        """At the centre, where a folded interleaf has both its ends."""
        if gap is not Gap.W:
            return (Deed(NONE, 0),)
        if self.prices.interleaf_double <= self.prices.tip_in:
            return (Deed(NONE, self.prices.interleaf_double, doubles=True),)
        return (Deed(NONE, self.prices.tip_in, tips=True),)

    def seam(self, gap: Gap, account: int, hope: bool) -> tuple[Deed, ...]:
        """Between two gatherings: the one before settles; where it has no leaf the next begins."""
        return self.settle(gap, account) if account else self.begin(gap, hope)
