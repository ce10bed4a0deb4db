"""What was found where a page should be."""

from __future__ import annotations

import enum
from dataclasses import dataclass

from wayfold.checks.refold.content import ContentFault, FaultKind
from wayfold.checks.refold.fitting import Fit


class Sight(enum.StrEnum):
    """What the reader sees on turning to a page."""

    RIGHT = "right"
    """The page that belongs there, perhaps with faults."""
    OTHER = "other"
    """Another page of the book, or the right one turned or mirrored."""
    BLANK = "blank"
    UNKNOWN = "unknown"
    """No page of this book."""
    ABSENT = "absent"
    """The sheet is not in the file."""


@dataclass(frozen=True, slots=True)
class Match:
    """A page of the book that a read page shows.

    It is mirrored (left and right changed) first if ``mirrored``, then turned clockwise by
    ``turn_deg``. A blank page matches every way up: then both are None.
    """

    page: int
    turn_deg: int | None = 0
    mirrored: bool | None = False

    def is_page(self, page: int, turn_deg: int = 0, mirrored: bool = False) -> bool:
        """Whether this is ``page``, standing like that."""
        return (
            self.page == page
            and self.turn_deg in (None, turn_deg)
            and self.mirrored in (None, mirrored)
        )


@dataclass(frozen=True, slots=True)
class View:
    """The page read at ``number``: what it is, how it lies, what is wrong with it.

    ``matches`` names every page it could be (pages alike are all named). ``fit`` is the measured
    motion in page space; None where it cannot be told. ``offset`` is the largest displacement
    (mm) of a measured part.
    """

    number: int
    sight: Sight
    matches: tuple[Match, ...] = ()
    fit: Fit | None = None
    offset: float | None = None
    parts: int = 0
    faults: tuple[ContentFault, ...] = ()

    def shows(self, page: int, turn_deg: int = 0, mirrored: bool = False) -> bool:
        """Whether the view could be ``page``, standing like that."""
        return any(m.is_page(page, turn_deg, mirrored) for m in self.matches)

    @property
    def foreign_or_lost(self) -> float:
        """Area (mm2) that is not as it should be within the trim."""
        return sum(f.area for f in self.faults if f.kind is not FaultKind.BLEED)
