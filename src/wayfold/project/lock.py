"""One program at a time: a lock on a file, which the system lets go when a program ends.

Whoever holds it writes into the file who it is, for those who wait in vain.
"""

from __future__ import annotations

import contextlib
import errno
import json
import os
import platform
import sys
import threading
import time
from collections import defaultdict
from collections.abc import Iterator
from datetime import datetime
from io import FileIO
from pathlib import Path

from wayfold.base.errors import ConflictError
from wayfold.disk.refusals import NO_ANSWER, explain_os_errors

PATIENCE_S = 20.0
"""A change takes a second at most; whoever holds the lock much longer is stuck or stopped."""
PATIENCE_AWAY_S = 3.0
"""As long for a program on another machine, which nobody here can look after."""
PAUSE_S, LONGEST_PAUSE_S = 0.001, 0.02
FAR = 1 << 30
"""Some systems let nobody read a byte that is locked; who holds the lock stands before it."""
_HELD = {errno.EACCES, errno.EAGAIN, errno.EWOULDBLOCK, getattr(errno, "EDEADLOCK", errno.EDEADLK)}
_WITHIN: defaultdict[Path, threading.Lock] = defaultdict(threading.Lock)
"""For the threads of this program, by the file."""


@contextlib.contextmanager
def hold_lock(path: Path) -> Iterator[None]:
    """Hold the lock on the file ``path`` while the block lasts, waiting a while for who has it.

    Threads of one program wait for each other as well. A file system that knows no locks is used
    without. Raises ConflictError saying who holds it, UserError where the file cannot be made.
    """
    until = time.monotonic() + PATIENCE_S
    within = _WITHIN[path]
    if not within.acquire(timeout=PATIENCE_S):
        raise _refuse(path)
    try:
        with explain_os_errors(path):
            path.parent.mkdir(parents=True, exist_ok=True)
            file = path.open("a+b", buffering=0)
        with file:
            held = _wait(file, path, until)
            try:
                _tell_who(file, _describe_self() if held else "")
                yield
            finally:
                if held:
                    _tell_who(file, "")
                    _let_go(file)
    finally:
        within.release()


def _wait(file: FileIO, path: Path, until: float) -> bool:
    """Wait for the lock; whether it is held then, which it is not where there are no locks."""
    began, pause = time.monotonic(), PAUSE_S
    while True:
        try:
            _take(file)
        except OSError as error:
            if error.errno in NO_ANSWER:
                with explain_os_errors(path):
                    raise
            if error.errno not in _HELD:
                return False
        else:
            return True
        away = _read_who(path).get("machine", platform.node()) != platform.node()
        if time.monotonic() > (min(until, began + PATIENCE_AWAY_S) if away else until):
            raise _refuse(path)
        time.sleep(pause)
        pause = min(2 * pause, LONGEST_PAUSE_S)


def _describe_self() -> str:
    words = [Path(sys.argv[0]).stem or "python", *sys.argv[1:2]]
    program = " ".join(word for word in words if word.isidentifier())
    who = {
        "program": program or "a program",
        "number": os.getpid(),
        "machine": platform.node(),
        "since": datetime.now().astimezone().isoformat(timespec="seconds"),
    }
    return json.dumps(who, ensure_ascii=False)


def _tell_who(file: FileIO, who: str) -> None:
    # Who holds it is told as a help; that a disk has no room for it is no reason to stop.
    with contextlib.suppress(OSError):
        file.truncate(0)
        if who:
            file.write(who.encode())


def _read_who(path: Path) -> dict[str, str]:
    try:
        who = json.loads(path.read_text(encoding="utf-8"))
        return {key: str(who[key]) for key in ("program", "number", "machine", "since")}
    except (OSError, ValueError, KeyError, TypeError):
        return {}


def _refuse(path: Path) -> ConflictError:
    who = _read_who(path)
    if not who:
        what, there = "Another program is changing this book", ""
    else:
        day, _, clock = who["since"].partition("T")
        what = f"This book is being changed by {who['program']} (process {who['number']})"
        what += f" since {clock[:8]} on {day}"
        away = who["machine"] != platform.node()
        there = f" on the machine {who['machine']}" if away else ""
    return ConflictError(
        f"{what}{there}.",
        where=str(path),
        remedy="Wait until it is done, or end that program; then try again. Nothing was changed.",
    )


if sys.platform == "win32":
    import msvcrt

    def _take(file: FileIO) -> None:
        file.seek(FAR)
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)

    def _let_go(file: FileIO) -> None:
        file.seek(FAR)
        msvcrt.locking(file.fileno(), msvcrt.LK_UNLCK, 1)

else:
    import fcntl

    def _take(file: FileIO) -> None:
        fcntl.flock(file.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)

    def _let_go(file: FileIO) -> None:
        fcntl.flock(file.fileno(), fcntl.LOCK_UN)
