"""Which picture is which, over time: files come and go, a picture keeps its id.

Pure: given what lies in the folders now and what the book remembers, say who is who.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from wayfold.photos.catalogue import KnownFile

ID_DIGITS = 12


@dataclass(frozen=True, slots=True)
class SeenFile:
    """A file that lies in the folders now."""

    path: str
    content: str


@dataclass(frozen=True, slots=True)
class Identified:
    """One picture: its id, its bytes, the file it is read from and further files like it."""

    id: str
    content: str
    path: str
    copies: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Matching:
    """Every picture in order of path, and the ids that have no file any more."""

    pictures: tuple[Identified, ...]
    missing: tuple[str, ...]


def match_files(files: Iterable[SeenFile], known: Mapping[str, KnownFile]) -> Matching:
    """Give every file's picture an id.

    1. The same bytes as an id had last time: the same picture, wherever the file lies.
    2. Another content under a known path, and the old bytes lie nowhere: edited elsewhere, so
       the same picture with new content.
    3. Anything else is new and gets the first digits of its content as id.

    Files of the same bytes are one picture; it is read from the path the book knows, else from
    the first in order. Where two known ids come to have the same bytes, one keeps them (the one
    whose bytes they were, then the one whose path it is, then the lower id) and the other is
    missing. The order of ``files`` and ``known`` does not matter. Paths in ``files`` are unique.
    """
    seen = {file.path: file.content for file in files}
    paths: dict[str, list[str]] = {}
    for path in sorted(seen):
        paths.setdefault(seen[path], []).append(path)

    owner = _match_contents(paths, known)
    owner |= _match_paths(seen, known, owner)
    taken = {*known, *owner.values()}
    for content in sorted(paths.keys() - owner.keys()):
        owner[content] = _new_id(content, taken)
        taken.add(owner[content])

    pictures = [_describe(owner[c], c, lie, known.get(owner[c])) for c, lie in paths.items()]
    found = {p.id for p in pictures}
    return Matching(
        tuple(sorted(pictures, key=lambda p: p.path)),
        tuple(sorted(i for i in known if i not in found)),
    )


def _match_contents(
    paths: Mapping[str, list[str]], known: Mapping[str, KnownFile]
) -> dict[str, str]:
    """Give the owner of each content that a known id had."""
    owner: dict[str, str] = {}
    by_claim = sorted(
        known, key=lambda i: (known[i].path not in paths.get(known[i].content, ()), i)
    )
    for picture in by_claim:
        content = known[picture].content
        if content in paths:
            owner.setdefault(content, picture)
    return owner


def _match_paths(
    seen: Mapping[str, str], known: Mapping[str, KnownFile], owner: Mapping[str, str]
) -> dict[str, str]:
    """Give the owner of each new content that lies under a known path."""
    edited: dict[str, str] = {}
    for picture in sorted(known):
        old = known[picture]
        if old.content in owner:  # The old bytes are still about: nothing was edited.
            continue
        content = seen.get(old.path)
        if content is not None and content not in owner:
            edited.setdefault(content, picture)
    return edited


def _new_id(content: str, taken: set[str]) -> str:
    for digits in range(ID_DIGITS, len(content) + 1):
        if content[:digits] not in taken:
            return content[:digits]
    # Only a book whose ids were written by hand gets here; any free name will do.
    number = 2
    while f"{content}-{number}" in taken:
        number += 1
    return f"{content}-{number}"


def _describe(picture: str, content: str, lie: list[str], old: KnownFile | None) -> Identified:
    path = old.path if old is not None and old.path in lie else lie[0]
    return Identified(picture, content, path, tuple(p for p in lie if p != path))
