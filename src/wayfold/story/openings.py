"""The picture a chapter opens with, behind a translucent leaf that bears the chapter's title."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from wayfold.base.findings import Finding, Severity
from wayfold.book.state import Book
from wayfold.photos.model import Photo
from wayfold.story.chapters import FilledChapter
from wayfold.story.entries import Entry, Role

PAGE_LOSS = 0.18
"""A picture fills a page where no more than this part of it is cut away."""


def set_opening_aside(
    filled: FilledChapter, book: Book, photos: Mapping[str, Photo]
) -> tuple[FilledChapter, tuple[Finding, ...]]:
    """Take the opening picture out of a chapter's others, where the person wants one.

    It is the one named; else the best rated that fills a page, of equals the earliest. A chapter
    with no such picture opens without a leaf, which is a finding.
    """
    choice = filled.choice
    if choice is None or not choice.interleaf:
        return filled, ()
    named = choice.opening_photo
    entry = _find_named(filled, named, photos) if named else None
    findings: tuple[Finding, ...] = ()
    if named and entry is None:
        findings = (_explain_unknown(choice.place, named),)
    entry = entry or _choose_best(filled, book)
    if entry is None:
        return filled, (*findings, _explain_none(choice.place))
    rest = tuple(e for e in filled.entries if e is not entry)
    return replace(filled, entries=rest, opening=entry), findings


def fills_page(aspect: float, book: Book) -> bool:
    """Whether a picture can cover a whole page without losing too much."""
    page = book.trim.aspect
    return 1.0 - min(aspect, page) / max(aspect, page) <= PAGE_LOSS


def _find_named(filled: FilledChapter, name: str, photos: Mapping[str, Photo]) -> Entry | None:
    for entry in filled.entries:
        file = photos[entry.photo].path.rsplit("/", 1)[-1]
        if name in (entry.photo, file):
            return entry
    return None


def _choose_best(filled: FilledChapter, book: Book) -> Entry | None:
    able = [e for e in filled.entries if e.role is not Role.HERO and fills_page(e.aspect, book)]
    return max(able, key=lambda e: e.rating, default=None)


def _explain_unknown(place: str, name: str) -> Finding:
    return Finding(
        "story.interleaf",
        Severity.WARN,
        f"book.toml, chapter {place}",
        f"The opening picture {name!r} is not among those the book takes of {place}.",
        "Write the name of a file, or an id of photos.toml, of a picture of this chapter.",
    )


def _explain_none(place: str) -> Finding:
    return Finding(
        "story.interleaf",
        Severity.WARN,
        f"book.toml, chapter {place}",
        "The chapter is to open behind a translucent leaf, but none of its pictures fills a page. "
        "It opens without one.",
        "Name an opening_photo, or crop one upright.",
    )
