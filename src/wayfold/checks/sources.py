"""What the person wrote a passage in: read as it stands in the book's files, and written anew.

A source is named by its kind and what tells it from others of its kind: "text:rome" (a file in
``texts``), "caption:3f…" (a photograph), "title:Rome" and "subtitle:Rome" (a chapter's place; the
book itself where none is named), "day:2025-05-12", and "way:0", "lodging:0" (counted as the
journey's choices have them).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from wayfold.book.edits import (
    Edit,
    SetCaption,
    SetDayNote,
    SetLeg,
    SetLodging,
    SetText,
    SetTitle,
)
from wayfold.book.state import Book, ChapterChoice
from wayfold.photos.model import Photo


def read_source(book: Book, photos: Mapping[str, Photo], source: str) -> str | None:
    """Give the words of a source; None where the person wrote none there."""
    kind, _, key = source.partition(":")
    match kind:
        case "text":
            return book.texts.get(key)
        case "caption":
            own = book.choice(key).caption
            return photos[key].caption if own is None and key in photos else own
        case "title" | "subtitle":
            title, subtitle = _read_titles(book, key)
            return title if kind == "title" else subtitle
        case "day":
            return next((d.note for d in book.journey.days if d.date.isoformat() == key), None)
        case "way":
            return book.journey.legs[int(key)].note
        case "lodging":
            return book.journey.lodgings[int(key)].note
    return None


def write_source(book: Book, source: str, words: str) -> Edit:
    """Give the edit that puts ``words`` in the place of those of a source."""
    kind, _, key = source.partition(":")
    match kind:
        case "text":
            return SetText(key, words)
        case "caption":
            return SetCaption(key, words)
        case "title":
            return SetTitle(key, words, _read_titles(book, key)[1])
        case "subtitle":
            return SetTitle(key, _read_titles(book, key)[0], words)
        case "day":
            return SetDayNote(date.fromisoformat(key), words)
        case "way":
            return SetLeg(replace(book.journey.legs[int(key)], note=words))
        case "lodging":
            return SetLodging(replace(book.journey.lodgings[int(key)], note=words))
    raise ValueError(f"no source is called {source!r}")


def _read_titles(book: Book, place: str) -> tuple[str | None, str | None]:
    if not place:
        return book.title, book.subtitle
    said = {chapter.place: chapter for chapter in book.chapters}
    chapter = said.get(place, ChapterChoice(place))
    return chapter.title, chapter.subtitle
