"""Other versions of a book's files, which lie beside them under names that begin as theirs do.

Where two machines changed one file, whatever keeps their folders in step cannot know which is
wanted. It lets one keep its name and gives the other a longer one: "book (conflicted copy
2026-11-29).toml", "book-STUDIO.toml", "book 2.toml", "book.sync-conflict-20261129.toml". Such a
file is known by that shape and by what it holds, never by who wrote it. There are many texts, so of
one a longer name alone says little: it is a version of another where both say mostly the same.
Nothing is done to it until the person chooses; what is not chosen stays in history.
"""

from __future__ import annotations

import contextlib
import os
import re
import tomllib
from collections.abc import Container, Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from pathlib import Path

from wayfold.base.hashing import hash_bytes, hash_values
from wayfold.project.files import BookFolder

_MARK = re.compile(r"(?:[ ._~(\[-]|\d).*", re.DOTALL)
"""What stands between the beginning and the end of a table file's name."""
_TEXT_MARK = re.compile(r"[ ._-]*[(\[].*|(?i:.*conflict.*)| \d+|-[A-Z][A-Z0-9-]*", re.DOTALL)
"""What no text of its own is called by."""
_ALIKE = 0.5
"""Two texts of which the shorter shares so many of its pairs of words are versions of one: it is
far more than two that tell of different things share, and less than a day's changes leave."""
_FILES_KNOWN = 64


@dataclass(frozen=True, slots=True)
class OtherVersion:
    """A file beside ``of`` that another machine, or another hand, made of it.

    ``ours`` is what ``of`` holds; None where it is not there.
    """

    path: Path
    of: Path
    content: bytes
    ours: bytes | None

    @property
    def handle(self) -> str:
        """What it is chosen by: it holds as long as neither of the two changes."""
        mine = hash_bytes(self.ours) if self.ours is not None else None
        return hash_values(self.path.name, self.of.name, hash_bytes(self.content), mine)[:16]


def find_copies(folder: BookFolder) -> tuple[OtherVersion, ...]:
    """Give all other versions that lie in a book's folder, in the order of their names."""
    found: dict[Path, OtherVersion] = {}
    for path, of in _list_candidates(folder):
        if path in found:
            continue
        try:
            content = path.read_bytes()
            ours = of.read_bytes() if of.is_file() else None
            if _is_version(folder, OtherVersion(path, of, content, ours)):
                found[path] = OtherVersion(path, of, content, ours)
        except OSError:
            continue  # it is just being carried here or away; the next look finds it
    return tuple(found[path] for path in sorted(found))


def list_noted(folder: BookFolder) -> tuple[Path, ...]:
    """Give the files that the journal notes: decisions, and all other versions there are."""
    others = (copy.path for copy in find_copies(folder))
    return tuple(sorted({*folder.list_decisions(), *others}))


def pick_others(folder: BookFolder, names: Iterable[str]) -> frozenset[str]:
    """Give those of the files' ``names`` that are other versions, or were while they were there."""
    others = {copy.path for copy in find_copies(folder)}
    own = set(list_tables(folder))
    paths = ((name, folder.root / name) for name in names)
    # Styles come and go; of the other tables it is known how they are called.
    return frozenset(
        name
        for name, path in paths
        if path in others
        or (path.suffix == ".toml" and path not in own and path.name != "style.toml")
    )


def list_tables(folder: BookFolder) -> tuple[Path, ...]:
    """Give the table files that may have other versions, whether they are there or not."""
    return (
        folder.book_file,
        folder.photos_file,
        folder.trip_file,
        folder.materials_file,
        folder.plan_file,
        folder.ledger_file,
        folder.bench_file,
        *folder.styles.glob("*/style.toml"),
    )


def _list_candidates(folder: BookFolder) -> Iterator[tuple[Path, Path]]:
    """Give files whose names have the shape, each with those it may be another version of."""
    homes: dict[Path, list[str]] = {}
    for table in list_tables(folder):
        homes.setdefault(table.parent, []).append(table.name)
    for home, tables in homes.items():
        for name in _list_plain(home, ".toml"):
            known = set(_list_originals(name, tables, _MARK))
            of = next((table for table in tables if table in known), None)
            if of is not None and name not in tables:
                yield home / name, home / of
    texts = frozenset(_list_plain(folder.texts, ".md"))
    for name in texts:
        for of in sorted(_list_originals(name, texts, _MARK), key=lambda of: (len(of), of)):
            yield folder.texts / name, folder.texts / of


def _list_plain(folder: Path, ending: str) -> list[str]:
    """Give the names of a folder's files that end so; what is a link is none."""
    with (
        contextlib.suppress(FileNotFoundError, NotADirectoryError, PermissionError),
        os.scandir(folder) as entries,
    ):
        return [
            entry.name
            for entry in entries
            if entry.name.endswith(ending) and entry.is_file(follow_symlinks=False)
        ]
    return []


def _is_version(folder: BookFolder, copy: OtherVersion) -> bool:
    """Whether a file whose name has the shape is another version, by what it holds."""
    if copy.path.suffix != ".md":
        return _may_be_ours(copy.content)
    sure = any(_list_originals(copy.path.name, (copy.of.name,), _TEXT_MARK))
    if not sure and not _are_alike(copy.ours or b"", copy.content):
        return False
    return not _is_asked_for(folder, copy.path.stem)


def _list_originals(name: str, names: Container[str], mark: re.Pattern[str]) -> Iterator[str]:
    """Give those of ``names`` that a name is, but for a mark before its ending.

    "plan.lock.toml" has two endings: the mark may stand before either.
    """
    # Of many names few begin so: to ask for each beginning is less than to compare all with all.
    for end in (at for at, sign in enumerate(name) if sign == "."):
        for start in range(end):
            of = name[:start] + name[end:]
            if of in names and mark.fullmatch(name[start:end]):
                yield of


def _is_asked_for(folder: BookFolder, key: str) -> bool:
    """Whether a chapter or a photograph names the text, so that it is one of its own."""
    files: Iterable[Path] = (folder.book_file, folder.photos_file)
    asked = (f'"{key}"'.encode(), f"'{key}'".encode())
    held = [file.read_bytes() for file in files if file.is_file()]
    return any(word in content for content in held for word in asked)


@lru_cache(maxsize=_FILES_KNOWN)
def _may_be_ours(content: bytes) -> bool:
    """Whether a file says which format it is of, or is too broken to say: that one is told too."""
    try:
        return isinstance(tomllib.loads(content.decode()).get("version"), int)
    except ValueError:
        return bool(content.strip())


@lru_cache(maxsize=_FILES_KNOWN)
def _are_alike(one: bytes, other: bytes) -> bool:
    """Whether two texts say mostly the same."""
    words = (data.split() for data in (one, other))
    first, second = (set(pairwise(found)) for found in words)
    return len(first & second) > _ALIKE * min(len(first), len(second))
