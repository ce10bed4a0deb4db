"""Rounding to eight bits without bands: by a threshold that changes from pixel to pixel.

The thresholds are blue noise (Ulichney 1988): their differences are all fine, none coarse.
"""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

from wayfold.washes.chance import make_chance

TILE = 128
"""Pixels a side of the tile of thresholds that is laid over and over."""
ROUNDS = 12


def dither(picture: NDArray[np.float32]) -> NDArray[np.uint8]:
    """Round a picture (rows, columns, channels; 0-1) to 0-255; white stays white."""
    rows, columns, channels = picture.shape
    tile = make_thresholds()
    repeats = (-(-rows // TILE), -(-columns // TILE))
    signals = picture * np.float32(255.0)
    result = np.empty(picture.shape, dtype=np.uint8)
    for channel in range(channels):
        # Each ink has its own thresholds, or the dots of all would fall together.
        moved = np.roll(tile, (channel * 41, channel * 71), axis=(0, 1))
        wide = np.tile(moved, repeats)[:rows, :columns]
        result[..., channel] = np.minimum(np.floor(signals[..., channel] + wide), 255)
    return result


@cache
def make_thresholds() -> NDArray[np.float32]:
    """Make the tile: white noise, made ever finer and spread evenly over 0 to 1 again."""
    field = make_chance("thresholds").random((TILE, TILE))
    down, across = np.fft.fftfreq(TILE), np.fft.rfftfreq(TILE)
    per_px = np.hypot(down[:, None], across[None, :])
    fine = 1.0 - np.exp(-((per_px / 0.35) ** 2))
    for _ in range(ROUNDS):
        field = np.fft.irfft2(np.fft.rfft2(field) * fine, (TILE, TILE))
        ranks = np.empty(TILE * TILE)
        ranks[np.argsort(field, axis=None, kind="stable")] = np.arange(TILE * TILE)
        field = (ranks.reshape(TILE, TILE) + 0.5) / (TILE * TILE)
    return field.astype(np.float32)
