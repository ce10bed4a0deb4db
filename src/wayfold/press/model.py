"""What goes through the printer: sheets with two sides, pages put in their slots.

Sheet space: mm, origin at the sheet's top left corner as it lies for printing that side, y down.
"""

from __future__ import annotations

import enum
from dataclasses import dataclass

from wayfold.base.geometry import Affine, Rect, Size
from wayfold.drawing.items import Drawing


class SideName(enum.StrEnum):
    """The two sides of a sheet; the front carries the outer pages and is printed first."""

    FRONT = "front"
    BACK = "back"


@dataclass(frozen=True, slots=True)
class Slot:
    """A page on a sheet side: ``transform`` takes page space to sheet space; what falls outside
    ``clip`` (sheet space: the trim grown by the bleed, cut at the fold) is not printed."""

    page: int
    transform: Affine
    clip: Rect


@dataclass(frozen=True, slots=True)
class SheetSide:
    """One side of a sheet: its pages, and its marks as a drawing of the sheet's size."""

    name: SideName
    slots: tuple[Slot, ...]
    marks: Drawing


@dataclass(frozen=True, slots=True)
class PressSheet:
    """One sheet of a gathering; ``index`` 1 is the outermost."""

    gathering: int
    index: int
    size: Size
    front: SheetSide
    back: SheetSide

    @property
    def label(self) -> str:
        """ "gathering 2, sheet 1": how findings and reports name it."""
        return f"gathering {self.gathering}, sheet {self.index}"
