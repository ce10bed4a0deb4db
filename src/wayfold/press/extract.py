"""Takes single sides out of a print file, as they are."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

from wayfold.book.materials import BackOrder
from wayfold.disk.replacing import replace_file


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
        with part.open("r+b") as written:
            os.fsync(written.fileno())  # a power cut must not empty what takes the old one's name
        replace_file(part, target)
    finally:
        part.unlink(missing_ok=True)


def split_sides(source: Path, order: BackOrder, fronts: Path, backs: Path) -> None:
    """Write the fronts and the backs of ``source`` (front, back, front …) apart.

    The backs come in the order in which the printer draws in the turned pile.
    """
    import pikepdf

    with pikepdf.open(source) as whole:
        sides = len(whole.pages)
    extract_sheets(source, range(0, sides, 2), fronts)
    second = list(range(1, sides, 2))
    extract_sheets(source, second if order is BackOrder.SAME else second[::-1], backs)
