"""Where the eye goes in a picture: what stands out from its own pattern, the middle, and faces.

Spectral residual (X. Hou and L. Zhang, "Saliency Detection: A Spectral Residual Approach", CVPR
2007): the logarithm of the amplitudes less its own local mean, brought back with the phases. It
finds lone subjects, and tells little of a picture that is busy all over.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Any

import numpy as np
import numpy.typing as npt

from wayfold.photos.averaging import average_down
from wayfold.photos.look import Face, Salience, Shares
from wayfold.photos.oklab import to_oklab

CELLS = 32
"""Cells of the result along the longer side."""
FINE = 2
"""Cells of the reckoning, each way, to one of the result: 64, as in the paper."""
LEAD = 3
"""A third of the picture is led on at each side."""
BLUR = 2.5
FACE_WEIGHT = 5.0
"""How far the middle of a face stands above the best of the rest."""
BASE = 0.05
"""What is left to the parts that do not stand out at all."""
EVEN = 0.004
"""Channels that vary less (OKLab, standard deviation) hold no drawing, only what rounding left."""

Floats = npt.NDArray[np.float64]


def measure_salience(rgb: npt.NDArray[Any], faces: Sequence[Face]) -> Salience:
    """Give the shares of attention in an upright sRGB picture (rows, columns, 3; 0-255)."""
    height, width = rgb.shape[:2]
    columns = max(1, round(CELLS * width / max(width, height)))
    rows = max(1, round(CELLS * height / max(width, height)))
    fine_rows, fine_columns = FINE * rows, FINE * columns
    small = np.stack([average_down(rgb[..., i], fine_rows, fine_columns) for i in range(3)], axis=2)
    field = _stand_out(to_oklab(small / 255.0)) * (0.7 + 0.3 * _bell(fine_rows, fine_columns))
    for face in faces:
        field += FACE_WEIGHT * _blob(face, fine_rows, fine_columns)
    shares = average_down(field, rows, columns)
    shares /= shares.sum()
    return Salience(columns, rows, Shares.of(shares.ravel()))


def _stand_out(lab: Floats) -> Floats:
    """Give ``BASE`` to 1 for each cell; all 1 where the picture is one even colour."""
    found = np.zeros(lab.shape[:2])
    for channel in np.moveaxis(lab, 2, 0):
        drawn = float(channel.std())
        if drawn > EVEN:
            residual = _find_residual(channel)
            found += drawn * residual / max(float(residual.max()), 1e-12)
    most = float(found.max())
    return BASE + (1 - BASE) * found / most if most > 0 else np.ones_like(found)


def _find_residual(channel: Floats) -> Floats:
    # A transform takes a picture as one of many tiles and finds an edge wherever its sides do not
    # match: it is led on by its own reflection, which fades to grey before the tiles meet.
    rows, columns = channel.shape
    down, across = rows // LEAD, columns // LEAD
    led = np.pad(channel - channel.mean(), ((down, down), (across, across)), mode="reflect")
    led *= _fade(rows, down)[:, None] * _fade(columns, across)
    waves = np.fft.fft2(led)
    logs = np.log(np.abs(waves) + 1e-9)
    # The amplitudes over their own local mean, with the phases as they were.
    back = np.fft.ifft2(waves * np.exp(-_average_near(logs)))
    blurred = _blur(rows + 2 * down) @ np.abs(back) ** 2 @ _blur(columns + 2 * across)
    field: Floats = blurred[down : down + rows, across : across + columns]
    # Half of a picture is ground: what does not rise above it does not stand out.
    return np.asarray(np.maximum(field - np.median(field), 0.0))


def _average_near(field: Floats) -> Floats:
    """Give the mean of each cell and the eight round it, in a field that goes on at its borders."""
    for axis in (0, 1):
        field = (field + np.roll(field, 1, axis) + np.roll(field, -1, axis)) / 3
    return np.asarray(field, dtype=np.float64)


def _fade(count: int, lead: int) -> Floats:
    """Give 1 over ``count`` cells, and what falls smoothly to 0 over ``lead`` cells either side."""
    fall = 0.5 + 0.5 * np.cos(np.pi * (np.arange(lead) + 0.5) / max(lead, 1))
    return np.concatenate([fall[::-1], np.ones(count), fall])


@lru_cache(maxsize=16)
def _blur(count: int) -> Floats:
    """Give the part of each cell in each other once a line that goes on at its ends is blurred."""
    at = np.arange(count)
    apart = np.minimum(at, count - at)
    bell = np.exp(-((apart / BLUR) ** 2) / 2)
    return np.asarray((bell / bell.sum())[(at[:, None] - at) % count])


def _bell(rows: int, columns: int) -> Floats:
    """Give 1 in the middle, falling to the corners."""
    down, across = _middles(rows) - 0.5, _middles(columns) - 0.5
    return np.exp(-(down[:, None] ** 2 + across**2) / (2 * 0.25**2))


def _blob(face: Face, rows: int, columns: int) -> Floats:
    # Half the box to either side is one standard deviation, and at least one cell.
    box = face.box
    down = (_middles(rows) - (box.y + box.height / 2)) / max(box.height / 2, 1 / rows)
    across = (_middles(columns) - (box.x + box.width / 2)) / max(box.width / 2, 1 / columns)
    return np.exp(-(down[:, None] ** 2 + across**2) / 2)


def _middles(count: int) -> Floats:
    return (np.arange(count) + 0.5) / count
