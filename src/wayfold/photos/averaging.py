"""A grid of numbers made smaller by averaging, whatever the two sizes are."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]


def average_down(values: npt.NDArray[Any], rows: int, columns: int) -> Floats:
    """Give ``rows`` x ``columns`` means of equal shares of a plane; parts of a cell count as such.

    Where the plane has fewer cells than are wanted, they are repeated.
    """
    plane = np.asarray(values, dtype=np.float64)
    height, width = plane.shape
    return np.asarray(_share_out(height, rows) @ plane @ _share_out(width, columns).T)


@lru_cache(maxsize=64)
def _share_out(cells: int, wanted: int) -> Floats:
    """Give the part that each cell (across) of a line has in each of the means of it (down)."""
    edges, at = np.linspace(0.0, cells, wanted + 1)[:, None], np.arange(cells)
    common = np.minimum(edges[1:], at + 1) - np.maximum(edges[:-1], at)
    return np.asarray(np.maximum(common, 0.0) * (wanted / cells))
