"""The identity of the ink on pages and sheet sides, and which sheets it changed on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from wayfold.base.hashing import hash_values
from wayfold.drawing.items import Drawing
from wayfold.drawing.pictures import list_pictures, picture_key
from wayfold.press.model import TwoSided


def identify_pages(
    drawings: Sequence[Drawing], page_files: Sequence[Path], pictures: Mapping[str, Path]
) -> dict[str, str]:
    """Give the identity of the ink of each page, by its number.

    The files' names are made of the content that they hold.
    """
    inks = {}
    for number, (drawing, file) in enumerate(zip(drawings, page_files, strict=True), start=1):
        shown = [pictures[picture_key(p)].name for p in list_pictures(drawing)]
        inks[str(number)] = hash_values(file.name, shown)
    return inks


def identify_sides(sheets: Sequence[TwoSided], pages: Mapping[str, str]) -> dict[str, str]:
    """Give the identity of the ink of each sheet side, by sheet label and side name."""
    sides = {}
    for sheet in sheets:
        for side in (sheet.front, sheet.back):
            inks = [pages[str(slot.page)] for slot in side.slots]
            sides[f"{sheet.label}, {side.name}"] = hash_values(side, sheet.size, inks)
    return sides


def list_changed_sheets(
    sheets: Sequence[TwoSided], before: Mapping[str, str], after: Mapping[str, str]
) -> tuple[str, ...]:
    """Name the sheets whose ink differs from the last make's; all of them the first time."""
    return tuple(
        sheet.label
        for sheet in sheets
        if any(
            before.get(f"{sheet.label}, {side.name}") != after[f"{sheet.label}, {side.name}"]
            for side in (sheet.front, sheet.back)
        )
    )
