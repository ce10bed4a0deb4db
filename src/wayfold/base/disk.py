"""What a disk refuses, in words: what happened and what to do about it."""

from __future__ import annotations

import errno

from wayfold.base.errors import NotFoundError, UserError


def _list(*names: str) -> frozenset[int]:
    """Give the numbers of errors by their names; a system has not all of them."""
    return frozenset(getattr(errno, name) for name in names if hasattr(errno, name))


NO_ROOM = _list("ENOSPC", "EDQUOT")
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
    if isinstance(error, FileNotFoundError):
        return NotFoundError(
            "This file or folder is not there (any more).",
            where=where,
            remedy="Connect the drive or put it back, then try again.",
        )
    return None
