"""Filling polygons: how much of each pixel lies within."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Plane = NDArray[np.float32]


def fill_polygons(polygons: Sequence[NDArray[np.float64]], shape: tuple[int, int]) -> Plane:
    """Give the share of closed polygons that lies on each pixel (0-1), all turning one way.

    A polygon is rows of x, y in pixels; ``shape`` is rows, columns. Rows of pixels are sampled in
    their middle; along a row the cover is exact. A loop that a polygon makes about itself counts
    twice: what is bent at random makes small ones, and there paint lies double.
    """
    rows, columns = shape
    start = np.concatenate(polygons)
    end = np.concatenate([np.roll(points, -1, axis=0) for points in polygons])
    upward = start[:, 1] > end[:, 1]
    low, high = np.where(upward[:, None], end, start), np.where(upward[:, None], start, end)
    first = np.clip(np.ceil(low[:, 1] - 0.5), 0, rows).astype(np.int64)
    last = np.clip(np.ceil(high[:, 1] - 0.5), 0, rows).astype(np.int64)
    counts = last - first
    edge = np.repeat(np.arange(len(start)), counts)
    row = first[edge] + np.arange(len(edge)) - np.repeat(np.cumsum(counts) - counts, counts)
    fall = high[edge, 1] - low[edge, 1]
    along = (row + 0.5 - low[edge, 1]) / fall
    x = np.clip(low[edge, 0] + along * (high[edge, 0] - low[edge, 0]), 0.0, float(columns))
    sign = np.where(upward[edge], 1.0, -1.0)
    column = np.minimum(x.astype(np.int64), columns - 1)
    part = x - column
    # An edge adds its winding to all pixels right of it, and to its own by the part right of it.
    place = row * (columns + 1) + column
    weights = np.concatenate([sign * (1.0 - part), sign * part])
    steps = np.bincount(np.concatenate([place, place + 1]), weights, rows * (columns + 1))
    shares = (steps / len(polygons)).astype(np.float32).reshape(rows, columns + 1)
    winding = np.cumsum(shares[:, :columns], axis=1)
    return np.asarray(np.clip(np.abs(winding), 0.0, 1.0), dtype=np.float32)
