"""How good the plan is: its verdict, the plans on offer, what is not met, what was found."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from weakref import WeakKeyDictionary

from wayfold.app.block_names import name_blocks
from wayfold.app.plan import name_findings
from wayfold.app.session import Session
from wayfold.app.shown import Shown
from wayfold.app.stages import Results
from wayfold.base.findings import Finding
from wayfold.plan.model import Plan
from wayfold.plan.offers import offer_plans
from wayfold.plan.pose import undo_dial
from wayfold.plan.wishes import Wish, list_unmet


@dataclass(frozen=True, slots=True)
class Offered:
    """A plan on offer: ``choices`` all come to it, ``taken`` is the book's own among them.

    ``unasked_whites`` counts white pages that a reader takes for an omission.
    """

    choices: tuple[str, ...]
    taken: bool
    pages: int
    gatherings: tuple[int, ...]
    sheets: int
    heroes: int
    heroes_at_centres: int
    unmet: int
    unasked_whites: int


@dataclass(frozen=True, slots=True)
class UnmetWish:
    """A wish of a block that the plan does not meet, and the page it concerns."""

    kind: str
    block: str
    page: int


@dataclass(frozen=True, slots=True)
class PlanFinding:
    """What its maker should know of the plan; ``page`` is where to look, None for all of it."""

    severity: str
    message: str
    remedy: str
    page: int | None


@dataclass(frozen=True, slots=True)
class Judged:
    """What can be said of the plan: its cost in points, and what could at most be saved."""

    cost: int
    gap: int
    offers: tuple[Offered, ...]
    unmet: tuple[UnmetWish, ...]
    findings: tuple[PlanFinding, ...]


_JUDGED: WeakKeyDictionary[Shown, Judged] = WeakKeyDictionary()


def judge_flatplan(session: Session) -> Judged:
    """Judge the plan of the open book as it is now; weighing the offers plans the book thrice."""
    shown = session.shown
    if shown not in _JUDGED:
        _JUDGED[shown] = _judge(shown.results)
    return _JUDGED[shown]


def view_wishes(wishes: tuple[Wish, ...]) -> tuple[UnmetWish, ...]:
    """Give wishes as plain values."""
    return tuple(UnmetWish(wish.kind.value, wish.block, wish.page) for wish in wishes)


def view_findings(
    findings: tuple[Finding, ...], plan: Plan | None, names: Mapping[str, str]
) -> tuple[PlanFinding, ...]:
    """Give findings with names for the blocks, and the pages they lead to."""
    pages = [find_page(finding.where, plan) for finding in findings]
    return tuple(
        PlanFinding(f.severity.value, f.message, f.remedy, page)
        for f, page in zip(name_findings(findings, names), pages, strict=True)
    )


def find_page(where: str, plan: Plan | None) -> int | None:
    """Give the page that a finding of the planner leads to ("gathering 3", "block x")."""
    if plan is None:
        return None
    if where.startswith("block "):
        block = where.removeprefix("block ")
        return next((p.number for p in plan.pages if p.block == block), None)
    number = re.match(r"(gathering|pages?) (\d+)", where)
    if number is None:
        return None
    if number[1] == "gathering":
        gatherings = {g.number: g.first_page for g in plan.gatherings}
        return gatherings.get(int(number[2]))
    return min(max(int(number[2]), 1), len(plan.pages))


def _judge(results: Results) -> Judged:
    planned, plan, book = results.planned, results.plan, results.book
    names = name_blocks(results.story, results.photos)
    offers = offer_plans(undo_dial(planned.problem, book))
    return Judged(
        planned.result.cost,
        planned.result.cost - planned.result.bound,
        tuple(
            Offered(
                tuple(choice.value for choice in offer.choices),
                book.planning.choice in offer.choices,
                len(offer.plan.pages),
                tuple(g.sheets for g in offer.gatherings),
                offer.sheets,
                offer.heroes,
                offer.heroes_at_centres,
                len(offer.unmet),
                len(offer.unasked_whites),
            )
            for offer in offers
        ),
        view_wishes(list_unmet(results.story, plan)),
        view_findings(planned.result.findings, plan, names),
    )
