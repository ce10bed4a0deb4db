"""Pictures that may lose nothing: whole in places of whole modules, yet on lines of others.

Such a picture fills its place one way and leaves less than a module free the other way. There it
stands against the side that another picture or the box has in line; where both sides are, one of
them would be missed by a little, and the places will not do.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

from wayfold.base.geometry import TOLERANCE, Rect
from wayfold.layout.arrangement import crop_loss
from wayfold.layout.modules import Modules, Place

SAME_SHAPE = 1e-6


@lru_cache(maxsize=64)
def list_holding(
    modules: Modules, aspect: float, least_side: float, least: float, most: float
) -> tuple[tuple[int, int], ...]:
    """Give the widths and heights in modules of the smallest places that hold a picture whole.

    The picture's sides are at least ``least_side`` mm, the places' areas from ``least`` to
    ``most`` as parts of the box; the largest first.
    """
    across, down = modules.module_width, modules.module_height
    sizes = set()
    for width in range(1, modules.columns + 1):
        tall = width * across / aspect
        if min(width * across, tall) >= least_side:
            sizes.add((width, math.ceil(tall / down - TOLERANCE)))
    for height in range(1, modules.rows + 1):
        wide = height * down * aspect
        if min(wide, height * down) >= least_side:
            sizes.add((math.ceil(wide / across - TOLERANCE), height))
    fit = [
        (width, height)
        for width, height in sizes
        if width <= modules.columns
        and height <= modules.rows
        and least * modules.count <= width * height <= most * modules.count
    ]
    return tuple(sorted(fit, key=lambda s: (-s[0] * s[1], s)))


def settle(
    modules: Modules, places: Sequence[Place], aspects: Sequence[float], limits: Sequence[float]
) -> tuple[Rect, ...] | None:
    """Give the pictures in their places in mm, whole where they may not lose what those ask for.

    None where one of them would miss a line by a little.
    """
    rects = [modules.rect(place) for place in places]
    settled = []
    for i, (rect, aspect, limit) in enumerate(zip(rects, aspects, limits, strict=True)):
        if crop_loss(aspect, rect.size.aspect) <= limit + SAME_SHAPE:
            settled.append(rect)
            continue
        others = [*rects[:i], *rects[i + 1 :], modules.box]
        whole = _stand_whole(rect, aspect, others)
        if whole is None:
            return None
        settled.append(whole)
    return tuple(settled)


def _stand_whole(rect: Rect, aspect: float, others: Sequence[Rect]) -> Rect | None:
    """Give the whole picture in ``rect``, against the side that others have in line."""
    width, height = min(rect.width, rect.height * aspect), min(rect.height, rect.width / aspect)
    x = _lean(rect.x, rect.right, width, [e for o in others for e in (o.x, o.right)])
    y = _lean(rect.y, rect.bottom, height, [e for o in others for e in (o.y, o.bottom)])
    return None if x is None or y is None else Rect(x, y, width, height)


def _lean(start: float, end: float, length: float, lines: Sequence[float]) -> float | None:
    """Give where a picture begins between ``start`` and ``end``; None where both are lines."""
    if end - start - length <= TOLERANCE:
        return start
    before, after = (any(abs(line - edge) <= TOLERANCE for line in lines) for edge in (start, end))
    if before and after:
        return None
    return end - length if after else start
