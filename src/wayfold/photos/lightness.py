"""How light each part of a photograph is: a few thousand numbers, to find calm places for type."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from wayfold.base.geometry import Rect
from wayfold.photos.colour import prepare_for_screen
from wayfold.photos.decode import open_part
from wayfold.photos.model import Photo, SizePx
from wayfold.photos.raster_file import import_vips
from wayfold.photos.refusals import RefusedError

FINE = 96
"""Cells along the longer side."""


@dataclass(frozen=True, slots=True)
class Lightness:
    """Relative luminance (0 black to 1 white, linear light) of an upright picture, row by row."""

    columns: int
    values: tuple[float, ...]

    @property
    def rows(self) -> int:
        """How many rows there are."""
        return len(self.values) // self.columns

    def within(self, part: Rect) -> tuple[float, ...]:
        """Give the cells that ``part`` (fractions of the picture) touches; none outside it."""
        return tuple(self._walk(part))

    def _walk(self, part: Rect) -> Iterator[float]:
        top, bottom = _span(part.y, part.bottom, self.rows)
        left, right = _span(part.x, part.right, self.columns)
        for row in range(top, bottom):
            yield from self.values[row * self.columns + left : row * self.columns + right]


def measure_lightness(photo: Photo) -> Lightness | None:
    """Read how light a photograph is; None where its file cannot be read.

    Luminance is that of sRGB (IEC 61966-2-1): linearised, 0.2126 R + 0.7152 G + 0.0722 B.
    """
    longest = max(photo.size.width_px, photo.size.height_px)
    size = SizePx(
        max(1, round(FINE * photo.size.width_px / longest)),
        max(1, round(FINE * photo.size.height_px / longest)),
    )
    whole = Rect(0.0, 0.0, 1.0, 1.0)
    try:
        image = prepare_for_screen(open_part(photo, whole, size), photo.profile)
        rgb = np.asarray(image.numpy(), dtype=np.float64)[..., :3] / 255.0
    except (RefusedError, OSError, MemoryError, import_vips().Error):
        return None
    linear = np.where(rgb <= 0.04045, rgb / 12.92, ((rgb + 0.055) / 1.055) ** 2.4)
    luminance = linear @ np.array([0.2126, 0.7152, 0.0722])
    return Lightness(int(rgb.shape[1]), tuple(round(float(v), 4) for v in luminance.ravel()))


def _span(start: float, end: float, cells: int) -> tuple[int, int]:
    first, last = math.floor(start * cells + 1e-9), math.ceil(end * cells - 1e-9)
    return max(0, first), min(cells, last)
