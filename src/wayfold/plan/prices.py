"""What the planner pays for: all prices in one place, in the points of ``Alternative.cost``.

Their order of size is a maker's order of regret: a printed sheet thrown away; a picture torn
between two gatherings; a page left white where nobody expects it; a hero off its centre; a
translucent sheet that has to be pasted in; a block away from the size that suits it; uneven
gatherings.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Prices:
    """Prices in points, none below 0."""

    reprint: int = 100_000
    """A printed gathering that must be printed again: paper, ink and an evening. Dearer than all
    else together, so that only what cannot stay is printed again."""

    spread_between: int = 1000
    """A picture across the gap between two gatherings: thread, glue and swell part its halves.
    Nothing in a fresh book weighs as much, so it happens only where no other plan exists."""
    hero_between: int = 500
    """More of it, times the hero's importance."""
    hero_inner: int = 100
    """A hero away from the centre of a gathering, where its halves lie on two sheets and depend on
    fold and register; times its importance (1-5). The dial that shapes a plan most: below a
    hundred many heroes lie off their centres, above it few more come to one; for the most
    important hero still below a white page that nobody expects."""
    spread_inner: int = 2
    """Any other picture across two sheets: usual, but a centre is still better."""

    tip_in: int = 40
    """A translucent leaf pasted in by its edge: glue, a wait under weight, and the weakest joint
    of the book."""
    stub_across: int = 45
    """A leaf cut back to a stub where a picture crosses: the strip still shows in the picture."""
    interleaf_stub: int = 20
    """A leaf cut back to a stub elsewhere: a cut by hand, and a strip that has to be explained."""
    interleaf_plain: int = 15
    """A plain translucent leaf where none was asked for: harmless, but it says nothing."""
    interleaf_double: int = 8
    """Both leaves of one sheet at the centre: the second dims what the first should reveal."""
    interleaf_echo: int = 6
    """A leaf that is there for its other end's sake and carries a caption: it earns its place."""

    blank_quiet: int = 600
    """A white page that no parity asks for: a reader takes it for an omission."""
    blank_before_verso: int = 600
    """A white recto before a picture across two pages: looks like an omission, so it is dear."""
    blank_before_recto: int = 8
    """A white verso before a chapter: readers know it, but it is a page without a picture."""
    blank_before_colophon: int = 6
    blank_at_end: int = 5
    """White pages at the end of a book are expected; they only cost paper."""
    blank_too_many: int = 25
    """Each white page at the end beyond the last sheet's own: a sheet printed with nothing."""

    swap: int = 12
    """Two neighbours told in the other order: the day's course bends a little."""
    size_off: int = 5
    """Each sheet more or fewer than the preferred number: creep and swell change with it."""
    size_unlike: int = 3
    """A gathering of another size than the one before: uneven steps at the spine."""
    sheet: int = 3
    """Each sheet: paper, ink, folding and sewing."""

    gathering_changed: int = 8
    """Each unprinted gathering of the last plan that is not there again, page by page: what has
    been looked at and found good should stay."""

    def end_blanks(self, blanks: int) -> int:
        """Give the price of ``blanks`` white pages at the end of the book."""
        too_many = max(0, blanks - BLANKS_AT_END_USUAL)
        return blanks * self.blank_at_end + too_many * self.blank_too_many


PRICES = Prices()
BLANKS_AT_END_USUAL = 3
"""A sheet has four pages: up to three of them may be left over."""
BLANKS_BEFORE_COLOPHON_MAX = 3
"""Two leaves of white before the last words would look like the book's end."""
