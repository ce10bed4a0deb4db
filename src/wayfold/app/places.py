"""The folders of this machine, shown to the desk without their paths.

The browser is told a name and a handle, which means nothing to anyone but this run of the desk;
only folders that were shown can be asked for.
"""

from __future__ import annotations

import os
import secrets
import sys
import threading
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from wayfold.base.errors import NotFoundError
from wayfold.disk.refusals import explain_os_errors
from wayfold.photos.kinds import kind_of_name

MOST_SHOWN = 1000
MOST_COUNTED = 20_000
"""Entries of a folder that are looked at to say how many pictures it holds."""


@dataclass(frozen=True, slots=True)
class Place:
    """A folder: ``pictures`` lie right in it; ``has_book`` tells whether a book does."""

    handle: str
    name: str
    pictures: int
    has_book: bool


@dataclass(frozen=True, slots=True)
class Inside:
    """A folder and those in it; ``above`` leads from where one began down to it."""

    here: Place
    above: tuple[Place, ...]
    folders: tuple[Place, ...]
    unshown: int
    """Folders beyond those shown."""


class Places:
    """Folders by handles. Safe to use from several threads."""

    def __init__(self, home: Path | None = None) -> None:
        """``home`` is where one begins; without it the person's own folder."""
        self._home = (home or Path.home()).resolve()
        self._own_home = home is None
        self._paths: dict[str, Path] = {}
        self._handles: dict[Path, str] = {}
        self._lock = threading.Lock()

    def list_beginnings(self) -> tuple[Place, ...]:
        """Give the folders one would look in first: the person's own, and drives."""
        found = [self._home]
        if self._own_home:
            found += _list_drives(self._home)
        return tuple(self._show(path) for path in found if path.is_dir())

    def look_inside(self, handle: str) -> Inside:
        """Give the folders within one, in the order of their names; hidden ones are left out.

        Raises NotFoundError for a handle that was not given, or whose folder has gone.
        """
        path = self.find(handle)
        with explain_os_errors(path):
            names = sorted(_list_folders(path), key=str.casefold)
        shown = tuple(self._show(path / name) for name in names[:MOST_SHOWN])
        above = [p for p in reversed(path.parents) if p in self._handles]
        return Inside(
            self._show(path),
            tuple(self._show(p) for p in above),
            shown,
            max(0, len(names) - MOST_SHOWN),
        )

    def name(self, path: Path) -> str:
        """Give the handle of a folder, a new one the first time."""
        with self._lock:
            if path not in self._handles:
                handle = secrets.token_urlsafe(12)
                self._handles[path], self._paths[handle] = handle, path
            return self._handles[path]

    def find(self, handle: str) -> Path:
        """Give the folder of a handle. Raises NotFoundError for one that was not given."""
        with self._lock:
            path = self._paths.get(handle)
        if path is None:
            raise NotFoundError("This folder was not shown.", remedy="Choose it once more.")
        return path

    def _show(self, path: Path) -> Place:
        return Place(
            self.name(path),
            path.name or str(path),
            _count_pictures(path),
            (path / "book.toml").is_file(),
        )


def _list_folders(path: Path) -> Iterator[str]:
    with os.scandir(path) as entries:
        for entry in entries:
            try:
                if not entry.name.startswith(".") and entry.is_dir():
                    yield entry.name
            except OSError:
                continue  # a link into nowhere


def _count_pictures(path: Path) -> int:
    try:
        with os.scandir(path) as entries:
            return sum(
                1
                for _, entry in zip(range(MOST_COUNTED), entries, strict=False)
                if not entry.name.startswith(".") and kind_of_name(entry.name) is not None
            )
    except OSError:
        return 0  # it may not be looked into; asked for, it says why


def _list_drives(home: Path) -> Iterable[Path]:
    """Give where cards and drives appear, by system; common practice, no single source."""
    if sys.platform == "win32":
        return [Path(f"{letter}:\\") for letter in "DEFGHIJKLMNOPQRSTUVWXYZ"]
    if sys.platform == "darwin":
        return _list_children(Path("/Volumes"))
    mounted = (Path("/media") / home.name, Path("/run/media") / home.name, Path("/mnt"))
    return [child for place in mounted for child in _list_children(place)]


def _list_children(place: Path) -> list[Path]:
    try:
        return sorted(child for child in place.iterdir() if child.is_dir())
    except OSError:
        return []
