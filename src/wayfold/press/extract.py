"""Takes single sides out of a print file, as they are."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path


def extract_sheets(source: Path, sides: Sequence[int], target: Path) -> None:
    """Write the pages ``sides`` (from 0) of ``source`` into ``target``, in that order.

    The same input gives the same bytes; ``target`` is replaced only once all is written.
    """
    import pikepdf

    part = target.with_name(f".{target.name}.part")
    try:
        with pikepdf.open(source) as whole, pikepdf.new() as taken:
            for side in sides:
                taken.pages.append(whole.pages[side])
            taken.save(part, deterministic_id=True)
        part.replace(target)
    finally:
        part.unlink(missing_ok=True)
