"""The picture a chapter opens with, behind a translucent leaf that bears the chapter's title."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Rect
from wayfold.base.mends import Mend
from wayfold.book.state import Book
from wayfold.photos.lightness import Lightness
from wayfold.photos.model import Photo
from wayfold.story.chapters import FilledChapter
from wayfold.story.entries import Entry, Role
from wayfold.story.title_room import judge_title

PAGE_LOSS = 0.18
"""A picture fills a page where no more than this part of it is cut away."""


ReadLightness = Callable[[Photo], Lightness | None]
"""Reads how light a photograph is; None where its file cannot be read."""


def set_opening_aside(
    filled: FilledChapter,
    book: Book,
    photos: Mapping[str, Photo],
    read_lightness: ReadLightness | None = None,
) -> tuple[FilledChapter, tuple[Finding, ...]]:
    """Take the opening picture out of a chapter's others, where the person wants one.

    It is the one named; else the best rated that fills a page and bears the chapter's title (light
    enough where a title can stand), of equals the earliest. Where none bears it, the one that comes
    nearest. Pictures are read from the best on, until one bears it; without ``read_lightness`` all
    do. A chapter with no picture that fills a page opens without a leaf, which is a finding.
    """
    choice = filled.choice
    if choice is None or not choice.interleaf:
        return filled, ()
    named = choice.opening_photo
    entry = _find_named(filled, named, photos) if named else None
    findings: tuple[Finding, ...] = ()
    if named and entry is None:
        findings = (_explain_unknown(choice.place, named),)
    entry = entry or _choose_best(filled, book, photos, read_lightness)
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


def _choose_best(
    filled: FilledChapter,
    book: Book,
    photos: Mapping[str, Photo],
    read_lightness: ReadLightness | None,
) -> Entry | None:
    able = [e for e in filled.entries if e.role is not Role.HERO and fills_page(e.aspect, book)]
    able.sort(key=lambda e: -e.rating)
    mapped = filled.chapter.mapped is not None
    best, most = None, -1.0
    for entry in able:
        photo = photos[entry.photo]
        worth = 1.0 if read_lightness is None else bear_title(photo, book, read_lightness, mapped)
        if worth >= 1.0:
            return entry
        if worth > most:
            best, most = entry, worth
    return best


def list_bearing(
    entries: Iterable[Photo], book: Book, read_lightness: ReadLightness, mapped: bool
) -> Iterator[Photo]:
    """Give the pictures that fill a page and bear a title on the leaf over it."""
    for photo in entries:
        part = _shown(book, photo)
        aspect = photo.size.aspect * part.width / part.height
        if fills_page(aspect, book) and bear_title(photo, book, read_lightness, mapped) >= 1.0:
            yield photo


def bear_title(photo: Photo, book: Book, read_lightness: ReadLightness, mapped: bool) -> float:
    """Give how well a title on a leaf over it would be read: ``title_room.judge_title``, or 0."""
    lightness = read_lightness(photo)
    if lightness is None:
        return 0.0
    return judge_title(lightness, _shown(book, photo), photo.size.aspect, book, mapped)


def _shown(book: Book, photo: Photo) -> Rect:
    return book.choice(photo.id).crop or Rect(0.0, 0.0, 1.0, 1.0)


def _explain_unknown(place: str, name: str) -> Finding:
    return Finding(
        "story.interleaf",
        Severity.WARN,
        f"book.toml, chapter {place}",
        f"The opening picture {name!r} is not among those the book takes of {place}.",
        f"Name a picture of this chapter: {Mend.OPENING_PHOTO}.",
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
