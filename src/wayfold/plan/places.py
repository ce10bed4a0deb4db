"""Where a leaf can lie: the gatherings a book may be made of, as places one after the other.

A place says that so many leaves of a gathering of s sheets are filled:

    place   e=1   e=2   e=3   e=4            a gathering of two sheets
    leaf     0  |  1  |  2  |  3  |          the next leaf goes to the next place,
                   centre       seam         or from the seam to e=1 of any gathering allowed

The gap that a leaf leaves behind it, and so the price of a picture or an interleaf there, follows
from e and s alone. Page numbers matter only where something is pinned to a page or printed: up to
there gatherings are counted, and places of the same e and s with other page numbers are others.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from wayfold.plan.gatherings import SheetRange
from wayfold.plan.leaves import ANYWHERE, Kept
from wayfold.plan.prices import Prices

START = 0
"""The place before the book's first leaf."""
Frame = tuple[int, int, int]
"""Sheets of a gathering; its number and the book's leaves before it, where they are counted."""
UNCOUNTED = (0, -1)


@dataclass(slots=True)
class Places:
    """All places, found as they are asked for; ``at``, ``sheets`` and ``leaf`` are indexed by them.

    ``leaf`` is the book's leaf (from 0) laid last, -1 where leaves are not counted. ``only`` is
    the size of the one gathering of a booklet. ``strict`` demands that printed gatherings stay.
    """

    allowed: SheetRange
    prices: Prices
    kept: Sequence[Kept] = ()
    pinned_leaf: int = -1
    only: int | None = None
    strict: bool = False
    at: list[int] = field(default_factory=lambda: [0])
    sheets: list[int] = field(default_factory=lambda: [0])
    leaf: list[int] = field(default_factory=lambda: [-1])
    _frames: list[Frame] = field(default_factory=lambda: [(0, 0, 0)])
    _firsts: dict[Frame, int] = field(default_factory=dict)
    _steps: dict[tuple[int, int], tuple[tuple[int, int], ...]] = field(default_factory=dict)
    _printed: dict[int, int] = field(default_factory=dict)
    last_leaf: int = -1
    """The last leaf whose number matters."""

    def __post_init__(self) -> None:
        self._printed = {kept.number: at for at, kept in enumerate(self.kept, 1) if kept.number}
        firsts = (kept.first_leaf for kept in self.kept)
        self.last_leaf = max((self.pinned_leaf, *firsts))

    @property
    def counted(self) -> bool:
        """Whether leaves or gatherings are counted anywhere: something is pinned or printed."""
        return self.last_leaf >= 0 or bool(self._printed)

    def is_seam(self, place: int) -> bool:
        """Whether the gathering is full there; so is the place before the first."""
        return self.at[place] == 2 * self.sheets[place]

    def may_end(self, place: int) -> bool:
        """Whether the book may end there: the gathering is full, no printed one is left out."""
        number = self._frames[place][1]
        left_out = self.strict and 0 < number < max(self._printed, default=0)
        return place != START and self.is_seam(place) and not left_out

    def steps(self, place: int, opens: int) -> tuple[tuple[int, int], ...]:
        """Give the places a leaf can go to from there, each with the price of going.

        ``opens`` is that of the leaf's arc: whether it may or must begin a gathering.
        """
        key = (place, opens)
        if key not in self._steps:
            self._steps[key] = self._list_steps(place, opens)
        return self._steps[key]

    def _list_steps(self, place: int, opens: int) -> tuple[tuple[int, int], ...]:
        if not self.is_seam(place):
            return ((place + 1, 0),) if opens <= ANYWHERE else ()
        if opens < ANYWHERE:
            return ()
        before, number, leaves = self._frames[place]
        counted = (number + 1 if number or place == START else 0, leaves)
        if leaves >= 0:
            counted = (counted[0], leaves + 2 * before)
        return tuple(
            (self._find_frame(sheets, *counted), self._price_gathering(before, sheets))
            for sheets in self._list_sizes(place, opens, *counted)
        )

    def _list_sizes(self, place: int, opens: int, number: int, leaves: int) -> tuple[int, ...]:
        if self.only is not None:
            sizes: tuple[int, ...] = (self.only,) if place == START else ()
        else:
            sizes = self.allowed.sizes
        if opens == ANYWHERE:
            return () if self.strict and number in self._printed else sizes
        kept = self.kept[opens - 1]
        if self.only is not None and kept.sheets not in sizes:
            return ()
        if kept.number:
            there = (kept.number, kept.first_leaf) == (number, leaves)
            return (kept.sheets,) if there else ()
        blocked = self.strict and number in self._printed
        return (kept.sheets,) if kept.sheets in sizes and not blocked else ()

    def _price_gathering(self, before: int, sheets: int) -> int:
        p = self.prices
        unlike = p.size_unlike if before and before != sheets else 0
        return p.sheet * sheets + p.size_off * abs(sheets - self.allowed.preferred) + unlike

    def _find_frame(self, sheets: int, number: int, leaves: int) -> int:
        """Give the first place of a gathering, forgetting counts that nothing asks for any more."""
        number = number if 0 < number <= max(self._printed, default=0) else 0
        leaves = leaves if 0 <= leaves <= self.last_leaf else -1
        frame = (sheets, number, leaves)
        if frame not in self._firsts:
            self._firsts[frame] = len(self.at)
            for at in range(1, 2 * sheets + 1):
                self.at.append(at)
                self.sheets.append(sheets)
                self.leaf.append(-1 if leaves < 0 else leaves + at - 1)
                self._frames.append(frame)
        return self._firsts[frame]
