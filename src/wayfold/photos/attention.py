"""How much of what the eye goes to lies in each of many parts of a picture."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from wayfold.photos.look import Salience

Floats = npt.NDArray[np.float64]


class AttentionTable:
    """A summed-area table: shares of the salient within rectangles, cells counted by area."""

    def __init__(self, salience: Salience) -> None:
        grid = np.array(salience.shares).reshape(salience.rows, salience.columns)
        self._sums = np.zeros((salience.rows + 1, salience.columns + 1))
        self._sums[1:, 1:] = grid.cumsum(axis=0).cumsum(axis=1)

    def within(self, windows: Floats) -> Floats:
        """Give the share in each window (shape (n, 4))."""
        left, top, right, bottom = np.clip(windows, 0.0, 1.0).T
        rows, columns = self._sums.shape
        start, end = _find_cell(left, columns), _find_cell(right, columns)
        upper, lower = _find_cell(top, rows), _find_cell(bottom, rows)
        return (
            self._upto(end, lower)
            - self._upto(start, lower)
            - self._upto(end, upper)
            + self._upto(start, upper)
        )

    def _upto(self, across: _Cells, down: _Cells) -> Floats:
        """Give the share left of and above points, each in a cell and so far into it."""
        (i, u, rest), (j, v, under) = across, down
        columns = self._sums.shape[1]
        sums, at = self._sums.ravel(), j * columns + i
        above = rest * sums.take(at) + u * sums.take(at + 1)
        at += columns
        below = rest * sums.take(at) + u * sums.take(at + 1)
        share: Floats = under * above + v * below
        return share


_Cells = tuple[npt.NDArray[np.int_], Floats, Floats]
"""The cells that places fall into, how far into them, and how far from their ends (0-1)."""


def _find_cell(places: Floats, lines: int) -> _Cells:
    far = places * (lines - 1)
    cell = np.minimum(far.astype(int), lines - 2)
    into = far - cell
    return cell, into, 1 - into
