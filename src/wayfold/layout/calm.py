"""How calm an arrangement is: sizes that tell what matters, few lines, nothing nearly aligned."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from wayfold.base.geometry import Rect
from wayfold.layout.arrangement import Arrangement, crop_loss
from wayfold.layout.slicing import Floats, Measured

LEAST_SHARE = 0.35
"""The smallest picture has at least this part of the mean area."""
FILL_WANTED = (0.5, 0.62, 0.74, 0.82, 0.9, 0.93, 0.95, 0.97, 0.98, 0.98)
"""Part of the box that n pictures should cover: few pictures are not asked to fill it."""
SIZE_RIGOUR = 0.8
"""How sternly sizes are held to the weights; some contrast of large and small is welcome."""
SAME_LINE = 0.5
"""Edges closer than this (mm) read as one line."""
CLEARLY_APART = 8.0
"""Edges nearer than this but not on one line look like a mistake."""
WORST_CROP = 0.10
"""A picture that loses this part is spoilt."""
WEIGHT_CROP = 0.2
WEIGHT_FILL, WEIGHT_SIZE, WEIGHT_LINES, WEIGHT_MISSES = 0.3, 0.3, 0.2, 0.2


def score_sizes(
    trees: Measured, aspects: Floats, box: Rect, weights: Floats, least_share: float, side: float
) -> Floats:
    """Give each tree the score that it would have if its lines were perfect; 0 = cast out.

    Cast out are trees with a picture whose shorter side is under ``side`` mm or whose area is
    under ``least_share`` of the mean.
    """
    lowest = max(side, 0.0) / np.minimum(aspects, 1.0)
    sound = np.flatnonzero((trees.height > 0) & (trees.heights > lowest).all(axis=1))
    areas = trees.heights[sound] ** 2 * aspects
    even = areas.min(axis=1) >= least_share * areas.mean(axis=1)
    sound, areas = sound[even], areas[even]
    scores = np.zeros(len(trees))
    scores[sound] = rate_areas(areas, box, weights)
    return scores


def rank_trees(scores: Floats) -> list[int]:
    """Give the trees that are not cast out, the best first, of equals the earlier."""
    sound = np.flatnonzero(scores)
    return [int(i) for i in sound[np.argsort(-scores[sound], kind="stable")]]


def rate_areas(areas: Floats, box: Rect, weights: Floats) -> Floats:
    """Give the score of perfect lines to areas (mm2) of pictures, shape (ways, pictures)."""
    fill = areas.sum(axis=1) / box.area
    filled = np.minimum(1.0, fill / FILL_WANTED[areas.shape[1] - 1])
    off = np.log(areas / areas.sum(axis=1)[:, None]) - np.log(weights / weights.sum())
    sized = np.exp(-SIZE_RIGOUR * np.mean(off**2, axis=1))
    rated: Floats = 1.0 / (
        WEIGHT_FILL / filled**2 + WEIGHT_SIZE / sized + WEIGHT_LINES + WEIGHT_MISSES
    )
    return rated


def judge_lines(rects: tuple[Rect, ...], rough: float, box: Rect) -> Arrangement:
    """Give the full score: sizes as judged before, and how the edges line up."""
    lines = misses = 0
    for edges in (
        [r.x for r in rects],
        [r.right for r in rects],
        [r.y for r in rects],
        [r.bottom for r in rects],
    ):
        ordered = sorted(edges)
        steps = [b - a for a, b in pairwise(ordered)]
        lines += 1 + sum(1 for step in steps if step > SAME_LINE)
        misses += sum(1 for step in steps if SAME_LINE < step < CLEARLY_APART)
    slack = box.width - (max(r.right for r in rects) - min(r.x for r in rects))
    # Centred, half of the slack lies on each side.
    misses += 2 * (SAME_LINE < slack < 2 * CLEARLY_APART)
    n = len(rects)
    fewest, most = 4, 2 + 2 * n
    calm = 1.0 - 0.8 * max(0.0, lines - fewest) / max(1, most - fewest)
    clear = 1.0 / (1.0 + 0.6 * misses)
    sizes = 1.0 / rough - WEIGHT_LINES - WEIGHT_MISSES
    return Arrangement(rects, 1.0 / (sizes + WEIGHT_LINES / max(calm, 0.1) + WEIGHT_MISSES / clear))


def judge_cropped(
    rects: tuple[Rect, ...], aspects: Sequence[float], box: Rect, weights: Floats
) -> Arrangement:
    """Give the full score of pictures that may be cropped: what the most of them loses counts."""
    areas = np.array([[r.area for r in rects]])
    calm = judge_lines(rects, float(rate_areas(areas, box, weights)[0]), box)
    most = max(crop_loss(a, r.size.aspect) for a, r in zip(aspects, rects, strict=True))
    whole = max(0.1, 1.0 - most / WORST_CROP)
    return Arrangement(rects, 1.0 / ((1 - WEIGHT_CROP) / calm.score + WEIGHT_CROP / whole))
