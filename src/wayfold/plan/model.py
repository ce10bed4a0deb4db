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


@dataclass(frozen=True, slots=True)
class Plan:
    """All pages in order and the gatherings that carry them, without gaps."""

    pages: tuple[PlannedPage, ...]
    gatherings: tuple[Gathering, ...]
    choices: tuple[tuple[str, int], ...] = ()
    """Block id -> index of the alternative taken."""

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
