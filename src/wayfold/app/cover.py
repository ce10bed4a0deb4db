"""The case with the photograph that its maker wants on the cover."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from wayfold.base.findings import Finding, Severity
from wayfold.book.state import Book
from wayfold.case.art import CoverPicture
from wayfold.case.work import CaseWork, prepare_case
from wayfold.photos.model import Photo
from wayfold.plan.model import Plan


def derive_case(book: Book, plan: Plan, photos: Iterable[Photo]) -> CaseWork:
    """Reckon a book's case; a photograph named for its cover is found among all."""
    wanted = book.bench.casing.photo
    if wanted is None:
        return prepare_case(book, plan)
    named = [p for p in photos if wanted in (p.id, p.path.rsplit("/", 1)[-1])]
    if len(named) == 1:
        return prepare_case(book, plan, CoverPicture(named[0].id, named[0].size.aspect))
    work = prepare_case(book, plan)
    return replace(work, findings=(*work.findings, _explain(wanted, named)))


def _explain(wanted: str, named: list[Photo]) -> Finding:
    where = "book.toml, case.photo"
    if not named:
        return Finding(
            "cover-photo",
            Severity.WARN,
            where,
            f"There is no photograph {wanted!r}; the cover has none.",
            "Write the file's name as it is, or the photograph's key in photos.toml.",
        )
    keys = ", ".join(photo.id for photo in named)
    return Finding(
        "cover-photo",
        Severity.WARN,
        where,
        f"{len(named)} photographs are called {wanted!r}; the cover has none of them.",
        f"Write the key of one: {keys}.",
    )
