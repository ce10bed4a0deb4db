"""The outline of a wash: a polygon whose edges are bent in the middle again and again."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wayfold.base.geometry import Size
from wayfold.washes.model import Edges

CORNERS, MORE = 10, 6
"""Corners of the polygon before it is bent, and how many more for each side that it runs off."""
FULLNESS = 2.15
"""The exponent of the curve they lie on: 2 is an ellipse, more is fuller."""
DENTED = 0.28
"""How far a corner may lie within that curve, as a part of the way to the middle."""
LARGE_BENDS, ROUNDINGS, FINE_BENDS, LAYER_BENDS = 1, 2, 4, 2
LARGE, FINE, LAYERED = 0.2, 0.16, 0.22
"""How far an edge is bent in its middle, in its own length."""
SETTLING = 0.8
"""What is left of that from one bending to the next."""
SPREAD = 0.1
"""How far layers run beyond each other where the paper was wet, as a part of the way out."""
WITHIN = 0.1
"""What layers may spread beyond the outline, in the shorter side of the box."""

Points = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed polygon: points (rows of x, y in mm), and how wet the paper is there (0-1).

    ``middle`` is where the paint was set down.
    """

    points: Points
    wetness: NDArray[np.float64]
    middle: tuple[float, float]


def draw_outline(
    size: Size, edges: Edges, chance: np.random.Generator, share: float = 1.0
) -> Outline:
    """Draw the outline that all layers of a wash share.

    It lies within the box but for the edges that it runs over, and there it lies as far outside.
    With a ``share`` below 1 it is that much smaller, and lies somewhere within the whole.
    """
    middle, points, wetness = _draw_corners(size, edges, chance)
    points, wetness = _bend(points, wetness, LARGE_BENDS, LARGE, chance)
    points, wetness = _round_corners(points, wetness)
    points, wetness = _bend(points, wetness, FINE_BENDS, FINE, chance)
    points = _fit(points, size, edges)
    room = np.array([size.width, size.height]) * (1.0 - share)
    whole = np.array([edges.left != edges.right, edges.top != edges.bottom])
    # What runs off one side has twice the room, and may not come in from there.
    aside = room * (chance.random(2) - 0.5) * np.where(whole, 1.2, 1.0)
    points = middle + share * (points - middle) + aside
    return Outline(points, wetness, (middle[0] + aside[0], middle[1] + aside[1]))


def spread_layer(outline: Outline, chance: np.random.Generator) -> Points:
    """Draw one layer: where the paper was wet it ran farther or less far than the others."""
    points, wetness = _bend(outline.points, outline.wetness, LAYER_BENDS, LAYERED, chance)
    far = 1.0 + SPREAD * wetness * (2.0 * chance.random() - 1.6)
    middle = np.array(outline.middle)
    return np.asarray(middle + far[:, None] * (points - middle))


def _draw_corners(
    size: Size, edges: Edges, chance: np.random.Generator
) -> tuple[NDArray[np.float64], Points, NDArray[np.float64]]:
    off_x, off_y = edges.left != edges.right, edges.top != edges.bottom
    count = CORNERS + MORE * (off_x + off_y)
    turns = (np.arange(count) + 0.5 * (chance.random(count) - 0.5)) * (2 * np.pi / count)
    x, y = np.cos(turns), np.sin(turns)
    far = (np.abs(x) ** FULLNESS + np.abs(y) ** FULLNESS) ** (-1 / FULLNESS)
    far *= 1.0 - DENTED * chance.random(count)
    # What runs off one side has its middle on that side, half of it outside.
    middle_x = size.width if edges.right and off_x else 0.0 if off_x else size.width / 2
    middle_y = size.height if edges.bottom and off_y else 0.0 if off_y else size.height / 2
    middle = np.array([middle_x, middle_y])
    points = middle + np.stack([size.width * far * x, size.height * far * y], axis=1)
    # One part of the rim ran into wet paper, another dried where it stood.
    phase, other = 2 * np.pi * chance.random(2)
    waves = 0.6 * np.sin(turns + phase) + 0.5 * np.sin(3 * turns + other)
    return middle, points, np.clip(0.15 + waves, 0.0, 1.0)


def _bend(
    points: Points,
    wetness: NDArray[np.float64],
    times: int,
    far: float,
    chance: np.random.Generator,
) -> tuple[Points, NDArray[np.float64]]:
    for _ in range(times):
        to = np.roll(points, -1, axis=0) - points
        along = 0.5 + 0.3 * (chance.random(len(points)) - 0.5)
        # The sum of three uniform numbers is near enough to the bell curve, and bounded.
        bell = chance.random((3, len(points))).sum(axis=0) - 1.5
        aside = far * (0.4 + 1.2 * chance.random(len(points))) * bell
        normal = np.stack([-to[:, 1], to[:, 0]], axis=1)
        middle = points + along[:, None] * to + aside[:, None] * normal
        points = _lace(points, middle)
        wetness = _lace(wetness, (wetness + np.roll(wetness, -1)) / 2)
        far *= SETTLING
    return points, wetness


def _round_corners(
    points: Points, wetness: NDArray[np.float64]
) -> tuple[Points, NDArray[np.float64]]:
    """Cut corners as Chaikin (1974) does, twice."""
    for _ in range(ROUNDINGS):
        after, wet_after = np.roll(points, -1, axis=0), np.roll(wetness, -1)
        points = _lace(0.75 * points + 0.25 * after, 0.25 * points + 0.75 * after)
        wetness = _lace(0.75 * wetness + 0.25 * wet_after, 0.25 * wetness + 0.75 * wet_after)
    return points, wetness


def _lace(one: NDArray[np.float64], other: NDArray[np.float64]) -> NDArray[np.float64]:
    """Give the entries of two rows by turns."""
    return np.stack([one, other], axis=1).reshape(-1, *one.shape[1:])


def _fit(points: Points, size: Size, edges: Edges) -> Points:
    """Stretch an outline so that it fills its box but for what layers need."""
    margin = WITHIN * min(size.width, size.height)
    fitted = points.copy()
    sides = ((size.width, edges.left, edges.right), (size.height, edges.top, edges.bottom))
    for axis, (length, before, after) in enumerate(sides):
        low, high = points[:, axis].min(), points[:, axis].max()
        if before and after:
            low_at, high_at = -length / 4, length * 5 / 4
        elif before:
            low_at, high_at = -(length - margin), length - margin
        elif after:
            low_at, high_at = margin, 2 * length - margin
        else:
            low_at, high_at = margin, length - margin
        fitted[:, axis] = low_at + (points[:, axis] - low) * (high_at - low_at) / (high - low)
    return fitted
