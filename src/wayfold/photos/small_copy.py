"""The small copy of a photograph, as lists and rows on the screen show it."""

from __future__ import annotations

from typing import Any

from wayfold.photos.encode import encode_for_screen
from wayfold.photos.model import SizePx
from wayfold.photos.sharpen import sharpen_for_screen

SMALL_PX = 320
"""Its longer side: a picture over two pages drawn 60 mm wide comes to 140 ppi."""


def fit_size(size: SizePx, longest_px: int) -> SizePx:
    """Give a size of the same shape, at most ``longest_px`` long, and never larger."""
    scale = min(1.0, longest_px / max(size.width_px, size.height_px))
    return SizePx(max(1, round(size.width_px * scale)), max(1, round(size.height_px * scale)))


def make_small_copy(image: Any, size: SizePx) -> bytes:
    """Give the JPEG of an upright sRGB picture, whose photograph has the pixels of ``size``.

    ``image`` may be smaller than the photograph, but no smaller than the copy.
    """
    small = fit_size(size, SMALL_PX)
    if small == size:
        return encode_for_screen(image)
    across, down = small.width_px / image.width, small.height_px / image.height
    return encode_for_screen(sharpen_for_screen(image.resize(across, vscale=down)))
