"""The motion that explains where the patches of a page lie: shift, scale, turn."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

Rows = npt.NDArray[np.float64]
Row = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Fit:
    """dx = shift_x + xx (x - at_x) + xy (y - at_y), dy alike (mm); ``used``: patches that agree.

    ``span_x`` and ``span_y`` are the distances (mm) the slopes were measured over; 0 where the
    patches lie too close together to tell a slope, which is then taken as none.
    """

    at_x: float
    at_y: float
    shift_x: float
    shift_y: float
    xx: float = 0.0
    xy: float = 0.0
    yx: float = 0.0
    yy: float = 0.0
    span_x: float = 0.0
    span_y: float = 0.0
    used: tuple[int, ...] = ()

    def at(self, x: float, y: float) -> tuple[float, float]:
        """The displacement (mm) of what should lie at ``x``, ``y``."""
        across, down = x - self.at_x, y - self.at_y
        return (
            self.shift_x + self.xx * across + self.xy * down,
            self.shift_y + self.yx * across + self.yy * down,
        )

    @property
    def scale_x(self) -> float:
        """Printed width over right width."""
        return 1 + self.xx

    @property
    def scale_y(self) -> float:
        """Printed height over right height."""
        return 1 + self.yy

    @property
    def turn_deg(self) -> float:
        """How far the page is askew, clockwise."""
        return math.degrees((self.yx - self.xy) / 2)


SPAN_LEAST = 25.0
"""Patches nearer together (mm) than this tell no slope."""


def fit_motion(moves: Sequence[tuple[float, float, float, float]], slack: float) -> Fit | None:
    """Fit the motion to (x, y, dx, dy) in mm, leaving out moves farther than ``slack`` from it.

    Moves are left out one at a time, the worst first, as long as more than half remain.
    Gives None without moves.
    """
    if not moves:
        return None
    data = np.array(moves, dtype=np.float64)
    used = np.arange(len(data))
    fit = _fit(data)
    while len(used) > max(2, (len(data) + 1) // 2):
        off = np.array([_off(fit, move) for move in data[used]])
        if off.max() <= slack:
            break
        used = np.delete(used, int(off.argmax()))
        fit = _fit(data[used])
    near = tuple(i for i, move in enumerate(data) if _off(fit, move) <= slack)
    return replace(fit, used=near)


def _off(fit: Fit, move: Row) -> float:
    dx, dy = fit.at(float(move[0]), float(move[1]))
    return math.hypot(float(move[2]) - dx, float(move[3]) - dy)


def _fit(data: Rows) -> Fit:
    x, y, dx, dy = data.T
    at_x, at_y = float(x.mean()), float(y.mean())
    if len(data) < 4:
        # Of few moves the middle one is hardest to lead astray.
        return Fit(at_x, at_y, float(np.median(dx)), float(np.median(dy)))
    span_x, span_y = (v if v >= SPAN_LEAST else 0.0 for v in (float(np.ptp(x)), float(np.ptp(y))))
    columns = [np.ones_like(x)]
    columns += [x - at_x] if span_x else []
    columns += [y - at_y] if span_y else []
    matrix = np.stack(columns, axis=1)
    shift_x, xx, xy = _solve(matrix, dx, bool(span_x), bool(span_y))
    shift_y, yx, yy = _solve(matrix, dy, bool(span_x), bool(span_y))
    return Fit(at_x, at_y, shift_x, shift_y, xx, xy, yx, yy, span_x, span_y)


def _solve(matrix: Rows, moves: Row, by_x: bool, by_y: bool) -> tuple[float, float, float]:
    """The shift and the slopes by x and by y; slopes that were not asked for are 0."""
    solution, *_ = np.linalg.lstsq(matrix, moves, rcond=None)
    shift, *slopes = (float(v) for v in solution)
    slope_x = slopes.pop(0) if by_x else 0.0
    slope_y = slopes.pop(0) if by_y else 0.0
    return shift, slope_x, slope_y
