"""A grid of numbers made smaller by averaging, whatever the two sizes are."""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt


def average_down(values: npt.NDArray[Any], rows: int, columns: int) -> npt.NDArray[np.float64]:
    """Give ``rows`` x ``columns`` means of equal shares of a plane; parts of a cell count as such.

    Where the plane has fewer cells than are wanted, they are repeated.
    """
    down = _average_rows(np.asarray(values, dtype=np.float64), rows)
    return np.ascontiguousarray(_average_rows(down.T, columns).T)


def _average_rows(plane: npt.NDArray[np.float64], wanted: int) -> npt.NDArray[np.float64]:
    total = np.concatenate([np.zeros((1, plane.shape[1])), np.cumsum(plane, axis=0)])
    at = np.linspace(0.0, len(plane), wanted + 1)
    low = np.minimum(at.astype(int), len(plane) - 1)
    edges = total[low] + (at - low)[:, None] * (total[low + 1] - total[low])
    return np.asarray(np.diff(edges, axis=0) * (wanted / len(plane)))
