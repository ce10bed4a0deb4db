"""Safe mends: a passage in what the person wrote becomes the same said in the book's own form.

Safe is only what takes nothing away and means nothing else, and what stands letter by letter in the
source: a passage with markup in it, or in a link, is left to the person.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from wayfold.base.findings import Finding, Rewording
from wayfold.book.edits import Edit, apply_edit
from wayfold.book.state import Book
from wayfold.checks.sources import read_source, write_source
from wayfold.checks.subject import Subject
from wayfold.checks.writings import Writing
from wayfold.photos.model import Photo

_KEPT = re.compile(r"(`[^`]*`|\]\([^)]*\)|<[^>]*>|\b[a-z]+://\S+)")
"""Code, the targets of links, and addresses: no words of the book."""
_TYPED = {
    "–": r"(?:–|(?<!-)--?(?!-))",
    "—": r"(?:—|---)",
    "’": "[’']",
    "‘": "[‘']",
    "…": r"(?:…|\.\.\.)",
}
"""How what is printed may have been typed (``words.punctuation``)."""
_SPACES = re.compile(r"\s+")


@dataclass(frozen=True, slots=True)
class Mending:
    """What can be mended at once, and the edits that do it, to be made one after the other."""

    rewordings: tuple[Rewording, ...]
    edits: tuple[Edit, ...]


def offer(
    subject: Subject, passages: Iterable[tuple[Writing, str, str | None]]
) -> tuple[Rewording, ...]:
    """Give the rewordings of a finding's passages, each printed so and to be written otherwise.

    There are none unless every passage can be mended: then the finding is gone.
    """
    offered: dict[Rewording, None] = {}
    for writing, old, new in passages:
        words = read_source(subject.book, subject.photos, writing.source) or ""
        if new is None or not _is_written(words, old):
            return ()
        offered[Rewording(writing.source, _plain(old), _plain(new))] = None
    return tuple(offered)


def plan_mending(
    book: Book,
    photos: Mapping[str, Photo],
    findings: Iterable[Finding],
    wanted: Collection[Rewording] | None = None,
) -> Mending:
    """Give the edits for all rewordings of the findings, or for the ``wanted`` ones of them.

    Of two for one passage the first counts.
    """
    by_source: dict[str, dict[str, Rewording]] = {}
    for one in (r for finding in findings for r in finding.rewordings):
        if wanted is None or one in wanted:
            by_source.setdefault(one.source, {}).setdefault(one.old, one)
    edits: list[Edit] = []
    done: list[Rewording] = []
    for source, found in by_source.items():
        before = read_source(book, photos, source) or ""
        words = before
        # The longer first: a date with its year before the same without.
        for one in sorted(found.values(), key=lambda r: -len(r.old)):
            after = reword(words, one.old, one.new)
            if after != words:
                words = after
                done.append(one)
        if words != before:
            edits.append(write_source(book, source, words))
            book = apply_edit(book, edits[-1])
    return Mending(tuple(done), tuple(edits))


def reword(words: str, old: str, new: str) -> str:
    """Give ``words`` with ``old``, where it stands for itself, written as ``new``."""
    pattern = _match(old)
    pieces = _KEPT.split(words)
    # What is kept as it is stands at the odd places.
    pieces[::2] = [pattern.sub(lambda _: new, piece) for piece in pieces[::2]]
    return "".join(pieces)


def _is_written(words: str, old: str) -> bool:
    pattern = _match(old)
    return any(pattern.search(piece) for piece in _KEPT.split(words)[::2])


def _match(old: str) -> re.Pattern[str]:
    parts = [r"\s+" if c.isspace() else _TYPED.get(c, re.escape(c)) for c in _plain(old)]
    return re.compile(rf"(?<![\w#]){''.join(parts)}(?!\w)")


def _plain(text: str) -> str:
    """Give a text with plain single spaces, as one types it."""
    return _SPACES.sub(" ", text)
