"""What belongs to a book lies in its folder: no link of it leads to anything outside.

A book's folder may come from elsewhere, by a stick or a mail. Were its texts or its cache links,
what lies at their other ends would be shown as the book's, or written over. Photographs are the
one exception: where they lie is the person's own choice, and they are never written to.
"""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator
from pathlib import Path

from wayfold.base.errors import UserError
from wayfold.disk.refusals import explain_os_errors
from wayfold.project.files import BookFolder

_FOLDERS = ("texts", "tracks", "calendars", "streets", "styles", "fonts", "out", ".wayfold")
_FILES = (".toml", ".ics")


def require_inside(folder: BookFolder) -> None:
    """Raise UserError where a link of the book's own leads out of its folder."""
    root = os.path.realpath(folder.root)
    with explain_os_errors(folder.root):
        for link in _list_links(folder):
            end = os.path.realpath(link)
            if Path(end).exists() and not end.startswith(f"{root}{os.sep}"):
                raise UserError(
                    "This is a link that leads out of the book's folder, so nothing is read from "
                    "it and nothing written to it.",
                    where=folder.name_of(Path(link)),
                    remedy="Put the file or folder itself there in place of the link; only "
                    "photographs may lie elsewhere.",
                )


def _list_links(folder: BookFolder) -> Iterator[str]:
    with os.scandir(folder.root) as entries:
        for entry in entries:
            own = entry.name in _FOLDERS or entry.name.lower().endswith(_FILES)
            if own and entry.is_symlink():
                yield entry.path
    for name in _FOLDERS:
        yield from _list_under(folder.root / name, folder.cache)


def _list_under(top: Path, cache: Path) -> Iterator[str]:
    """Give the links under a folder; none is followed.

    The cache's many files are left to ``DiskCache``, which takes no link for a file.
    """
    if top.is_symlink() or not top.is_dir():
        return
    waiting = [os.fspath(top)]
    while waiting:
        path = waiting.pop()
        goes_on = not path.startswith(f"{cache}{os.sep}")
        # A folder that is gone by now, as one of a draft, leads nowhere.
        with contextlib.suppress(FileNotFoundError), os.scandir(path) as entries:
            for entry in entries:
                if entry.is_symlink():
                    yield entry.path
                elif goes_on and entry.is_dir():
                    waiting.append(entry.path)
