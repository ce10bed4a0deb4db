"""How like two pictures are: 64 bits from the coarsest waves of the grey picture.

The picture is averaged down to 32 x 32; of its cosine transform (DCT-II) the 8 x 8 lowest waves
above the mean are kept, each as one bit: above their median or not. A change of light or size
leaves the bits alone, another scene flips about half of them.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
import numpy.typing as npt

from wayfold.base.geometry import Rect
from wayfold.photos.colour import prepare_for_screen
from wayfold.photos.decode import open_part
from wayfold.photos.model import Photo, SizePx
from wayfold.photos.raster_file import import_vips
from wayfold.photos.refusals import RefusedError

SIDE_PX = 32
WAVES = 8
BITS = WAVES * WAVES


def read_likeness(photo: Photo) -> str | None:
    """Give the likeness of a photograph's file; None where it cannot be read."""
    size = SizePx(min(SIDE_PX, photo.size.width_px), min(SIDE_PX, photo.size.height_px))
    try:
        image = open_part(photo, Rect(0.0, 0.0, 1.0, 1.0), size)
        grey = prepare_for_screen(image, photo.profile).colourspace("b-w")
        values = np.asarray(grey.numpy(), dtype=np.float64)
    except (RefusedError, OSError, MemoryError, import_vips().Error):
        return None
    return hash_likeness(values.reshape(size.height_px, size.width_px))


def hash_likeness(grey: npt.NDArray[Any]) -> str:
    """Give 64 bits, in 16 hexadecimal digits, of an upright grey picture of any size.

    A picture without any drawing, one colour all over, gives all zeros.
    """
    small = _average(np.asarray(grey, dtype=np.float64))
    cosines = _make_cosines()
    waves = cosines @ small @ cosines.T
    # What is left of rounding in an even picture must not become a pattern.
    waves[np.abs(waves) < 1e-6] = 0.0
    bits = (waves > np.median(waves)).ravel()
    return f"{int(''.join('1' if b else '0' for b in bits), 2):016x}"


def count_unlike(one: str, other: str) -> int:
    """Give in how many of the 64 bits two likenesses differ."""
    return (int(one, 16) ^ int(other, 16)).bit_count()


def _average(grey: npt.NDArray[Any]) -> npt.NDArray[Any]:
    for axis in (0, 1):
        grey = np.moveaxis(_shrink_rows(np.moveaxis(grey, axis, 0)), 0, axis)
    return grey


def _shrink_rows(rows: npt.NDArray[Any]) -> npt.NDArray[Any]:
    """Give the means of ``SIDE_PX`` equal shares of the rows, parts of a row counted as parts."""
    total = np.concatenate([np.zeros((1, rows.shape[1])), np.cumsum(rows, axis=0)])
    at = np.linspace(0.0, len(rows), SIDE_PX + 1)
    low = np.minimum(at.astype(int), len(rows) - 1)
    edges = total[low] + (at - low)[:, None] * (total[low + 1] - total[low])
    return np.asarray(np.diff(edges, axis=0) * (SIDE_PX / len(rows)))


@cache
def _make_cosines() -> npt.NDArray[Any]:
    # The constant wave is the picture's lightness: it tells nothing of what is in it.
    wave = np.arange(1, WAVES + 1)[:, None]
    return np.asarray(np.cos(np.pi * wave * (2 * np.arange(SIDE_PX) + 1) / (2 * SIDE_PX)))
