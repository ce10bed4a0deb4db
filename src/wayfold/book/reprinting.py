"""What counts as a change when printed sheets are compared with the book as it is now."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Reprinting:
    """``ignore_shift`` (mm): a page that lies no further off than this is not printed again.

    ``ignore_marks`` does the same for the fold, trim and collating marks. Whatever is ignored is
    said.
    """

    ignore_shift: float = 0.0
    ignore_marks: bool = False
