"""Which of all slicing trees are the calmest arrangements of some pictures in a box."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from wayfold.base.geometry import Rect
from wayfold.layout.align import align_gutters
from wayfold.layout.arrangement import Arrangement
from wayfold.layout.calm import LEAST_SHARE, judge_cropped, judge_lines, rank_trees, score_sizes
from wayfold.layout.different import pick_different
from wayfold.layout.slicing import Tree, measure_trees, place_tree, read_tree

FINALISTS = 480
"""At most so many trees, those with the best sizes, are placed and judged by their lines too."""


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
    ``weights``; few distinct edge lines; no edges that nearly but not quite align. Raises
    ValueError where there is no room.
    """
    finalists = _find_finalists(aspects, box, gap, weights, least_side)
    best = finalists[0].arrange()
    for finalist in finalists[1:]:
        # Lines only ever take from what the sizes are worth: no later tree can be better.
        if finalist.rough <= best.score:
            break
        best = max(best, finalist.arrange(), key=lambda a: a.score)
    return best


def arrange_ways(
    aspects: Sequence[float],
    box: Rect,
    gap: float,
    weights: Sequence[float] | None = None,
    least_side: float = 28.0,
    *,
    count: int = 4,
    limits: Sequence[float] | None = None,
) -> tuple[Arrangement, ...]:
    """Give up to ``count`` arrangements as ``arrange_pictures`` does, best first, truly different.

    There are fewer where fewer differ: two pictures have two at most. Without ``limits`` the first
    is that of ``arrange_pictures``. With them each picture may lose such a part so that edges come
    to lie on one line; the rectangles then have the shapes that the pictures are to be cropped to.
    """
    finalists = _find_finalists(aspects, box, gap, weights, least_side)
    ways = [f.arrange() for f in finalists]
    if limits is not None:
        shares = np.array(weights if weights is not None else [1.0] * len(aspects))
        for finalist, whole in zip(finalists, list(ways), strict=True):
            aligned = align_gutters(finalist.tree, whole.rects, aspects, gap, limits)
            if aligned != whole.rects:
                ways.append(judge_cropped(aligned, aspects, box, shares))
    return pick_different(sorted(ways, key=lambda a: -a.score), count, box)


@dataclass(frozen=True, slots=True)
class _Finalist:
    """A tree that may be the best; ``rough`` is what its sizes are worth, the most it can score."""

    index: int
    rough: float
    aspects: Sequence[float]
    gap: float
    box: Rect

    @property
    def tree(self) -> Tree:
        return read_tree(len(self.aspects), self.index)

    def arrange(self) -> Arrangement:
        rects = place_tree(self.tree, self.aspects, self.gap, self.box)
        return judge_lines(rects, self.rough, self.box)


def _find_finalists(
    aspects: Sequence[float],
    box: Rect,
    gap: float,
    weights: Sequence[float] | None,
    least_side: float,
) -> list[_Finalist]:
    """Give the trees with the best sizes, best first."""
    n = len(aspects)
    trees = measure_trees(aspects, gap, lambda a, b: np.minimum(box.height, (box.width - b) / a))
    shapes = np.array(aspects, dtype=np.float64)
    shares = np.array(weights if weights is not None else [1.0] * n, dtype=np.float64)
    for least_share, side in ((LEAST_SHARE, least_side), (0.2, least_side / 2), (0.0, 0.0)):
        scores = score_sizes(trees, shapes, box, shares, least_share, side)
        best = rank_trees(scores)[:FINALISTS]
        if best:
            return [_Finalist(i, float(scores[i]), aspects, gap, box) for i in best]
    raise ValueError(f"no room for {n} pictures in {box.width:g} x {box.height:g} mm")
