"""What a disk refuses, in words: what happened and what to do about it."""

from __future__ import annotations

import contextlib
import errno
import shutil
from collections.abc import Iterator
from pathlib import Path

from wayfold.base.errors import NotFoundError, UserError

KILOBYTE, MEGABYTE = 1000, 1_000_000


def _list(*names: str) -> frozenset[int]:
    """Give the numbers of errors by their names; a system has not all of them."""
    return frozenset(getattr(errno, name) for name in names if hasattr(errno, name))


NO_ROOM = _list("ENOSPC", "EDQUOT")
TOO_LONG = _list("ENAMETOOLONG")
NOT_ALLOWED = _list("EACCES", "EPERM", "EROFS")
NO_ANSWER = _list(
    *("EIO", "ESTALE", "ENODEV", "ENXIO", "ENOTCONN", "EHOSTDOWN", "EHOSTUNREACH", "EREMOTEIO"),
    *("ESHUTDOWN", "ENOMEDIUM"),
)
"""A drive that was pulled out or is failing, or a network drive that is out of reach."""


def explain_refusal(error: OSError, where: str, room: str = "") -> UserError | None:
    """Say what a disk refused at ``where``; None for what is no matter of disks.

    ``room`` says how much room is needed and how much there is, where that is known.
    """
    if error.errno in NO_ROOM:
        return UserError(
            f"The disk is full.{room and f' {room}'}",
            where=where,
            remedy="Make room and try again; nothing of yours was changed.",
        )
    if error.errno in NOT_ALLOWED:
        return UserError(
            "This place cannot be written to.",
            where=where,
            remedy="Allow writing there, or copy the book folder to a place you may write to.",
        )
    if error.errno in NO_ANSWER:
        return UserError(
            "The drive does not answer.",
            where=where,
            remedy="See that it is connected and well, then try again; what was kept before is "
            "kept. A drive that fails again is not to be trusted: copy the book's folder to "
            "another.",
        )
    if error.errno in TOO_LONG:
        return UserError(
            "The name is longer than this disk takes.",
            where=where,
            remedy="Give it a shorter one, then try again; nothing of yours was changed.",
        )
    if isinstance(error, NotADirectoryError | FileExistsError):
        return UserError(
            "A file lies where a folder is to be.",
            where=where,
            remedy="Move that file away or give it another name, then try again.",
        )
    if isinstance(error, IsADirectoryError):
        return UserError(
            "A folder lies where a file is to be.",
            where=where,
            remedy="Move that folder away or give it another name, then try again.",
        )
    if isinstance(error, FileNotFoundError):
        return NotFoundError(
            "This file or folder is not there (any more).",
            where=where,
            remedy="Connect the drive or put it back, then try again.",
        )
    return None


@contextlib.contextmanager
def explain_os_errors(path: Path, needed: int | None = None) -> Iterator[None]:
    """Turn what a disk refuses into a UserError that says what to do.

    ``needed`` is how many bytes were to be written to ``path``, where that is known.
    """
    try:
        yield
    except OSError as error:
        # Where it is written, and not under what name it waits for that.
        where = str(path if needed is not None else error.filename2 or error.filename or path)
        told = explain_refusal(error, where, _tell_room(path, needed))
        if told is None:
            raise
        raise told from error


def _tell_room(path: Path, needed: int | None) -> str:
    if needed is None:
        return ""
    there = next((folder for folder in path.parents if folder.is_dir()), None)
    if there is None:
        return ""
    try:
        free = shutil.disk_usage(there).free
    except OSError:
        return ""
    return f"{tell_bytes(needed)} are to be written, and {tell_bytes(free)} are free."


def tell_bytes(count: int) -> str:
    """Say how much room something takes, rounded up: 1 kB, 12 kB, 3.4 MB."""
    if count < MEGABYTE:
        return f"{-(-count // KILOBYTE)} kB"
    return f"{-(-10 * count // MEGABYTE) / 10:.1f} MB"
