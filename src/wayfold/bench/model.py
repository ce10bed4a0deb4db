"""What the worksheets of a plan are drawn from."""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.bench.worksheet import Hand, choose_hand
from wayfold.book.state import Book
from wayfold.drawing.items import Drawing
from wayfold.pages.interleaves import InterleafLeaf
from wayfold.plan.model import Plan, PlanResult
from wayfold.story.model import Story


@dataclass(frozen=True, slots=True)
class PlannedBook:
    """A book with its plan, its pages in order, and the leaves of its interleaves.

    ``printed`` are the numbers of the gatherings that lie printed.
    """

    book: Book
    story: Story
    plan: Plan
    result: PlanResult
    pages: tuple[Drawing, ...]
    leaves: tuple[InterleafLeaf, ...] = ()
    printed: tuple[int, ...] = ()

    @property
    def hand(self) -> Hand:
        """The lettering of its worksheets."""
        return choose_hand(self.book.style)
