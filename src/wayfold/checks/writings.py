"""Every text a reader of the book meets, with its place: what checks of wording look at."""

from __future__ import annotations

import enum
import re
from collections.abc import Iterator
from dataclasses import dataclass

from wayfold.checks.subject import Subject, list_placements, name_chapter
from wayfold.drawing.text import Paragraph
from wayfold.layout.notes import list_notes
from wayfold.story.model import BlockKind
from wayfold.words.punctuation import set_punctuation
from wayfold.words.texts import COLOPHON, FOREWORD

CLOSING = "closing"
_SPACES = re.compile(r"\s+")
_WITH_TEXTS = (BlockKind.OPENER, BlockKind.TEXT, BlockKind.ACCOUNT)


class Role(enum.Enum):
    """What a writing is to the reader."""

    TITLE = enum.auto()
    TEXT = enum.auto()
    CAPTION = enum.auto()
    NOTE = enum.auto()
    """A line of the itinerary or of a map's list."""
    COLOPHON = enum.auto()
    """Credits: names there are other people's, and so is their spelling."""


@dataclass(frozen=True, slots=True)
class Writing:
    """One paragraph or line that a person wrote, as it is printed.

    ``where`` is how findings name its place, ``what`` what stands there ("caption of a.jpg").
    ``source`` is what the person wrote it in, as ``checks.sources`` names it; "" where that is
    nothing that an edit changes.
    """

    where: str
    what: str
    text: str
    role: Role
    photo: str | None = None
    source: str = ""


def list_writings(subject: Subject) -> tuple[Writing, ...]:
    """Give what the person wrote, titles first, then texts, captions and the journey's notes.

    What the book says by itself (contents, day lines, dates under titles) is left out: one
    mechanism writes it, so that it agrees with itself.
    """
    return (
        *_list_titles(subject),
        *_list_texts(subject),
        *_list_captions(subject),
        *_list_notes(subject),
    )


def _list_titles(subject: Subject) -> Iterator[Writing]:
    book = subject.book
    named = {"title": book.title, "subtitle": book.subtitle, "author": book.author}
    for key, text in named.items():
        if text.strip():
            source = "" if key == "author" else f"{key}:"
            yield Writing(
                f"book.toml, {key}", key, _print(subject, text), Role.TITLE, source=source
            )
    for chapter in subject.story.chapters if subject.story else ():
        for key, text in (("title", chapter.title), ("subtitle", chapter.subtitle)):
            if text.strip():
                source = f"{key}:{chapter.place}" if chapter.place else ""
                printed = _print(subject, text)
                yield Writing(name_chapter(chapter), key, printed, Role.TITLE, source=source)


def _list_texts(subject: Subject) -> Iterator[Writing]:
    if subject.words is None:
        return
    keys = {FOREWORD: FOREWORD, CLOSING: CLOSING, COLOPHON: COLOPHON}
    for block in subject.story.blocks if subject.story else ():
        if block.kind in _WITH_TEXTS and block.text:
            keys[f"text:{block.id}"] = block.text
    for key, name in keys.items():
        if name not in subject.book.texts:
            continue
        role = Role.COLOPHON if name == COLOPHON else Role.TEXT
        paragraphs = subject.words.get(key)
        for paragraph in (*paragraphs, *(p for note in list_notes(paragraphs) for p in note)):
            text = _plain(paragraph)
            yield Writing(f"texts/{name}.md", "text", text, role, source=f"text:{name}")


def _list_captions(subject: Subject) -> Iterator[Writing]:
    if subject.words is None:
        return
    # A caption stands with its picture, or beside it where that fills its page.
    pages = {placed.photo: placed.where for placed in reversed(list_placements(subject))}
    for key, paragraphs in subject.words.paragraphs.items():
        kind, _, photo = key.partition(":")
        if kind == "caption":
            name = subject.name_photo(photo)
            where = pages.get(photo, f"photos.toml, {name}")
            text = " ".join(_plain(p) for p in paragraphs)
            source = f"caption:{photo}"
            yield Writing(where, f"caption of {name}", text, Role.CAPTION, photo, source)


def _list_notes(subject: Subject) -> Iterator[Writing]:
    said = subject.book.journey
    lines: list[tuple[str, str, str, str]] = []
    for number, leg in enumerate(said.legs):
        where = f"way from {leg.start} to {leg.end}"
        lines.append((where, "note", leg.note or "", f"way:{number}"))
    for number, lodging in enumerate(said.lodgings):
        where = f"lodging in {lodging.place}"
        lines += [
            (where, "name", lodging.name, ""),
            (where, "note", lodging.note or "", f"lodging:{number}"),
        ]
    lines += [(f"day {day.date}", "note", day.note, f"day:{day.date}") for day in said.days]
    for place in said.places:
        where = f"place in {place.town}"
        lines += [(where, "name", place.name, ""), (where, "note", place.note, "")]
    for where, what, text, source in lines:
        if text.strip():
            printed = _print(subject, text)
            yield Writing(f"trip.toml, {where}", what, printed, Role.NOTE, source=source)


def quote(text: str) -> str:
    """Give words as findings quote them: in curly quotes, with plain spaces."""
    return f"“{_SPACES.sub(' ', text)}”"


def join_quotes(texts: list[str], most: int = 3) -> str:
    """Give each different text once, quoted, and how many more there are."""
    different = list(dict.fromkeys(texts))
    shown = ", ".join(quote(t) for t in different[:most])
    more = len(different) - most
    return shown + (f" and {more} more" if more > 0 else "")


def _print(subject: Subject, text: str) -> str:
    return set_punctuation(text, subject.book.language)


def _plain(paragraph: Paragraph) -> str:
    return paragraph.plain.replace("\n", " ")
