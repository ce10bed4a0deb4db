"""Putting a finished file in its place: whole or not at all."""

from __future__ import annotations

import errno
import os
from pathlib import Path

from wayfold.base.errors import UserError


def place_file(target: Path, data: bytes) -> None:
    """Write ``data`` beside ``target`` and rename it into place.

    Raises UserError where the disk is full or the folder cannot be written to; then nothing is
    left behind and an older file at ``target`` is untouched.
    """
    part = target.with_name(f".{target.name}.{os.getpid()}.part")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        try:
            part.write_bytes(data)
            with part.open("r+b") as written:
                os.fsync(written.fileno())  # a power cut must not empty what takes the name
            part.replace(target)
        except BaseException:
            part.unlink(missing_ok=True)
            raise
    except OSError as error:
        raise UserError(_say_what(error), where=str(target), remedy=_say_remedy(error)) from error


def _say_what(error: OSError) -> str:
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return "The disk is full; the picture could not be written."
    return f"The picture could not be written: {error.strerror or error}."


def _say_remedy(error: OSError) -> str:
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return "Make room on the disk and try again; what is done already is kept."
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return "Give yourself the right to write there, or put the book's folder elsewhere."
    return "Check the disk and try again; what is done already is kept."
