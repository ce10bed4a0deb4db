"""One program at a time: a lock on a file, which the system lets go when a program ends."""

from __future__ import annotations

import contextlib
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO

from wayfold.project.files import explain_os_errors


@contextlib.contextmanager
def hold_lock(path: Path) -> Iterator[None]:
    """Hold the lock on the file ``path`` while the block lasts, waiting for whoever has it.

    Threads of one program wait for each other as well. A file system that knows no locks is used
    without. Raises UserError where the file cannot be made.
    """
    with explain_os_errors(path):
        path.parent.mkdir(parents=True, exist_ok=True)
        file = path.open("ab")
    with file:
        held = _lock(file)
        try:
            yield
        finally:
            if held:
                _let_go(file)


if sys.platform == "win32":
    import msvcrt

    def _lock(file: BinaryIO) -> bool:
        while True:
            try:
                file.seek(0)
                msvcrt.locking(file.fileno(), msvcrt.LK_LOCK, 1)
            except OSError:
                continue  # it gives up after ten seconds
            return True

    def _let_go(file: BinaryIO) -> None:
        file.seek(0)
        msvcrt.locking(file.fileno(), msvcrt.LK_UNLCK, 1)

else:
    import fcntl

    def _lock(file: BinaryIO) -> bool:
        try:
            fcntl.flock(file.fileno(), fcntl.LOCK_EX)
        except OSError:
            return False
        return True

    def _let_go(file: BinaryIO) -> None:
        fcntl.flock(file.fileno(), fcntl.LOCK_UN)
