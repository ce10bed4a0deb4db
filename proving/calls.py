"""Counts a program's calls to the file system beneath a folder, and does something at one of them.

Opening, making and removing files and folders, renaming and cutting off are seen by an audit hook
(which Python never takes out again, so it is put in once and armed when needed); writing through
to the disk (``os.fsync``) raises no event there and is wrapped.
"""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

WATCHED = frozenset(
    ("open", "os.rename", "os.remove", "os.mkdir", "os.rmdir", "os.truncate", "os.chmod")
)


class Calls:
    """The calls made beneath a folder while it is armed; ``seen`` says how many there were."""

    def __init__(self) -> None:
        """Watch from now on, armed for nothing yet."""
        self._root = ""
        self._at, self._do = -1, lambda: None
        self.seen = 0
        sys.addaudithook(self._hear)

    @contextlib.contextmanager
    def armed(
        self, root: Path, at: int = -1, do: Callable[[], None] = lambda: None
    ) -> Iterator[None]:
        """Call ``do`` instead of call number ``at`` (from 0) beneath ``root``; -1 only counts.

        What ``do`` raises, the call raises.
        """
        self.seen, self._at, self._do = 0, at, do
        sync = os.fsync

        def count_sync(handle: int) -> None:
            self._count()
            sync(handle)

        os.fsync = count_sync  # type: ignore[assignment]
        self._root = os.fspath(root)
        try:
            yield
        finally:
            self._root = ""
            os.fsync = sync

    def _hear(self, event: str, given: tuple[object, ...]) -> None:
        if not self._root or event not in WATCHED:
            return
        path = given[0]
        if isinstance(path, int):
            self._count()  # cut off by its handle
        elif isinstance(path, str | os.PathLike) and os.fspath(path).startswith(self._root):
            self._count()

    def _count(self) -> None:
        number, self.seen = self.seen, self.seen + 1
        if number == self._at:
            self._do()
