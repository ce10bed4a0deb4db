"""The book's plan looked at by itself: where all lies, why, and what else could be had."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from wayfold.app.block_names import name_blocks, put_names
from wayfold.app.fonts import open_typesetter
from wayfold.app.measuring import keep_measures
from wayfold.app.planning import Planned, keep_or_plan
from wayfold.app.stages import read_looks
from wayfold.app.telling import derive_story
from wayfold.base.errors import NotFoundError
from wayfold.base.findings import Finding
from wayfold.base.progress import Progress
from wayfold.book.edits import ChoosePlan
from wayfold.book.planning import PlanChoice
from wayfold.book.state import Book
from wayfold.plan.explain import Explanation, WayOut, explain_block, find_ways
from wayfold.plan.model import Plan
from wayfold.plan.offers import PlanOffer, offer_plans
from wayfold.plan.pose import undo_dial
from wayfold.plan.problem import label_pages
from wayfold.plan.wishes import Wish, WishKind, list_unmet
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book, remember_photos, write_edit


@dataclass(frozen=True, slots=True)
class Unmet:
    """A wish that the plan does not meet, and the cheapest ways to meet it.

    Of a block laid otherwise than suits it best only where it was asked about: there are many.
    """

    wish: Wish
    ways: tuple[WayOut, ...]


@dataclass(frozen=True, slots=True)
class PlanView:
    """A plan with all that helps to judge it. ``names`` has what to call each block, by id."""

    book: Book
    planned: Planned
    names: Mapping[str, str]
    offers: tuple[PlanOffer, ...]
    unmet: tuple[Unmet, ...]
    why: Explanation | None

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What its maker should know, with names for the blocks."""
        return name_findings(self.planned.result.findings, self.names)

    def list_ways(self, block: str) -> tuple[tuple[Wish, WayOut], ...]:
        """Give the ways to meet a block's wishes, in the order in which they are told."""
        return tuple((u.wish, way) for u in self.unmet if u.wish.block == block for way in u.ways)

    def list_changed(self) -> tuple[int, ...]:
        """Give the gatherings that the plan before this one did not have, page for page."""
        last, plan = self.planned.last, self.planned.plan
        if last is None:
            return ()
        before = {(g.sheets, label_pages(last, g)) for g in last.gatherings}
        return tuple(
            g.number for g in plan.gatherings if (g.sheets, label_pages(plan, g)) not in before
        )


def name_findings(findings: tuple[Finding, ...], names: Mapping[str, str]) -> tuple[Finding, ...]:
    """Give findings with names for the blocks."""
    return tuple(
        replace(
            f,
            where=put_names(f.where, names),
            message=put_names(f.message, names),
            remedy=put_names(f.remedy, names),
        )
        for f in findings
    )


def view_plan(
    root: Path,
    progress: Progress,
    *,
    choose: str | None = None,
    afresh: bool = False,
    why_page: int | None = None,
) -> PlanView:
    """Plan the book in ``root`` if it has to be, and look at the plan from all sides.

    ``choose`` takes another of the plans on offer first, by name (``PlanChoice``); ``afresh`` plans
    without regard to the plan before, save for what is printed; ``why_page`` asks about the block
    on that page.
    Raises UserError where no plan is possible, NotFoundError where the book has no such page.
    """
    folder = BookFolder(root.resolve())
    if choose is not None:
        folder.require()
        write_edit(folder, ChoosePlan(PlanChoice(choose)))
    stored = load_book(folder)
    catalogue = read_looks(folder, stored, progress)
    remember_photos(folder, stored.known, catalogue.photos)
    measurer = keep_measures(folder, open_typesetter(folder))
    story = derive_story(folder, stored.book, catalogue, measurer).story
    planned = keep_or_plan(folder, story, stored.book, afresh=afresh)
    problem, result = planned.problem, planned.result
    wishes = list_unmet(story, planned.plan)
    asked = None if why_page is None else find_block(planned.plan, why_page)
    with progress.task("Looking for ways", len(wishes)) as task:
        unmet = []
        for wish in wishes:
            looked_at = wish.kind is not WishKind.SIZE or wish.block == asked
            unmet.append(Unmet(wish, find_ways(problem, result, wish) if looked_at else ()))
            task.advance()
    return PlanView(
        stored.book,
        planned,
        name_blocks(story, {photo.id: photo for photo in catalogue.photos}),
        offer_plans(undo_dial(problem, stored.book)),
        tuple(unmet),
        None if asked is None else explain_block(problem, result, asked),
    )


def find_block(plan: Plan, number: int) -> str:
    """Give the block on a page, or that a white page is there for. Raises NotFoundError."""
    pages = plan.pages
    if not 1 <= number <= len(pages):
        raise NotFoundError(f"The book has no page {number}; it has {len(pages)}.")
    # A white page is there for the sake of what comes after it, or else ends the book.
    block = next((p.block for p in pages[number - 1 :] if p.block is not None), None)
    if block is None:
        raise NotFoundError(
            f"Page {number} is white and ends the book: a gathering has four pages to a sheet."
        )
    return block
