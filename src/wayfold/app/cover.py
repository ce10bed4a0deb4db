"""The case with the photograph that its maker wants on the cover."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from wayfold.base.findings import Finding, Severity
from wayfold.book.casing import CaseStyle
from wayfold.book.state import Book
from wayfold.book.trip_choices import PLACES_FOR_A_MAP
from wayfold.case.lettering import CoverPicture
from wayfold.case.work import CaseWork, prepare_case
from wayfold.drawing.items import Drawing
from wayfold.photos.model import Photo
from wayfold.plan.model import Plan
from wayfold.trip.journey.model import Journey


def wants_route(book: Book, journey: Journey) -> bool:
    """Whether the journey's line stands on the cover: asked for, printed, no photograph there."""
    casing = book.bench.casing
    if not casing.route or casing.photo is not None or casing.style is CaseStyle.FULL_CLOTH:
        return False
    return len({stay.name for stay in journey.stays if not stay.change}) >= PLACES_FOR_A_MAP


def derive_case(
    book: Book, plan: Plan, photos: Iterable[Photo], route: Drawing | None = None
) -> CaseWork:
    """Reckon a book's case; a photograph named for its cover is found among all.

    Without one the cover bears the journey's line, ``route``, if there is any.
    """
    wanted = book.bench.casing.photo
    if wanted is None:
        return prepare_case(book, plan, route)
    named = [p for p in photos if wanted in (p.id, p.path.rsplit("/", 1)[-1])]
    if len(named) == 1:
        return prepare_case(book, plan, CoverPicture(named[0].id, named[0].size.aspect))
    work = prepare_case(book, plan)
    return replace(work, findings=(*work.findings, _explain(wanted, named)))


def _explain(wanted: str, named: list[Photo]) -> Finding:
    where = "case.photo"
    if not named:
        return Finding(
            "cover-photo",
            Severity.WARN,
            where,
            f"There is no photograph {wanted!r}; the cover has none.",
            "Write the file's name as it is, or the photograph's own key.",
        )
    keys = ", ".join(photo.id for photo in named)
    return Finding(
        "cover-photo",
        Severity.WARN,
        where,
        f"{len(named)} photographs are called {wanted!r}; the cover has none of them.",
        f"Write the key of one: {keys}.",
    )
