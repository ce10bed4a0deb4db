"""What the planner pays for: all prices in one place, in the points of ``Alternative.cost``."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Prices:
    """Prices in points. The order of size is the order of importance to a bookmaker."""

    spread_between: int = 1000
    """A picture across the gap between two gatherings: thread, glue and swell part its halves.
    Nothing else in a book weighs as much, so it happens only where no other plan exists."""
    hero_between: int = 500
    """More of it, times the hero's importance."""
    hero_inner: int = 12
    """A hero away from the centre of a gathering, where its halves lie on two sheets and depend on
    fold and register; times its importance (1-5). About a blank page for the least of them."""
    spread_inner: int = 2
    """Any other picture across two sheets: usual, but a centre is still better."""
    blank_before_recto: int = 8
    """A white verso before a chapter: readers know it, but it is a page without a picture."""
    blank_before_verso: int = 20
    """A white recto before a picture across two pages: looks like an omission, so it is dear."""
    blank_before_colophon: int = 6
    blank_at_end: int = 5
    """White pages at the end of a book are expected; they only cost paper."""
    blank_too_many: int = 25
    """Each white page at the end beyond the last sheet's own: a sheet printed with nothing."""
    sheet: int = 3
    """Each sheet: paper, ink, folding and sewing."""
    size_off: int = 5
    """Each sheet more or fewer than the preferred number: creep and swell change with it."""
    size_unlike: int = 3
    """A gathering of another size than the one before: uneven steps at the spine."""

    def end_blanks(self, blanks: int) -> int:
        """Give the price of ``blanks`` white pages at the end of the book."""
        too_many = max(0, blanks - BLANKS_AT_END_USUAL)
        return blanks * self.blank_at_end + too_many * self.blank_too_many


PRICES = Prices()
BLANKS_AT_END_USUAL = 3
"""A sheet has four pages: up to three of them may be left over."""
BLANKS_BEFORE_COLOPHON_MAX = 3
"""Two leaves of white before the last words would look like the book's end."""
