"""How grainy a picture is in its even parts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
import numpy.typing as npt

from wayfold.base.geometry import Rect
from wayfold.photos.oklab import to_linear

CELL_PX = 8
MOST_PARTS = 24
EVENEST = 0.1
DARK, LIGHT = 10, 245
"""Of 255; beyond, noise is cut off."""

Floats = npt.NDArray[np.float64]


def measure_noise(patches: Sequence[npt.NDArray[Any]]) -> float:
    """Give the standard deviation of the noise in planes of numbers, in their unit.

    J. Immerkaer, "Fast Noise Variance Estimation", Computer Vision and Image Understanding 64(2),
    1996: what is left of the plane after the difference of two Laplacians, which flat and sloping
    parts do not pass. It holds for noise that is not smoothed. 0 where nothing is large enough.
    """
    total, count = 0.0, 0
    for patch in patches:
        if min(patch.shape) < 3:
            continue
        plane = np.asarray(patch, dtype=np.float64)
        rows = plane[:-2] - 2 * plane[1:-1] + plane[2:]
        both = rows[:, :-2] - 2 * rows[:, 1:-1] + rows[:, 2:]
        total += float(np.abs(both).sum())
        count += both.size
    return math.sqrt(math.pi / 2) / 6 * total / count if count else 0.0


def pick_even_parts(grey: npt.NDArray[np.uint8]) -> tuple[Rect, ...]:
    """Give the evenest tenth of a grey picture (0-255), spread over it, as parts of the whole.

    Parts near black and white are passed over.
    """
    rows, columns = (n // CELL_PX for n in grey.shape)
    if rows == 0 or columns == 0:
        return ()
    cells = grey[: rows * CELL_PX, : columns * CELL_PX].astype(np.int32)
    count = CELL_PX * CELL_PX
    total, squares = _sum_cells(cells), _sum_cells(cells * cells)
    mean, spread = total / count, count * squares - total * total
    usable = np.flatnonzero((mean >= DARK) & (mean <= LIGHT))
    wanted = max(1, round(EVENEST * rows * columns))
    evenest = np.sort(usable[np.argsort(spread[usable], kind="stable")[:wanted]])
    height, width = CELL_PX / grey.shape[0], CELL_PX / grey.shape[1]
    return tuple(
        Rect(cell % columns * width, cell // columns * height, width, height)
        for cell in (int(c) for c in evenest[:: max(1, -(-len(evenest) // MOST_PARTS))])
    )


def _sum_cells(values: npt.NDArray[np.int32]) -> npt.NDArray[np.int32]:
    """Give the sum of each square cell, row by row."""
    rows = values.shape[0] // CELL_PX
    tall = values.reshape(rows, CELL_PX, -1).sum(axis=1, dtype=np.int32)
    return np.asarray(tall.reshape(-1, CELL_PX).sum(axis=1, dtype=np.int32))


def to_lightness(grey: npt.NDArray[Any]) -> Floats:
    """Give L* (CIE 1976, 0-100) of grey sRGB values (0-255)."""
    luminance = to_linear(np.asarray(grey, dtype=np.float64) / 255.0)
    root = np.cbrt(luminance)
    return np.where(luminance > (6 / 29) ** 3, 116 * root - 16, luminance * (29 / 3) ** 3)
