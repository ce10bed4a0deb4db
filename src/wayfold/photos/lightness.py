"""How light each part of a photograph is: a few thousand numbers, to find calm places for type."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from wayfold.base.geometry import Rect
from wayfold.drawing.contrast import WORST
from wayfold.photos.colour import prepare_for_screen
from wayfold.photos.decode import open_part
from wayfold.photos.model import Photo, SizePx
from wayfold.photos.raster_pixels import import_vips
from wayfold.photos.refusals import RefusedError

FINE = 96
"""Cells along the longer side."""


Patches = npt.NDArray[np.float64]
"""Values of some cells, one after another."""


@dataclass(frozen=True)
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
        return tuple(self.cut(part.x, part.y, part.width, part.height).tolist())

    def cut(
        self, x: float, y: float, width: float, height: float, *, seen: bool = False
    ) -> Patches:
        """Give the same as patches; with ``seen`` as the eye steps lightness, 0 to 1."""
        top, bottom = _span(y, y + height, self.rows)
        left, right = _span(x, x + width, self.columns)
        return (self._seen if seen else self._cells)[top:bottom, left:right].ravel()

    @cached_property
    def _cells(self) -> Patches:
        return np.array(self.values).reshape(self.rows, self.columns)

    @cached_property
    def _seen(self) -> Patches:
        """CIE 1976 lightness L* / 100 (CIE 15: cube root, linear when dark)."""
        dark = self._cells * (29 / 3) ** 3 / 100.0
        return np.where(
            self._cells > (6 / 29) ** 3, np.round(1.16 * np.cbrt(self._cells) - 0.16, 12), dark
        )


def find_worst(pieces: Sequence[Patches], white: int, ink: float) -> float:
    """Give the luminance of the patch that ``ink`` is hardest to see on, as ``worst_ground`` does.

    ``white`` patches of white paper lie among the ``pieces``; where there is nothing, paper does.
    """
    values = np.concatenate((*pieces, np.ones(white)))
    if not len(values):
        return 1.0
    at = int(WORST * len(values))
    if ink <= values.min():
        return float(np.partition(values, at)[at])
    if ink >= values.max():
        return float(-np.partition(-values, at)[at])
    lighter, darker = np.maximum(values, ink), np.minimum(values, ink)
    order = np.argsort((lighter + 0.05) / (darker + 0.05), kind="stable")
    return float(values[order[at]])


def find_calm(pieces: Sequence[Patches], white: int, share: float) -> tuple[float, float]:
    """Give the value that ``share`` of the patches lie below, and the spread of them all."""
    values = np.concatenate((*pieces, np.ones(white)))
    if not len(values):
        return 1.0, 0.0
    at = int(share * len(values))
    return float(np.partition(values, at)[at]), float(values.std())


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
    return max(0, first), max(0, min(cells, last))
