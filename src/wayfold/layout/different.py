"""Ways that truly differ: another order on the page or of sizes, not the same moved by a mm."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import combinations

from wayfold.base.geometry import Rect
from wayfold.layout.arrangement import Arrangement

MOVED = 0.06
"""Edges of two ways lie this far apart on average, as a part of the box's mean side."""
WORTH = 0.7
"""A way that scores less than this part of the best is none to offer."""
LARGER = 1.25
"""Of two pictures the one this many times as large is plainly the larger."""


def pick_different(ranked: Iterable[Arrangement], count: int, box: Rect) -> tuple[Arrangement, ...]:
    """Give up to ``count`` arrangements of the same pictures, best first, each unlike those before.

    ``ranked`` has the best first; what is much worse than the best is left out.
    """
    taken: list[Arrangement] = []
    for one in ranked:
        if taken and one.score < WORTH * taken[0].score:
            break
        if all(differ_truly(one.rects, other.rects, box) for other in taken):
            taken.append(one)
        if len(taken) >= count:
            break
    return tuple(taken)


def differ_truly(one: Sequence[Rect], other: Sequence[Rect], box: Rect) -> bool:
    """Whether two arrangements of the same pictures look different.

    Some picture lies on another side of some other, or the order of their sizes changes; and the
    pages look different with the pictures' contents set aside.
    """
    least = MOVED * math.sqrt(box.area)
    return (_relations(one) != _relations(other) or _sizes_change(one, other)) and _measure_shift(
        one, other
    ) >= least


def _relations(rects: Sequence[Rect]) -> tuple[str, ...]:
    return tuple(_side(a, b) for a, b in combinations(rects, 2))


def _side(one: Rect, other: Rect) -> str:
    """On which side of ``one`` the ``other`` lies, by the wider white between them."""
    across = max(other.x - one.right, one.x - other.right)
    down = max(other.y - one.bottom, one.y - other.bottom)
    if across >= down:
        return "right" if other.x >= one.right else "left"
    return "below" if other.y >= one.bottom else "above"


def _sizes_change(one: Sequence[Rect], other: Sequence[Rect]) -> bool:
    return any(
        (one[i].area > LARGER * one[j].area and other[j].area > LARGER * other[i].area)
        or (one[j].area > LARGER * one[i].area and other[i].area > LARGER * other[j].area)
        for i, j in combinations(range(len(one)), 2)
    )


def _measure_shift(one: Sequence[Rect], other: Sequence[Rect]) -> float:
    """Mean distance (mm) of the edges of each rectangle from those most like it in the other."""

    def apart(a: Rect, b: Rect) -> float:
        across = abs(a.x - b.x) + abs(a.right - b.right)
        return (across + abs(a.y - b.y) + abs(a.bottom - b.bottom)) / 4

    there = sum(min(apart(a, b) for b in other) for a in one) / len(one)
    back = sum(min(apart(a, b) for a in one) for b in other) / len(other)
    return max(there, back)
