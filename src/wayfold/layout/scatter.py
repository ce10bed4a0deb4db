"""Scattered pictures: a few in a box with much white, on common lines but on no grid.

The box is divided into modules, and every picture's sides are whole ones. Pictures keep one module
from each other; like edges lie on one line or at least two modules apart, so that nothing is
nearly aligned. A heavier picture is larger, and the heaviest at least twice as large as the
smallest.

The search places the pictures one after the other, the heaviest first, and keeps the most
promising beginnings (a beam). It counts in whole numbers only, and the number of its steps is
fixed: on every machine one seed gives one answer.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from wayfold.base.geometry import Rect
from wayfold.layout.arrangement import Arrangement
from wayfold.layout.different import pick_different
from wayfold.layout.modules import MODULE, MOST_CROP, Modules, Place, divide_box, list_sizes
from wayfold.layout.scatter_beam import begin, mix, place_next
from wayfold.layout.scatter_judge import rank_places
from wayfold.layout.standing import list_holding, settle

FEWEST, MOST = 2, 6
HERO = 2.6
"""The heaviest picture should be this many times as large as the lightest; twice at least."""
SIZES_WITHIN = ((0.7, 1.4), (0.35, 2.5))
"""A picture's area lies between these parts of what its weight asks for; if need be, the latter."""
TASTES = 4
"""So many searches, each drawn to other parts of the page."""
COVERED = (0.52, 0.49, 0.55, 0.51)
"""What the searches aim to cover."""


def arrange_scattered(
    aspects: Sequence[float],
    box: Rect,
    weights: Sequence[float] | None = None,
    *,
    seed: int = 0,
    count: int = 3,
    least_side: float = 28.0,
    module: float = MODULE,
    limits: Sequence[float] | None = None,
) -> tuple[Arrangement, ...]:
    """Give up to ``count`` truly different ways to scatter 2-6 pictures over ``box``, best first.

    The rectangles lie on the box's modules (about ``module`` mm) and have shapes that the pictures
    come to by losing 4 % at most; their shorter sides are at least ``least_side`` mm. ``limits``
    holds what each picture may lose where that is less: one that may not lose what its place asks
    for stands whole in it, against the sides that are in line with others. Another ``seed`` gives
    other ways. Nothing where no way is found. Raises ValueError for another number of pictures, or
    an aspect or a weight that is not positive.
    """
    n = len(aspects)
    weights = [1.0] * n if weights is None else list(weights)
    limits = [MOST_CROP] * n if limits is None else [min(limit, MOST_CROP) for limit in limits]
    if not FEWEST <= n <= MOST or len(weights) != n or min(*aspects, *weights) <= 0:
        raise ValueError(f"cannot scatter pictures of aspects {tuple(aspects)}, weights {weights}")
    seed %= 1 << 31
    modules = divide_box(box, module)
    for within in SIZES_WITHIN:
        found = dict.fromkeys(
            places
            for taste in range(seed * TASTES, (seed + 1) * TASTES)
            for places in _search(modules, aspects, weights, least_side, within, taste, limits)
        )
        ranked = rank_places(modules, tuple(found))
        ways = (
            Arrangement(rects, score)
            for places, score in ranked
            if (rects := settle(modules, places, aspects, limits))
        )
        if different := pick_different(ways, count, box):
            return different
    return ()


def _search(
    modules: Modules,
    aspects: Sequence[float],
    weights: Sequence[float],
    least_side: float,
    within: tuple[float, float],
    taste: int,
    limits: Sequence[float],
) -> list[tuple[Place, ...]]:
    n = len(aspects)
    ties = mix(np.arange(n) + 1000 * taste)
    order = sorted(range(n), key=lambda i: (-weights[i], int(ties[i])))
    wanted = _share_out([weights[i] for i in order], taste)
    low, high = within
    sizes = [
        np.array(
            _list_places(modules, aspects[i], limits[i], least_side, (low * share, high * share)),
            dtype=np.int64,
        ).reshape(-1, 2)
        for i, share in zip(order, wanted, strict=True)
    ]
    if not all(map(len, sizes)):
        return []
    beam = begin()
    for k in range(n):
        heavier = [j for j in range(k) if weights[order[j]] > weights[order[k]]] or [0]
        beam = place_next(modules, beam, sizes, heavier, wanted, taste)
        if not len(beam):
            return []
    where = np.argsort(order)
    return [
        tuple(
            Place(int(beam.x[b, k]), int(beam.y[b, k]), int(beam.w[b, k]), int(beam.h[b, k]))
            for k in where
        )
        for b in range(len(beam))
    ]


def _list_places(
    modules: Modules,
    aspect: float,
    limit: float,
    least_side: float,
    area: tuple[float, float],
) -> tuple[tuple[int, int], ...]:
    """Give the sizes of a picture's places: nearly its shape, else such as hold it whole."""
    sizes = list_sizes(modules, aspect, least_side, *area, limit)
    if sizes or limit >= MOST_CROP:
        return sizes
    return list_holding(modules, aspect, least_side, *area)


def _share_out(weights: Sequence[float], taste: int) -> list[float]:
    """Give the part of the box that each picture should cover; the heaviest come first."""
    most, least = max(weights), min(weights)
    if most > least:
        parts = [1.0 + (HERO - 1.0) * (w - least) / (most - least) for w in weights]
    else:
        parts = [HERO] + [1.0] * (len(weights) - 1)
    covered = COVERED[taste % len(COVERED)]
    return [covered * part / sum(parts) for part in parts]
