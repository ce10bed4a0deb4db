"""Which of all slicing trees is the calmest arrangement of some pictures in a box."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from wayfold.base.geometry import Rect
from wayfold.layout.arrangement import Arrangement
from wayfold.layout.slicing import Floats, Forest, grow_forests, place_tree, read_tree

LEAST_SHARE = 0.35
"""The smallest picture has at least this part of the mean area."""
FILL_WANTED = (0.5, 0.62, 0.74, 0.82, 0.9, 0.93, 0.95, 0.97, 0.98, 0.98)
"""Part of the box that n pictures should cover: few pictures are not asked to fill it."""
FINALISTS = 48
SIZE_RIGOUR = 0.8
"""How sternly sizes are held to the weights; some contrast of large and small is welcome."""
SAME_LINE = 0.5
"""Edges closer than this (mm) read as one line."""
CLEARLY_APART = 8.0
"""Edges nearer than this but not on one line look like a mistake."""
WEIGHT_FILL, WEIGHT_SIZE, WEIGHT_LINES, WEIGHT_MISSES = 0.3, 0.3, 0.2, 0.2


def arrange_pictures(
    aspects: Sequence[float],
    box: Rect,
    gap: float,
    weights: Sequence[float] | None = None,
    least_side: float = 28.0,
) -> Arrangement:
    """Give the best arrangement without crop of 1-10 pictures within ``box``, at its top left.

    Trees with slivers (a side under ``least_side`` mm, an area under ``LEAST_SHARE`` of the mean)
    are cast out first, as long as others remain. The score joins, as a weighted harmonic mean so
    that one bad term spoils the whole (after Harrington et al., "Aesthetic measures for automated
    document layout", DocEng 2004): how far the box is filled, as far as that is wanted; sizes by
    ``weights``; few distinct edge lines; no edges that nearly but not quite align.
    """
    n = len(aspects)
    forests = grow_forests(tuple(aspects), gap)
    shares = np.array(weights if weights is not None else [1.0] * n, dtype=np.float64)
    finalists: list[tuple[float, int, int]] = []
    for least_share, side in ((LEAST_SHARE, least_side), (0.2, least_side / 2), (0.0, 0.0)):
        for root, forest in enumerate(forests):
            scores = _score_sizes(forest, np.array(aspects), box, shares, least_share, side)
            best = np.argsort(-scores, kind="stable")[:FINALISTS]
            finalists += [(float(scores[i]), root, int(i)) for i in best if scores[i] > 0]
        if finalists:
            break
    if not finalists:
        raise ValueError(f"no room for {n} pictures in {box.width:g} x {box.height:g} mm")
    finalists.sort(key=lambda f: (-f[0], f[1], f[2]))
    arranged = [
        _judge_lines(place_tree(read_tree(n, root, i), aspects, gap, box), rough, box)
        for rough, root, i in finalists[:FINALISTS]
    ]
    return max(arranged, key=lambda a: a.score)


def _score_sizes(
    forest: Forest, aspects: Floats, box: Rect, weights: Floats, least_share: float, side: float
) -> Floats:
    """Give each tree the part of its badness that sizes alone tell, as a score; 0 = cast out."""
    height = np.minimum(box.height, (box.width - forest.b) / forest.a)
    heights = forest.p * height[:, None] + forest.q
    # A picture's shorter side is too short where its height is under this.
    lowest = max(side, 0.0) / np.minimum(aspects, 1.0)
    sound = np.flatnonzero((height > 0) & (heights > lowest).all(axis=1))
    areas = heights[sound] ** 2 * aspects
    even = areas.min(axis=1) >= least_share * areas.mean(axis=1)
    sound, areas = sound[even], areas[even]
    fill = areas.sum(axis=1) / box.area
    filled = np.minimum(1.0, fill / FILL_WANTED[len(aspects) - 1])
    off = np.log(areas / areas.sum(axis=1)[:, None]) - np.log(weights / weights.sum())
    sized = np.exp(-SIZE_RIGOUR * np.mean(off**2, axis=1))
    rough = 1.0 / (WEIGHT_FILL / filled**2 + WEIGHT_SIZE / sized + WEIGHT_LINES + WEIGHT_MISSES)
    scores = np.zeros(len(forest))
    scores[sound] = rough
    return scores


def _judge_lines(rects: tuple[Rect, ...], rough: float, box: Rect) -> Arrangement:
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
