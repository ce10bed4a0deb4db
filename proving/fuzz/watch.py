"""Watches a process for what it must not do: write outside its room, start programs, connect."""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Iterator
from pathlib import Path

WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND
CHANGES = {
    "os.remove": 1, "os.rmdir": 1, "os.mkdir": 1, "os.chmod": 1, "os.chown": 1, "os.rename": 2,
    "os.link": 2,
}  # fmt: skip
"""Events of the audit (PEP 578) that change a disk, with how many paths come first; as many
handles of the folders that the paths are relative to come last, or -1."""
CONNECTS = "socket.connect"
FORBIDDEN = ("subprocess.Popen", "os.system", "os.exec", "os.posix_spawn", CONNECTS)


class Watch:
    """What was caught since the watching began."""

    def __init__(self, room: Path) -> None:
        """Allow writing below ``room`` only, for as long as the process lives."""
        self._room = os.path.realpath(room) + os.sep
        self._on = False
        self.caught: list[str] = []
        sys.addaudithook(self._hear)

    @contextlib.contextmanager
    def watching(self) -> Iterator[None]:
        """Watch while the block lasts, from nothing caught."""
        self.caught, self._on = [], True
        try:
            yield
        finally:
            self._on = False

    def _hear(self, event: str, told: tuple[object, ...]) -> None:
        if not self._on:
            return
        if event == "open":
            flags = told[2]
            if isinstance(flags, int) and flags & WRITES:
                self._check(event, told[0])
        elif event in CHANGES:
            count = CHANGES[event]
            for path, folder in zip(told[:count], told[-count:], strict=True):
                self._check(event, path, folder)
        elif event == CONNECTS and isinstance(told[1], str | bytes):
            self._check(event, told[1])  # a socket that is a file: to the product's own processes
        elif event in FORBIDDEN:
            self.caught.append(f"{event} {told[-1]!r}"[:100])

    def _check(self, event: str, path: object, folder: object = None) -> None:
        if not isinstance(path, str | bytes | os.PathLike):
            return  # a file that is open already
        within = f"/proc/self/fd/{folder}" if isinstance(folder, int) and folder >= 0 else ""
        full = os.path.realpath(Path(within, os.fsdecode(path)))
        if not (full + os.sep).startswith(self._room) and full != os.devnull:
            self.caught.append(f"{event} {full}")
