"""The stack of panoramas: two or three of them, one above the other, equally wide."""

from __future__ import annotations

from collections.abc import Sequence

from wayfold.base.geometry import Rect
from wayfold.layout.arrangement import Arrangement

FEWEST, MOST = 2, 3
PANORAMA = 2.0
"""A picture at least this many times as wide as high is a panorama."""
LEAST_FILL = 0.55
"""A stack takes at least this part of its box's height, or it is too little for a page."""
GOOD_FILL = 0.7
"""From this part on a stack could not be better for being higher."""


def arrange_stack(aspects: Sequence[float], box: Rect, gap: float) -> Arrangement | None:
    """Give 2-3 panoramas in order, all as wide as ``box``, from its top; None where none fits.

    Heights are W / aspect, ``gap`` mm apart. Fits where every aspect (width over height) is at
    least ``PANORAMA`` and the pictures with their gaps take 0.55 to all of the box's height. No
    picture is cropped.
    """
    if not FEWEST <= len(aspects) <= MOST or min(aspects) < PANORAMA:
        return None
    heights = [box.width / aspect for aspect in aspects]
    fill = (sum(heights) + (len(heights) - 1) * gap) / box.height
    if not LEAST_FILL - 1e-9 <= fill <= 1.0 + 1e-9:
        return None
    rects, y = [], box.y
    for height in heights:
        rects.append(Rect(box.x, y, box.width, height))
        y += height + gap
    return Arrangement(tuple(rects), min(1.0, fill / GOOD_FILL))
