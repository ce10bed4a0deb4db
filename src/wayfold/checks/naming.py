"""Texts of the book by names that their writer knows, instead of by the keys of ``words.Words``."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

from wayfold.base.findings import Finding
from wayfold.checks.subject import Subject
from wayfold.layout.model import TextFrame
from wayfold.words.dates import write_date

_KEY_IN_MESSAGE = re.compile(r"text '([^']+)'")


def name_text(subject: Subject, key: str) -> str:
    """Say "caption of a.jpg", "text texts/rome.md", "title of Rome"; keys of no known kind stay."""
    kind, _, rest = key.partition("#")[0].partition(":")
    if kind == "leaf":
        return f"{name_text(subject, rest)} on the leaf"
    if kind == "caption":
        return f"caption of {subject.name_photo(rest)}"
    if kind == "captions":
        photos = _photos_of(subject, rest)
        named = subject.name_photo(photos[0]) if photos else rest
        return f"captions of {named} and its neighbours"
    if kind == "notes":
        return f"footnotes of {name_text(subject, rest)}"
    if kind == "day":
        return f"day line of {write_date(date.fromisoformat(rest), 'en')}"
    if kind in ("opener", "running", "name") and subject.story and rest.isdecimal():
        title = subject.story.chapters[int(rest)].title
        return f"{'title' if kind == 'opener' else 'running head'} of {title}"
    if kind.startswith("folio"):
        return "page number"
    file = _file_of(subject, key.partition("#")[0])
    return f"text texts/{file}.md" if file in subject.book.texts else key


def name_in_finding(subject: Subject, finding: Finding) -> Finding:
    """Give a finding of an earlier stage with the names of texts in the place of their keys."""
    message = _KEY_IN_MESSAGE.sub(lambda m: name_text(subject, m[1]), finding.message)
    where = finding.where
    named = name_text(subject, where)
    if named != where:
        pages = [
            page.number
            for page in subject.pages
            if any(isinstance(f, TextFrame) and f.key == where for f in page.frames)
        ]
        message = f"In the {named}: {message}"
        where = f"page {pages[0]}" if pages else named
    return replace(finding, where=where, message=message)


def _photos_of(subject: Subject, block: str) -> tuple[str, ...]:
    blocks = subject.story.blocks if subject.story else ()
    return next((b.photos for b in blocks if b.id == block), ())


def _file_of(subject: Subject, key: str) -> str:
    """Give the name of a text's file: that of a block's text, else the key's own."""
    blocks = subject.story.blocks if subject.story else ()
    return next((b.text for b in blocks if b.text and key == f"text:{b.id}"), key)
