"""A sheet side as one drawing: what the printer is given, for the eye before it is printed."""

from __future__ import annotations

from collections.abc import Sequence

from wayfold.base.geometry import Affine, Size
from wayfold.drawing.items import Drawing, Placed
from wayfold.press.model import SheetSide


def draw_side(side: SheetSide, sheet: Size, drawings: Sequence[Drawing]) -> Drawing:
    """Give a side in its sheet space: pages, marks, and what is made good for the printer.

    ``drawings`` are what the slots count: page n is the n-th.
    """
    pages = (Placed(drawings[s.page - 1], s.transform, s.clip) for s in side.slots)
    label = side.marks.label
    whole = Drawing(label, sheet, 0.0, (*pages, *side.marks.items))
    if side.made_good == Affine():
        return whole
    return Drawing(label, sheet, 0.0, (Placed(whole, side.made_good),))
