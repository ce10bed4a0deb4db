"""The few colours that a picture is made of, found the same way every time.

Bins of 16 x 16 x 16 sRGB values, and k-means of their means in OKLab, weighted by how many pixels
they hold. Seeds after Chang, Fried, Liu, DiVerdi and Finkelstein (ACM Transactions on Graphics
34(4), 2015): the heaviest bin, then the heaviest of what is left once bins near it are put down.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt

from wayfold.photos.look import Tone
from wayfold.photos.oklab import to_oklab

MOST = 6
BIN = 16
NEAR = 0.08
"""Colours so far apart in OKLab stand for each other no more."""
LEAST_SHARE = 0.03
ROUNDS = 30

Floats = npt.NDArray[np.float64]


def pick_palette(rgb: npt.NDArray[np.uint8]) -> tuple[Tone, ...]:
    """Give up to six tones of a picture (rows, columns, 3; sRGB), the largest first."""
    weights, colours = _gather(rgb.reshape(-1, 3))
    centres = _choose_seeds(weights, colours)
    nearest = np.zeros(len(colours), dtype=int)
    for _ in range(ROUNDS):
        apart = ((colours[:, None] - centres) ** 2).sum(axis=2)
        nearest = apart.argmin(axis=1)
        shares = _sum(nearest, weights, len(centres))
        moved = np.stack(
            [_sum(nearest, weights * colours[:, i], len(centres)) for i in range(3)], axis=1
        )
        filled = shares > 0
        moved[filled] /= shares[filled, None]
        moved[~filled] = centres[~filled]
        if np.abs(moved - centres).max() < 1e-6:
            break
        centres = moved
    shares = _sum(nearest, weights, len(centres))
    tones = [
        Tone(*(round(float(v), 4) for v in (share, *centre)))
        for share, centre in zip(shares, centres, strict=True)
        if share >= LEAST_SHARE
    ]
    return tuple(sorted(tones, key=lambda t: (-t.share, t.lightness, t.a, t.b)))


def _gather(pixels: npt.NDArray[Any]) -> tuple[Floats, Floats]:
    """Give the shares of the filled bins, and the mean colour in each."""
    cells = (pixels // BIN).astype(np.intp)
    index = (cells[:, 0] * BIN + cells[:, 1]) * BIN + cells[:, 2]
    counts = np.bincount(index, minlength=BIN**3)
    filled = np.flatnonzero(counts)
    sums = np.stack([_sum(index, pixels[:, i], BIN**3)[filled] for i in range(3)], axis=1)
    means = sums / counts[filled, None] / 255.0
    return counts[filled] / len(pixels), to_oklab(means)


def _sum(index: npt.NDArray[np.intp], weights: npt.NDArray[Any], count: int) -> Floats:
    return np.asarray(np.bincount(index, weights, count), dtype=np.float64)


def _choose_seeds(weights: Floats, colours: Floats) -> Floats:
    left = weights.copy()
    chosen: list[int] = []
    while len(chosen) < min(MOST, len(weights)) and left.max() > 0:
        chosen.append(int(left.argmax()))
        apart = ((colours - colours[chosen[-1]]) ** 2).sum(axis=1)
        left *= 1.0 - np.exp(-apart / NEAR**2)
    return colours[chosen]
