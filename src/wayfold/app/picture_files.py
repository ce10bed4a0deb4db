"""Which files lie in folders, and since when: known without reading any."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from pathlib import Path

FileList = tuple[tuple[str, int, int], ...]
"""Path, size in bytes and time of change in nanoseconds of each file, ordered by path."""


class PictureFiles:
    """What lies in the folders of photographs, looked at when first asked for and when told to."""

    def __init__(self) -> None:
        self._known: dict[tuple[Path, ...], FileList] = {}

    def list(self, folders: tuple[Path, ...]) -> FileList:
        """Give the files under ``folders`` as they were when last looked at."""
        if folders not in self._known:
            self._known = {folders: list_under(folders)}
        return self._known[folders]

    def look_again(self) -> bool:
        """Look anew at what was asked for last; give whether anything there has changed."""
        before = dict(self._known)
        self._known = {folders: list_under(folders) for folders in before}
        return self._known != before


def list_files(paths: Iterable[Path]) -> FileList:
    """Give size and time of files; one that is not there has -1 for both."""
    return tuple(sorted(_describe(path) for path in paths))


def list_under(folders: Iterable[Path]) -> FileList:
    """Give all files under folders, hidden ones passed over, links followed, no folder twice."""
    return tuple(sorted(_walk(folders)))


def _walk(folders: Iterable[Path]) -> Iterator[tuple[str, int, int]]:
    waiting, visited = [os.fspath(folder) for folder in folders], set()
    while waiting:
        folder = waiting.pop()
        try:
            status = Path(folder).stat()
            if (status.st_dev, status.st_ino) in visited:
                continue
            visited.add((status.st_dev, status.st_ino))
            with os.scandir(folder) as entries:
                for entry in entries:
                    if entry.name.startswith("."):
                        continue
                    if entry.is_dir():
                        waiting.append(entry.path)
                        continue
                    found = entry.stat()
                    yield entry.path, found.st_size, found.st_mtime_ns
        except OSError:
            # The reader of the folder says what is wrong with it; here it counts as not there.
            yield folder, -1, -1


def _describe(path: Path) -> tuple[str, int, int]:
    try:
        found = path.stat()
    except OSError:
        return os.fspath(path), -1, -1
    return os.fspath(path), found.st_size, found.st_mtime_ns
