"""Trying a folder: room, writing that lasts, replacing, locks, names. Nothing is left there."""

from __future__ import annotations

import shutil
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from wayfold.app.beside import Beside
from wayfold.app.doctor.tried import Standing, Tried, try_one
from wayfold.disk.placing import write_whole
from wayfold.disk.refusals import explain_os_errors
from wayfold.project.lock import hold_lock

LEAST_FREE_MB = 300
"""The demo, of 76 pages, has 155 MB of print files and cache (measured), and a file is written
beside the old one before it takes its place."""
LOCK_WAIT_S = 0.2
ANSWER_S = 30.0
LONG_PATH = 300
"""More signs than Windows takes unless it is told to (MAX_PATH, 260: Microsoft, "Maximum Path
Length Limitation")."""
_ELSEWHERE = "Put the book's folder on a disk of this machine."


def try_folder(folder: Path, group: str) -> Iterator[Tried]:
    """Try all that a book asks of the place it lies in."""
    yield try_one(group, "Room", lambda: judge_room(shutil.disk_usage(folder).free, group), "")
    try:
        with explain_os_errors(folder):
            scratch = tempfile.TemporaryDirectory(
                dir=folder, prefix=".wayfold-tried-", ignore_cleanup_errors=True
            )
    except Exception as error:
        yield Tried(group, "Writing", Standing.FAILS, _tell(error), _ELSEWHERE)
        return
    with scratch as name:
        place = Path(name)
        yield try_one(group, "Writing", lambda: _try_writing(place), _ELSEWHERE)
        yield try_one(group, "Locks", lambda: _try_lock(place, group), _ELSEWHERE)
        yield try_one(group, "Names", lambda: _try_names(place, group), _ELSEWHERE)
        yield try_one(group, "Long paths", lambda: _try_long_path(place, group), _ELSEWHERE)


def judge_room(free_bytes: int, group: str) -> Tried:
    """Say whether so much free room is enough for a book."""
    free_mb = free_bytes / 1e6
    shown = f"{free_mb / 1000:.1f} GB" if free_mb >= 1000 else f"{free_mb:.0f} MB"
    if free_mb < LEAST_FREE_MB:
        return Tried(
            group,
            "Room",
            Standing.FAILS,
            f"Only {shown} are free.",
            f"Make room: a book wants {LEAST_FREE_MB} MB and more while it is made.",
        )
    return Tried(group, "Room", Standing.WORKS, f"{shown} are free.")


def _try_writing(place: Path) -> str:
    file = place / "replaced.toml"
    for data in (b"first", b"then another"):
        write_whole(file, data)
        if file.read_bytes() != data:
            raise RuntimeError("what is written comes back as something else")
    if [path.name for path in place.iterdir()] != [file.name]:
        raise RuntimeError("replacing a file leaves something behind")
    return "Files are written so that they last, and replaced whole."


def _try_lock(place: Path, group: str) -> Tried:
    """A second program must wait for the first."""
    lock, knock = place / "lock", place / "knock"
    with Beside() as other:
        other.start(worth=True)
        with hold_lock(lock):
            waiting = other.begin(enter_lock, lock, knock)
            _wait_for(knock)
            time.sleep(LOCK_WAIT_S)
            let_go = time.time()
        entered = waiting.result(ANSWER_S)
    if entered >= let_go:
        told = "Two programs on one book wait for each other."
        return Tried(group, "Locks", Standing.WORKS, told)
    return Tried(
        group,
        "Locks",
        Standing.WITHOUT,
        "This place knows no locks: two programs on one book would not wait for each other.",
        "Open the book on one machine, and once, at a time.",
    )


def enter_lock(lock: Path, knock: Path) -> float:
    """In another process: say that one is about to take the lock; give when one had it (s)."""
    knock.write_bytes(b"")
    with hold_lock(lock):
        return time.time()


def _wait_for(file: Path) -> None:
    ends = time.monotonic() + ANSWER_S
    while not file.exists():
        if time.monotonic() > ends:
            raise RuntimeError("a second process did not answer")
        time.sleep(0.01)


def _try_names(place: Path, group: str) -> Tried:
    name = "Évora – Kraków 語.txt"
    (place / name).write_bytes(b"")
    if not (place / name).is_file():
        raise RuntimeError("a file with accents in its name is not found again")
    (place / "Case").write_bytes(b"")
    same = (place / "cASE").exists()
    told = "capital and small letters make the same name" if same else "capitals make another name"
    return Tried(group, "Names", Standing.WORKS, f"Accents are kept; {told}.")


def _try_long_path(place: Path, group: str) -> Tried:
    deep = place
    while len(str(deep)) < LONG_PATH:
        deep /= "a folder in a folder in a folder"
    try:
        deep.mkdir(parents=True)
        (deep / "file").write_bytes(b"")
    except OSError:
        return Tried(
            group,
            "Long paths",
            Standing.WITHOUT,
            "Paths of more than about 260 signs are refused here.",
            "Keep the book's folder near the root of the drive, and names short.",
        )
    return Tried(group, "Long paths", Standing.WORKS, "Long paths are taken.")


def _tell(error: Exception) -> str:
    return str(error).partition("\n")[0] or type(error).__name__
