"""Gutters that nearly lie on one line brought onto it, by cropping pictures a little.

Between the pictures of a slicing tree every gutter may be moved, if the pictures on both its sides
are cropped. Of picture i with the aspect r, the width w and the height h are differences of lines,
and w - r h is what is cropped: linear in the lines. So the lines that crop least, by the sum of the
squares of (w - r h) / w, are found at once, whichever gutters are to share one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from wayfold.base.geometry import Rect
from wayfold.layout.arrangement import crop_loss
from wayfold.layout.calm import CLEARLY_APART, SAME_LINE
from wayfold.layout.slicing import Cut, Floats, Tree


@dataclass(frozen=True, slots=True)
class Gutters:
    """The lines that bound the pictures of a placed tree.

    ``lines`` are the middles of its gutters and, last, the left, right, upper and lower edge of the
    whole; ``across`` tells for each gutter whether it parts pictures side by side. ``bounds`` has
    the left, right, upper and lower line of each picture.
    """

    lines: tuple[float, ...]
    across: tuple[bool, ...]
    bounds: tuple[tuple[int, int, int, int], ...]

    def place(self, lines: Sequence[float], gap: float) -> tuple[Rect, ...]:
        """Give the pictures where the lines lie so."""
        half = [gap / 2] * len(self.across) + [0.0] * 4
        rects = []
        for left, right, top, bottom in self.bounds:
            x, y = lines[left] + half[left], lines[top] + half[top]
            rects.append(
                Rect(x, y, lines[right] - half[right] - x, lines[bottom] - half[bottom] - y)
            )
        return tuple(rects)


def align_gutters(
    tree: Tree,
    rects: Sequence[Rect],
    aspects: Sequence[float],
    gap: float,
    limits: Sequence[float],
) -> tuple[Rect, ...]:
    """Give the pictures of a placed tree, gutters that are nearly on one line brought onto it.

    The whole keeps its size. ``limits`` holds the part that each picture may lose; what would take
    more is left as it is, and the nearest gutters are tried first.
    """
    gutters = find_gutters(tree, rects, gap)
    same = list(range(len(gutters.across)))
    best = tuple(rects)
    for one, other in _list_near(gutters):
        joined = [same[one] if line == same[other] else line for line in same]
        moved = gutters.place(_crop_least(gutters, joined, rects, aspects, gap), gap)
        losses = (crop_loss(a, r.size.aspect) for a, r in zip(aspects, moved, strict=True))
        if all(loss <= limit for loss, limit in zip(losses, limits, strict=True)):
            same, best = joined, moved
    return best


def find_gutters(tree: Tree, rects: Sequence[Rect], gap: float) -> Gutters:
    """Find the gutters of a tree whose pictures lie at ``rects``."""
    middles: list[float] = []
    across: list[bool] = []
    bounds: dict[int, tuple[int, int, int, int]] = {}
    count = len(rects) - 1

    def visit(node: Tree, left: int, right: int, top: int, bottom: int) -> None:
        if node.cut is Cut.LEAF:
            bounds[node.picture] = (left, right, top, bottom)
            return
        beside = node.cut is Cut.BESIDE
        start, last = (left, right) if beside else (top, bottom)
        for number, child in enumerate(node.children):
            end = last
            if number < len(node.children) - 1:
                follower = rects[_first_picture(node.children[number + 1])]
                end = len(middles)
                middles.append((follower.x if beside else follower.y) - gap / 2)
                across.append(beside)
            visit(child, *((start, end, top, bottom) if beside else (left, right, start, end)))
            start = end

    # A tree of n pictures has at most n - 1 gutters, and as many of two children each.
    visit(tree, count, count + 1, count + 2, count + 3)
    whole = (
        min(r.x for r in rects),
        max(r.right for r in rects),
        min(r.y for r in rects),
        max(r.bottom for r in rects),
    )
    return Gutters((*middles, *whole), tuple(across), tuple(bounds[i] for i in range(len(rects))))


def _first_picture(tree: Tree) -> int:
    return tree.picture if tree.cut is Cut.LEAF else _first_picture(tree.children[0])


def _list_near(gutters: Gutters) -> list[tuple[int, int]]:
    """Give the pairs of gutters that look like one line missed, the nearest first."""
    near = []
    for one, other in combinations(range(len(gutters.across)), 2):
        apart = abs(gutters.lines[one] - gutters.lines[other])
        if gutters.across[one] == gutters.across[other] and SAME_LINE < apart < CLEARLY_APART:
            near.append((round(apart, 6), one, other))
    return [(one, other) for _, one, other in sorted(near)]


def _crop_least(
    gutters: Gutters,
    same: Sequence[int],
    rects: Sequence[Rect],
    aspects: Sequence[float],
    gap: float,
) -> list[float]:
    """Give the lines that crop least where gutters of the same number share one."""
    count = len(same)
    shown = sorted(set(same))
    # What each line adds to w - r h, as a part of w; what is fixed goes to the other side.
    terms = np.zeros((len(rects), count + 4))
    fixed = np.zeros(len(rects))
    for i, ((left, right, top, bottom), rect) in enumerate(zip(gutters.bounds, rects, strict=True)):
        for line, factor in ((right, 1.0), (left, -1.0), (bottom, -aspects[i]), (top, aspects[i])):
            terms[i, line] += factor / rect.width
        wide = gap / 2 * ((left < count) + (right < count))
        high = gap / 2 * ((top < count) + (bottom < count))
        fixed[i] = (wide - aspects[i] * high) / rect.width
    fixed -= terms[:, count:] @ np.array(gutters.lines[count:])
    joined: Floats = np.zeros((len(rects), len(shown)))
    for line, number in enumerate(same):
        joined[:, shown.index(number)] += terms[:, line]
    solved = np.linalg.lstsq(joined, fixed, rcond=None)[0]
    return [*(float(solved[shown.index(number)]) for number in same), *gutters.lines[count:]]
