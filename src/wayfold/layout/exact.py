"""Pictures that fill a rectangle exactly, each cropped as little as that takes.

The width of a slicing tree of given height grows with the aspect of every picture. So there is one
s for which the tree is just as wide as the rectangle when every aspect r becomes r exp(s), and no
way to fill it takes less from the picture that loses most: all lose 1 - exp(-|s|). A picture that
may lose less than that stays at its own limit, and the others make up for it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np

from wayfold.base.geometry import Rect
from wayfold.layout.align import align_gutters
from wayfold.layout.arrangement import Arrangement
from wayfold.layout.calm import LEAST_SHARE, judge_cropped, rank_trees, score_sizes
from wayfold.layout.different import pick_different
from wayfold.layout.slicing import Tree, measure_trees, place_tree, read_tree, shape_tree

MOST_CROP = 0.05
"""The part of a picture that may go unless a limit of its own is given."""
FINALISTS = 240
"""At most so many trees are fitted."""
REACH = 1.5
"""Trees are fitted that seem to need no more than this times the largest limit."""
CLOSE = 1e-9
"""How near (mm) the width comes to the rectangle's."""
STEPS = 100


def fit_exactly(
    aspects: Sequence[float],
    box: Rect,
    gap: float,
    limits: Sequence[float] | None = None,
    weights: Sequence[float] | None = None,
    least_side: float = 28.0,
    *,
    count: int = 1,
) -> tuple[Arrangement, ...]:
    """Give up to ``count`` truly different ways to fill ``box`` with 1-10 pictures, best first.

    ``limits`` holds the part that each picture may lose (0 to under 1; ``MOST_CROP`` each if None).
    The rectangles have the shapes that the pictures are to be cropped to. Nothing where no tree
    without slivers fills the box within the limits. Raises ValueError for a limit out of range.
    """
    n = len(aspects)
    limits = [MOST_CROP] * n if limits is None else limits
    if len(limits) != n or not all(0 <= limit < 1 for limit in limits):
        raise ValueError(f"limits of a crop lie from 0 to under 1, one a picture: {tuple(limits)}")
    shapes = np.array(aspects, dtype=np.float64)
    shares = np.array(weights if weights is not None else [1.0] * n, dtype=np.float64)
    reach = REACH * -math.log(1 - max(limits)) + CLOSE
    trees = measure_trees(aspects, gap, lambda a, _: np.full_like(a, box.height))
    scores = score_sizes(trees, shapes, box, shares, LEAST_SHARE, least_side)
    width = np.maximum(trees.a * box.height + trees.b, CLOSE)
    scores *= np.abs(np.log(width / box.width)) <= reach
    fitted = []
    for index in rank_trees(scores)[:FINALISTS]:
        tree = read_tree(n, index)
        rects = crop_tree(tree, aspects, gap, box, limits)
        if rects is None:
            continue
        aligned = align_gutters(tree, rects, aspects, gap, limits)
        fitted += [
            judge_cropped(way, aspects, box, shares)
            for way in dict.fromkeys((rects, aligned))
            if min(min(r.width, r.height) for r in way) >= least_side
        ]
    return pick_different(sorted(fitted, key=lambda a: -a.score), count, box)


def crop_tree(
    tree: Tree, aspects: Sequence[float], gap: float, box: Rect, limits: Sequence[float]
) -> tuple[Rect, ...] | None:
    """Give the pictures of one tree that fills ``box`` exactly, or None where limits forbid it.

    The most that any picture loses is as little as can be.
    """
    reaches = [-math.log(1 - limit) for limit in limits]

    def crop(s: float) -> list[float]:
        return [
            r * math.exp(max(-reach, min(reach, s)))
            for r, reach in zip(aspects, reaches, strict=True)
        ]

    def miss(s: float) -> float:
        shape = shape_tree(tree, crop(s), gap)
        return shape.a * box.height + shape.b - box.width

    s = _find_root(miss, max(reaches))
    return None if s is None else place_tree(tree, crop(s), gap, box)


def _find_root(miss: Callable[[float], float], reach: float) -> float | None:
    """Give s in [-reach, reach] where a rising function is 0, or None.

    Bisection, quickened by chords (the Illinois rule: M. Dowell and P. Jarratt, BIT 11, 1971).
    """
    low, high = -reach, reach
    under, over = miss(low), miss(high)
    if under > CLOSE or over < -CLOSE:
        return None
    side = 0
    for _ in range(STEPS):
        if min(abs(under), abs(over)) <= CLOSE:
            break
        s = (low * over - high * under) / (over - under)
        here = miss(s)
        if abs(here) <= CLOSE:
            return s
        if here < 0:
            low, under = s, here
            over = over / 2 if side < 0 else over
            side = -1
        else:
            high, over = s, here
            under = under / 2 if side > 0 else under
            side = 1
    return low if abs(under) <= abs(over) else high
