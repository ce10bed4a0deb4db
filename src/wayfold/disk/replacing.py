"""Putting a file that is written to its end in the place of the one before."""

from __future__ import annotations

import time
from pathlib import Path

from wayfold.base.errors import UserError

HELD_OPEN = (5, 32, 33)
"""ERROR_ACCESS_DENIED, ERROR_SHARING_VIOLATION, ERROR_LOCK_VIOLATION (Microsoft, "System Error
Codes"): what Windows says of a file that another program has open."""
PAUSES_S = (0.01, 0.03, 0.1, 0.3, 0.6, 0.0)
"""Whoever reads a file, or looks for viruses in it, is done after a moment; a viewer is not."""


def replace_file(fresh: Path, target: Path) -> None:
    """Put ``fresh`` in the place of ``target``, waiting a moment for whoever has that open.

    Raises UserError where another program does not let go of it, OSError for all else.
    """
    for pause in PAUSES_S:
        try:
            fresh.replace(target)
        except PermissionError as error:
            if getattr(error, "winerror", None) not in HELD_OPEN:
                raise
            time.sleep(pause)
        else:
            return
    raise UserError(
        "This file cannot be replaced: another program has it open, or it is write-protected.",
        where=str(target),
        remedy="Close it there, or take the protection away, and try again; it is as it was.",
    )
