"""Fields of noise with waves of chosen lengths, and softening."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wayfold.washes.fill import Plane

_GOOD: tuple[int, ...] = tuple(
    sorted(2**a * 3**b * 5**c for a in range(14) for b in range(6) for c in range(4))
)
"""Lengths that transform fast."""


@dataclass(frozen=True, slots=True)
class Band:
    """Waves from ``longest`` to ``shortest`` (pixels), of a standard deviation of ``strength``."""

    longest: float
    shortest: float
    strength: float


def make_noise(shape: tuple[int, int], bands: Sequence[Band], chance: np.random.Generator) -> Plane:
    """Give the sum of fractal noises of some bands; its mean is about 0.

    Within a band the amplitude falls with the frequency, as in fractional Brownian motion of the
    plane with a Hurst exponent of 0 (B. Mandelbrot and J. Van Ness 1968), made by its spectrum.
    """
    padded = (_round_up(shape[0]), _round_up(shape[1]))
    down, across = np.fft.fftfreq(padded[0]), np.fft.rfftfreq(padded[1])
    squared = (down[:, None] ** 2 + across[None, :] ** 2).astype(np.float32)
    squared[0, 0] = 1.0
    weight = np.zeros_like(squared)
    for band in bands:
        falling = np.exp(-(np.float32(band.shortest) ** 2) * squared)
        falling *= 1.0 - np.exp(-(np.float32(band.longest) ** 2) * squared)
        falling /= np.sqrt(squared)
        falling[0, 0] = 0.0
        # White noise of spread 1 has power 1 at each frequency; the first column stands for one
        # side of the spectrum, all others for both.
        power = 2 * float((falling**2).sum()) - float((falling[:, 0] ** 2).sum())
        falling *= band.strength / (power / (padded[0] * padded[1])) ** 0.5
        weight += falling
    white = (chance.random(padded, dtype=np.float32) - np.float32(0.5)) * np.float32(12**0.5)
    noise = np.fft.irfft2(np.fft.rfft2(white) * weight, padded)
    return np.ascontiguousarray(noise[: shape[0], : shape[1]], dtype=np.float32)


def soften(plane: Plane, sigma: float) -> Plane:
    """Blur with a Gaussian of ``sigma`` pixels; beyond its borders the plane goes on as there."""
    reach = int(np.ceil(3 * sigma))
    taps = np.exp(-0.5 * (np.arange(-reach, reach + 1) / sigma) ** 2)
    taps = (taps / taps.sum()).astype(np.float32)
    wide = np.pad(plane, reach, mode="edge")
    rows, columns = plane.shape
    down = _add_up([wide[n : n + rows] for n in range(len(taps))], taps)
    return _add_up([down[:, n : n + columns] for n in range(len(taps))], taps)


def _add_up(planes: Sequence[Plane], weights: NDArray[np.float32]) -> Plane:
    total = np.zeros_like(planes[0])
    for plane, weight in zip(planes, weights, strict=True):
        total += weight * plane
    return total


def _round_up(length: int) -> int:
    return min(good for good in _GOOD if good >= length)
