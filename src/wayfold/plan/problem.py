"""What is to be planned: the story, the paper, and everything that binds the planner's hands.

The rules every plan keeps (``verify`` checks them, the search knows no others):

*Story.* Each block is laid by one of its alternatives, whole, its pages following each other.
Blocks keep their order, but two neighbours with the same ``swap`` key (and chapter) may change
places; a block changes places once at most. Spreads begin on versos, blocks on the side they ask.

*White pages.* A block that must begin on one side has a white page before it where the parity asks
for one, and none else. Before a single, a group or a hero that may begin on either side one white
page may lie (a quiet page). Before a colophon up to three may lie. All others end the book.

*Paper.* Every gathering has an allowed number of sheets, and the last one carries at least one
page that is not white at the end. A book of one gathering may have fewer sheets than the least.

*Interleaves.* A gathering of s sheets has gaps 0 … 2s, gap e before its leaf e (from 0):

    pages    | 1  2 | 3  4 | 5  6 | 7  8 |        two sheets, four leaves
    gap      0      1      2      3      4        2 is the centre; 0 and 4 are seams
                    └── depth 1 ──┘               its two ends lie in gaps 1 and 3

A folded interleaf of depth d has its ends in gaps d and 2s-d; a tipped-in one lies in any gap.
A gap's class is that of the pages facing there: W an interleaf is asked for over either of them,
else X a picture crosses, else T at least one bears a caption, else N (white pages never bear).
The book's first gap has only page 1 to it, its last only the last page. Every W gap holds a leaf,
no gap holds two (so the leaf in the seam of two gatherings belongs to one of them only), save that
a depth of s lays both leaves of one sheet into the centre. One end of each folded interleaf lies
in a W gap; the other end is WANTED in a W gap, ECHO or PLAIN in T, PLAIN in N, a STUB anywhere but
W, and nothing but a STUB in X. No interleaf may be asked for over a page of a picture that crosses.

Translucent sheets are not counted in a gathering's closed thickness: at 0.07-0.09 mm and one or
two a gathering they add less than the paper's own caliper tolerance of about five in a hundred.
"""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.book.materials import Binding, Paper
from wayfold.plan.model import Gathering, Plan
from wayfold.plan.prices import PRICES, Prices
from wayfold.story.model import Story

STATES_MAX = 1_500_000
"""States a search may look at before it gives the best plan it has: some ten seconds of work, and
some ten times what a dense book of 400 pages needs. A count, so that every machine stops at the
same plan."""
PAGES_MAX = 1200
"""Pages a story may fill at the least: beyond it no hand-sewn volume can be cased."""


@dataclass(frozen=True, slots=True)
class PinPage:
    """The block's first page is page ``page`` of the book."""

    block: str
    page: int


@dataclass(frozen=True, slots=True)
class PinCentre:
    """The block's first picture across two pages lies at the centre of a gathering."""

    block: str


@dataclass(frozen=True, slots=True)
class PinWay:
    """The block is laid by the alternative with that index."""

    block: str
    way: int


@dataclass(frozen=True, slots=True)
class PinPlace:
    """The block stays as the last plan has it: the same alternative on the same pages."""

    block: str


Pin = PinPage | PinCentre | PinWay | PinPlace


@dataclass(frozen=True, slots=True)
class PageLabel:
    """What is printed on a page: part ``part`` (from 0) of a block laid by alternative ``way``."""

    block: str
    part: int
    way: int


@dataclass(frozen=True, slots=True)
class Printed:
    """A gathering that lies printed: it stays as it is, in its place.

    Its number is on its fold (the collating step) and page numbers may be on its pages, so both
    must stay. ``labels`` has one entry a page; None is a white page.
    """

    number: int
    sheets: int
    first_page: int
    labels: tuple[PageLabel | None, ...]


@dataclass(frozen=True, slots=True)
class PlanProblem:
    """A story to be laid on paper. ``last`` is the plan that should change as little as can be."""

    story: Story
    paper: Paper = Paper()
    binding: Binding = Binding()
    prices: Prices = PRICES
    pins: tuple[Pin, ...] = ()
    printed: tuple[Printed, ...] = ()
    last: Plan | None = None
    states_max: int = STATES_MAX


def label_pages(plan: Plan, gathering: Gathering) -> tuple[PageLabel | None, ...]:
    """Give what lies on each page of a gathering of the plan."""
    ways = dict(plan.choices)
    return tuple(
        None if page.block is None else PageLabel(page.block, page.part, ways[page.block])
        for page in plan.pages[gathering.first_page - 1 : gathering.last_page]
    )


def mark_printed(plan: Plan, number: int) -> Printed:
    """Give gathering ``number`` of the plan as printed. Raises KeyError where it has none."""
    for gathering in plan.gatherings:
        if gathering.number == number:
            labels = label_pages(plan, gathering)
            return Printed(number, gathering.sheets, gathering.first_page, labels)
    raise KeyError(number)


def list_unprinted(problem: PlanProblem) -> tuple[tuple[int, tuple[PageLabel | None, ...]], ...]:
    """Give sheets and labels of the last plan's gatherings that are not printed yet."""
    if problem.last is None:
        return ()
    printed = {p.labels for p in problem.printed}
    found = ((g.sheets, label_pages(problem.last, g)) for g in problem.last.gatherings)
    return tuple((sheets, labels) for sheets, labels in found if labels not in printed)
