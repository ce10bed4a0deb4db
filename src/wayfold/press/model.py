"""What goes through the printer: sheets with two sides, pages put in their slots.

Sheet space: mm, origin at the sheet's top left corner as it lies for printing that side, y down.
A side's sheet space is the page image the printer is given for it, so the printer's margins lie
the same on both sides and nothing need be turned when printing.

Turning: what turns is the physical sheet, about an axis along its long or its short edges; a
square sheet counts as landscape. Turned about an upright axis, what is printed at (x, y) of the
back lies behind (width - x, y) of the front; turned about a level axis, behind (x, height - y).
The front always has the pages' heads up. The back has them up where the axis is upright, and is
turned by 180 degrees where it is level, so that after folding all heads are at the head. So a
landscape sheet keeps its head up when turned about the short edge, a portrait sheet when turned
about the long edge.

Margins of the printer are given with the sheet lying landscape. A sheet that lies portrait is
the landscape one turned a quarter clockwise: its head is what lay on the left.
"""

from __future__ import annotations

import enum
from dataclasses import dataclass
from typing import Protocol

from wayfold.base.geometry import Affine, Rect, Size
from wayfold.drawing.items import Drawing


class SideName(enum.StrEnum):
    """The two sides of a sheet; the front carries the outer pages and is printed first."""

    FRONT = "front"
    BACK = "back"


@dataclass(frozen=True, slots=True)
class Slot:
    """A page on a sheet side: ``transform`` takes page space to sheet space.

    What falls outside ``clip`` (sheet space: the trim grown by the bleed, cut at the fold) is not
    printed.
    """

    page: int
    transform: Affine
    clip: Rect


@dataclass(frozen=True, slots=True)
class SheetSide:
    """One side of a sheet: its pages, and its marks as a drawing of the sheet's size.

    ``slots`` are those of the left and the right page as they lie with heads up. ``trim`` (sheet
    space) is what is left of the sheet after the gathering is trimmed. ``made_good`` is done to all
    of it on its way to the printer, which does the contrary.
    """

    name: SideName
    slots: tuple[Slot, ...]
    marks: Drawing
    trim: Rect
    made_good: Affine = Affine()


class TwoSided(Protocol):
    """A sheet that is printed on both sides, whatever it is made of."""

    @property
    def label(self) -> str:
        """How findings and reports name it."""

    @property
    def size(self) -> Size:
        """The sheet as it lies for printing."""

    @property
    def front(self) -> SheetSide:
        """Printed first."""

    @property
    def back(self) -> SheetSide:
        """Printed second."""


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
        """How findings and reports name it: "gathering 2, sheet 1"."""
        return f"gathering {self.gathering}, sheet {self.index}"


@dataclass(frozen=True, slots=True)
class InterleafSheet:
    """A translucent sheet: folded round part of a gathering, or cut into two leaves to tip in.

    ``leaves`` are its leaves as (interleaf, end) of the plan, in reading order; their faces are
    pages 4 number - 3 (first leaf, recto) to 4 number (second leaf, verso) of the file of leaves.
    The first leaf is the right half of the front. ``mirrored`` says of each leaf whether its faces
    are printed mirrored, each from behind, to be read through it.
    """

    number: int
    leaves: tuple[tuple[int, int], ...]
    folded: bool
    size: Size
    front: SheetSide
    back: SheetSide
    mirrored: tuple[bool, ...] = ()

    @property
    def label(self) -> str:
        """How findings and reports name it: "interleaf sheet 3"."""
        return f"interleaf sheet {self.number}"
