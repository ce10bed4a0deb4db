"""The plan: every page of the book, and the gatherings its sheets are nested in."""

from __future__ import annotations

import enum
from dataclasses import dataclass

from wayfold.base.findings import Finding


@dataclass(frozen=True, slots=True)
class PlannedPage:
    """A page and what lies on it: part ``part`` (from 0) of a block, or nothing (``block`` None).

    Pages are numbered from 1, which is a recto.
    """

    number: int
    block: str | None
    part: int = 0


@dataclass(frozen=True, slots=True)
class Gathering:
    """Nested sheets sewn as one; ``number`` and ``first_page`` count from 1."""

    number: int
    sheets: int
    first_page: int

    @property
    def last_page(self) -> int:
        """Its last page, a verso."""
        return self.first_page + 4 * self.sheets - 1

    @property
    def centre(self) -> tuple[int, int]:
        """The two pages that face each other on one side of the innermost sheet."""
        left = self.first_page + 2 * self.sheets - 1
        return left, left + 1


class EndRole(enum.StrEnum):
    """What one leaf of an interleaf does where it lies."""

    WANTED = "wanted"
    """It lies over the page it was made for."""
    ECHO = "echo"
    """It is there for its other end's sake, and carries a caption or a motif."""
    PLAIN = "plain"
    """It is there for its other end's sake, and carries nothing."""
    STUB = "stub"
    """It is cut back to a narrow strip at the fold."""


@dataclass(frozen=True, slots=True)
class InterleafEnd:
    """One translucent leaf, lying between page ``after_page`` and the next.

    ``after_page`` is a verso (0 before the book's first page). ``over`` is the page it was made
    for: one of the two that face each other there; None unless ``role`` is WANTED.
    """

    after_page: int
    role: EndRole
    over: int | None = None


@dataclass(frozen=True, slots=True)
class Interleaf:
    """A translucent sheet in a gathering.

    Folded round part of it, with ``depth`` paper sheets outside (0 wraps the gathering, all its
    sheets: both leaves lie in its centre), it has two ends: with s sheets they lie after pages
    first + 2 depth - 1 and first + 4 s - 2 depth - 1. ``depth`` None is a single leaf, tipped in,
    with one end.
    """

    gathering: int
    depth: int | None
    ends: tuple[InterleafEnd, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """All pages in order and the gatherings that carry them, without gaps."""

    pages: tuple[PlannedPage, ...]
    gatherings: tuple[Gathering, ...]
    choices: tuple[tuple[str, int], ...] = ()
    """Block id -> index of the alternative taken."""
    interleaves: tuple[Interleaf, ...] = ()
    """In order of gathering and of the first end."""

    def gathering_of(self, page: int) -> Gathering:
        """The gathering that carries ``page``. Raises KeyError for a page the book lacks."""
        for gathering in self.gatherings:
            if gathering.first_page <= page <= gathering.last_page:
                return gathering
        raise KeyError(page)

    def first_page_of(self, block: str) -> int:
        """The page a block begins on. Raises KeyError."""
        for page in self.pages:
            if page.block == block and page.part == 0:
                return page.number
        raise KeyError(block)


class Status(enum.StrEnum):
    """How good a plan is known to be."""

    OPTIMAL = "optimal"
    FEASIBLE = "feasible"
    IMPOSSIBLE = "impossible"


@dataclass(frozen=True, slots=True)
class PlanResult:
    """A planner's answer: the plan (None only where impossible), its cost and a lower bound."""

    status: Status
    plan: Plan | None
    cost: int
    bound: int
    findings: tuple[Finding, ...] = ()
