"""How wide the edges in a picture are: from 10 to 90 % of their rise, across their direction.

Edge width is comparable between scenes, which the strength of fine detail is not (after
N. Narvekar and L. Karam, IEEE Transactions on Image Processing 20(9), 2011, who judge blur by the
widths of edges). An ideal edge blurred by a Gaussian rises in 2.563 of its standard deviations.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import numpy.typing as npt

REACH_PX = 12
"""So far to either side an edge is followed."""
FOLLOWED, STEEPEST, PEAKED, SPARSE = 2000, 400, 6, 5
"""Edges followed, the steepest, and judged: where a picture is in focus they are steepest."""
LEAST_EDGES = 24
LEAST_SLOPE = 2.0
"""Levels of 255 over two pixels: flatter is not followed."""
CLEAR_RISE, FAINT_RISE, RISE_OVER_NOISE = 24.0, 8.0, 10.0
"""Of 255, and in standard deviations of the grain: less may be grain."""
GOES_ON = 0.2
"""An edge is whole where the picture does not go on rising by this share of it."""
STRAIGHT = 0.45
"""How far an edge may lean, as a slope: smoothing along it widens what leans more."""
COARSEST = 3
"""Times that the picture is halved to find wider edges than can be followed."""
INTERPOLATED, AVERAGED = 1.1, 0.55
"""What measuring adds, in squares (px²): straight lines between pixels, as measured on Gaussian
edges of 1.4 to 5 px; and the mean of two pixels (2.563² / 12, the variance of a box)."""

SHARP_PX = 1.4
"""The edge of a sharp picture, as cameras make it of one colour a cell."""
SEEN, MEANT = (1.05, 1.15, 1.31), (0.0, 1.0, 1.28)
"""Widths (px) seen in a picture that was made smaller, and what was there: below, shrinking blurs
everything alike. Measured on Gaussian edges in JPEG files, decoded at a half."""

Floats = npt.NDArray[np.float32]
_Followed = tuple[Floats, Floats]
"""What was followed down, and across."""
_WIDTH, _STEEPNESS, _RISE = range(3)


def measure_edges(parts: npt.NDArray[Any], noise: float = 0.0) -> float | None:
    """Give how wide edges are (px) in some grey parts of one size (part, row, column; 0-255).

    It is the median width of the steepest edges in them all, at the finest of several sizes that
    has edges to speak of; faint ones count only where there are no others. None where there are
    none at all. ``noise`` is the standard deviation of the grain.
    """
    planes = np.asarray(parts, dtype=np.float32)
    followed: list[_Followed] = []
    for halvings in range(COARSEST + 1):
        if min(planes.shape[1:]) <= 2 * REACH_PX:
            break
        followed.append((_follow(planes), _follow(planes.transpose(0, 2, 1))))
        width = _judge(followed[-1], halvings, CLEAR_RISE, noise)
        if width is not None:
            return width
        planes = _halve(planes)
    found = (_judge(level, i, FAINT_RISE, noise) for i, level in enumerate(followed))
    return next((width for width in found if width is not None), None)


def _judge(followed: _Followed, halvings: int, least_rise: float, noise: float) -> float | None:
    seen = _take_median(followed, max(least_rise, RISE_OVER_NOISE * noise / 2**halvings))
    if seen is None:
        return None
    own = INTERPOLATED if halvings == 0 else INTERPOLATED + AVERAGED
    return math.sqrt(max(seen**2 - own, 0.0)) * float(2**halvings)


def restore_width(edge_px: float, factor: float) -> float:
    """Give the width of edges in the full picture from that in one ``factor`` times smaller."""
    if factor <= 1:
        return edge_px
    meant = float(np.interp(edge_px, SEEN, MEANT)) if edge_px < SEEN[-1] else edge_px
    return max(SHARP_PX, meant * factor)


def _take_median(followed: _Followed, least_rise: float) -> float | None:
    """Give the root of the mean square of both directions' medians, where both have edges.

    A hand that moves leaves the edges along its way as sharp as they were.
    """
    found = [edges[:, edges[_RISE] >= least_rise] for edges in followed]
    if sum(edges.shape[1] for edges in found) < LEAST_EDGES:
        return None
    enough = [edges for edges in found if edges.shape[1] >= LEAST_EDGES]
    medians = [_judge_steepest(edges) for edges in enough or [np.concatenate(found, axis=1)]]
    return math.sqrt(sum(m * m for m in medians) / len(medians))


def _judge_steepest(edges: Floats) -> float:
    steepest = np.argsort(-edges[_STEEPNESS], kind="stable")[:STEEPEST]
    return float(np.median(edges[_WIDTH, steepest]))


def _follow(planes: Floats) -> Floats:
    """Give width, steepness and rise (down) of edges (across) that run about from top to bottom."""
    height = planes.shape[1]
    # One below the other; no edge is taken from the rows at the seams.
    plane = np.ascontiguousarray(planes).reshape(-1, planes.shape[2])
    soft = plane.copy()
    soft[1:-1] = 0.5 * plane[1:-1] + 0.25 * (plane[:-2] + plane[2:])
    size = np.zeros_like(plane)
    np.abs(soft[:, 2:] - soft[:, :-2], out=size[:, 1:-1])
    inner = size[:, REACH_PX:-REACH_PX]
    # Looking closer takes time: only at about the steepest.
    some = np.sort(inner[::SPARSE, ::SPARSE], axis=None)
    share = min(1.0, PEAKED * FOLLOWED / inner.size)
    rows, columns = np.nonzero(inner > max(LEAST_SLOPE, float(some[int((1 - share) * len(some))])))
    columns += REACH_PX
    steep = size[rows, columns]
    lean = plane[np.minimum(rows + 1, len(plane) - 1), columns] - plane[rows - 1, columns]
    chosen = (rows % height > 0) & (rows % height < height - 1) & (np.abs(lean) <= STRAIGHT * steep)
    chosen &= (steep >= size[rows, columns - 1]) & (steep >= size[rows, columns + 1])
    rows, columns, lean = rows[chosen], columns[chosen], lean[chosen] / steep[chosen]
    steep = size[rows, columns]
    if len(rows) > FOLLOWED:
        kept = np.argsort(-steep, kind="stable")[:FOLLOWED]
        rows, columns, lean, steep = rows[kept], columns[kept], lean[kept], steep[kept]
    profiles = soft[rows[:, None], columns[:, None] + np.arange(-REACH_PX, REACH_PX + 1)]
    falls = profiles[:, REACH_PX - 1] > profiles[:, REACH_PX + 1]
    profiles[falls] = -profiles[falls]
    widths, rises, whole = _measure_rises(profiles)
    upright = 1.0 / np.sqrt(1.0 + lean**2)
    return np.stack([widths * upright, steep / upright, rises])[:, whole]


def _measure_rises(profiles: Floats) -> tuple[Floats, Floats, npt.NDArray[np.bool_]]:
    """Give the 10-90 % width and the height of the rise through the middle of each profile.

    And whether it was seen from its foot to its top.
    """
    steps = np.diff(profiles, axis=1)
    # The middle is a steepest point, so that the steps to both sides of it rise.
    right = np.logical_and.accumulate(steps[:, REACH_PX:] > 0, axis=1).sum(axis=1)
    left = np.logical_and.accumulate(steps[:, REACH_PX - 1 :: -1] > 0, axis=1).sum(axis=1)
    each = np.arange(len(profiles))
    foot, top = profiles[each, REACH_PX - left], profiles[each, REACH_PX + right]
    rise = top - foot
    at = np.arange(2 * REACH_PX + 1)
    inside = (at >= (REACH_PX - left)[:, None]) & (at <= (REACH_PX + right)[:, None])
    share = (profiles - foot[:, None]) / np.maximum(rise, 1e-6)[:, None]
    high = _cross(share, inside, 0.9)
    low = _cross(share, inside, 0.1)
    # Grain cuts a wide edge into pieces; behind a piece it goes on.
    after = np.minimum(at[None, :4] + (REACH_PX + right)[:, None] + 1, 2 * REACH_PX)
    before = np.maximum((REACH_PX - left)[:, None] - 1 - at[None, :4], 0)
    beyond = np.take_along_axis(share, after, axis=1).mean(axis=1)
    ahead = np.take_along_axis(share, before, axis=1).mean(axis=1)
    ends = (beyond < 1 + GOES_ON) & (ahead > -GOES_ON)
    whole = (left < REACH_PX) & (right < REACH_PX) & (left + right > 0) & ends
    return np.asarray(high - low, np.float32), rise, whole


def _cross(share: Floats, inside: npt.NDArray[np.bool_], level: float) -> Floats:
    """Give where, between two cells, rising profiles come to ``level``."""
    first = np.argmax(inside & (share >= level), axis=1)
    each = np.arange(len(share))
    before = np.maximum(first - 1, 0)
    upper, lower = share[each, first], share[each, before]
    part = (level - lower) / np.maximum(upper - lower, 1e-6)
    return np.asarray(before + part, np.float32)


def _halve(planes: Floats) -> Floats:
    rows, columns = (n - n % 2 for n in planes.shape[1:])
    even = planes[:, :rows, :columns]
    mean = even[:, ::2, ::2] + even[:, 1::2, ::2] + even[:, ::2, 1::2] + even[:, 1::2, 1::2]
    return np.asarray(0.25 * mean, dtype=np.float32)
