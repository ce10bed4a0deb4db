"""Smooth randomness, made by adding up octaves of interpolated random values."""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray
from PIL import Image

Plane: TypeAlias = NDArray[np.float32]
"""A field of numbers, rows x columns; a picture has a third axis of red, green, blue (0..1)."""


def make_line(
    rng: np.random.Generator, length: int, waves: float, octaves: int = 6, roughness: float = 0.5
) -> Plane:
    """Give ``length`` smooth values in about -1..1 with ``waves`` swings in the first octave."""
    total = np.zeros(length)
    weight, whole = 1.0, 0.0
    for octave in range(octaves):
        knots = max(int(waves * 2**octave), 1) + 3
        values = rng.uniform(-1.0, 1.0, knots)
        at = np.linspace(0.0, knots - 1.001, length)
        low = at.astype(int)
        share = at - low
        share = share * share * (3.0 - 2.0 * share)
        total += weight * (values[low] * (1.0 - share) + values[low + 1] * share)
        whole += weight
        weight *= roughness
    return (total / whole).astype(np.float32)


def make_field(
    rng: np.random.Generator,
    shape: tuple[int, int],
    cells: tuple[float, float],
    octaves: int = 5,
    roughness: float = 0.5,
) -> Plane:
    """Give a field of ``shape`` within -1..1, ``cells`` (down, across) in its first octave."""
    height, width = shape
    total = np.zeros(shape, dtype=np.float32)
    weight, whole = 1.0, 0.0
    for octave in range(octaves):
        rows = min(int(cells[0] * 2**octave) + 2, height)
        columns = min(int(cells[1] * 2**octave) + 2, width)
        grid = rng.uniform(-1.0, 1.0, (rows, columns)).astype(np.float32)
        grown = Image.fromarray(grid).resize((width, height), Image.Resampling.BICUBIC)
        total += np.float32(weight) * np.asarray(grown, dtype=np.float32)
        whole += weight
        weight *= roughness
    return total / np.float32(whole)


def smooth_step(low: float, high: float, values: Plane) -> Plane:
    """Give 0 below ``low``, 1 above ``high`` and a smooth passage between."""
    share = np.clip((values - low) / (high - low), 0.0, 1.0)
    return np.asarray(share * share * (3.0 - 2.0 * share), dtype=np.float32)


def mix(one: Plane, other: Plane, share: Plane | float) -> Plane:
    """Give ``one`` where ``share`` is 0 and ``other`` where it is 1; shares spread over colours."""
    spread = np.asarray(share, dtype=np.float32)
    if spread.ndim == 2:
        spread = spread[..., None]
    return np.asarray(one + (other - one) * spread, dtype=np.float32)
