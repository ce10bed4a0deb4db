"""The eight ways a picture's pixels can lie in its file (EXIF orientation, CIPA DC-008 4.6.4)."""

from __future__ import annotations

from wayfold.base.geometry import Rect
from wayfold.photos.model import SizePx


def turns_sideways(orientation: int) -> bool:
    """Whether width and height change places when the picture is stood upright."""
    return orientation in (5, 6, 7, 8)


def stand_upright(size: SizePx, orientation: int) -> SizePx:
    """Give the upright size of stored pixels (and the stored size of an upright picture)."""
    if turns_sideways(orientation):
        return SizePx(size.height_px, size.width_px)
    return size


def locate_stored(part: Rect, orientation: int) -> Rect:
    """Give where a part of the upright picture lies in the stored pixels (both in fractions)."""
    x, y = _stored_point(part.x, part.y, orientation)
    right, bottom = _stored_point(part.right, part.bottom, orientation)
    left, top = min(x, right), min(y, bottom)
    return Rect(left, top, max(x, right) - left, max(y, bottom) - top)


def _stored_point(x: float, y: float, orientation: int) -> tuple[float, float]:
    match orientation:
        case 2:
            return 1 - x, y
        case 3:
            return 1 - x, 1 - y
        case 4:
            return x, 1 - y
        case 5:
            return y, x
        case 6:
            return y, 1 - x
        case 7:
            return 1 - y, 1 - x
        case 8:
            return 1 - y, x
    return x, y
