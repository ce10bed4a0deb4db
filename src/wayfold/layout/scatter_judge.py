"""How good scattered pictures are: lines they share, balance, and one wide white instead of many.

After the measures of Harrington et al., "Aesthetic measures for automated document layout", DocEng
2004, and joined as theirs: a harmonic mean, which one bad term spoils. The numbers are our own.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from heapq import heapify, heappop, heappush
from itertools import combinations, pairwise

from wayfold.layout.modules import Modules, Place
from wayfold.layout.white import White, measure_white

OPTICAL_CENTRE = 0.48
"""Height of the box's optical centre from its top, as a part of its height."""
OPEN = 4
"""White is open where a square of so many modules fits."""
MOST_TRAPPED = 0.03
"""The most open white shut in by pictures, as a part of the box."""
COVERED, COVERED_WITHIN = 0.52, 0.12
"""The part of the box that pictures cover best, and how sternly."""
ONE_WHITE = 0.62
"""The part of all white that the largest open one should have."""
CLEARLY_APART = 4
"""Neighbours keep one module, the book's gap, or at least so many."""
FUSSY = 3
"""Lines of like edges as near as this fidget, though they are not nearly one."""
ANCHORED = (0.4, 0.7, 1.0)
"""What it is worth that pictures lie on none, one, two or more edges of the box."""
DIGITS = 9
"""Scores are compared to so many decimals, which are the same on all machines."""
WEIGHTS = {
    "lines": 0.2,
    "balance": 0.2,
    "white": 0.25,
    "gaps": 0.15,
    "anchors": 0.1,
    "covered": 0.05,
    "order": 0.05,
}


def rank_places(
    modules: Modules, candidates: Sequence[tuple[Place, ...]]
) -> Iterator[tuple[tuple[Place, ...], float]]:
    """Give candidates with their scores, the best first, of equals the earlier; none that score 0.

    White takes longest to measure, so it is measured only of those that may come next: the others
    would score less were theirs perfect.
    """
    terms = [_rate_places(modules, places) for places in candidates]
    # Of equals those not yet judged come up first.
    queue = [(-round(_join(one), DIGITS), False, i) for i, one in enumerate(terms)]
    heapify(queue)
    while queue:
        score, judged, i = heappop(queue)
        if judged:
            yield candidates[i], -score
            continue
        whole = round(_judge_white(modules, candidates[i], terms[i]), DIGITS)
        if whole > 0.0:
            heappush(queue, (-whole, True, i))


def judge_places(modules: Modules, places: Sequence[Place]) -> float:
    """Give the score (0-1) of pictures in order; 0 where too much white is shut in."""
    return _judge_white(modules, places, _rate_places(modules, places))


def _judge_white(modules: Modules, places: Sequence[Place], terms: Mapping[str, float]) -> float:
    white = look_at_white(modules, places)
    if white.trapped > MOST_TRAPPED * modules.count:
        return 0.0
    covered = sum(p.area for p in places)
    largest = min(1.0, white.largest / (ONE_WHITE * (modules.count - covered)))
    return _join({**terms, "white": largest})


def _join(terms: Mapping[str, float]) -> float:
    return 1.0 / sum(WEIGHTS[name] / max(0.1, value) for name, value in terms.items())


def _rate_places(modules: Modules, places: Sequence[Place]) -> dict[str, float]:
    """Give what each term is worth (0-1), white as if it were perfect."""
    covered = sum(p.area for p in places)
    return {
        "lines": min(1.0, count_shared(places) / lines_wanted(len(places))),
        "balance": balance(modules, places),
        "white": 1.0,
        "gaps": 1.0 / (1.0 + 0.35 * count_unclear(places)),
        "anchors": ANCHORED[min(2, _count_anchors(modules, places))],
        "covered": math.exp(-(((covered / modules.count - COVERED) / COVERED_WITHIN) ** 2)),
        "order": 1.0 - _count_backward(places) / max(1, len(places) - 1),
    }


def lines_wanted(n: int) -> int:
    """How many edges of n pictures should lie on lines of others; more than that makes a grid."""
    return min(n + 2, 2 * (n - 1))


def count_shared(places: Sequence[Place]) -> int:
    """Count the edges that lie on a line which another's like edge has drawn already."""
    return sum(len(places) - len(lines) for lines in _draw_lines(places))


def _draw_lines(places: Sequence[Place]) -> tuple[set[int], set[int], set[int], set[int]]:
    """Give the lines of left, right, upper and lower edges."""
    return (
        {p.x for p in places},
        {p.right for p in places},
        {p.y for p in places},
        {p.bottom for p in places},
    )


def count_unclear(places: Sequence[Place]) -> float:
    """Count the neighbours neither near nor clearly apart; lines that fidget count half."""
    unclear = 0.0
    for a, b in combinations(places, 2):
        across = max(b.x - a.right, a.x - b.right)
        down = max(b.y - a.bottom, a.y - b.bottom)
        if min(across, down) < 0:
            unclear += 1 < max(across, down) < CLEARLY_APART
    for lines in _draw_lines(places):
        unclear += 0.5 * sum(high - low <= FUSSY for low, high in pairwise(sorted(lines)))
    return unclear


def _count_anchors(modules: Modules, places: Sequence[Place]) -> int:
    return sum(
        (
            any(p.x == 0 for p in places),
            any(p.y == 0 for p in places),
            any(p.right == modules.columns for p in places),
            any(p.bottom == modules.rows for p in places),
        )
    )


def balance(modules: Modules, places: Sequence[Place]) -> float:
    """How near the pictures' common centre lies to the optical one; 0 at half the diagonal off."""
    area = sum(p.area for p in places)
    across, down = modules.module_width, modules.module_height
    x = sum(p.area * (p.x + p.width / 2) for p in places) / area * across
    y = sum(p.area * (p.y + p.height / 2) for p in places) / area * down
    box = modules.box
    off = math.hypot(x - box.width / 2, y - OPTICAL_CENTRE * box.height)
    return max(0.0, 1.0 - off / (0.5 * math.hypot(box.width, box.height)))


def look_at_white(modules: Modules, places: Sequence[Place]) -> White:
    """Measure the open white of a box in modules."""
    covered = ((p.x, p.y, p.right, p.bottom) for p in places)
    return measure_white(modules.columns, modules.rows, covered, OPEN)


def _count_backward(places: Sequence[Place]) -> int:
    """Count the pictures that lie wholly above or left of the one before, and not after it."""
    return sum(
        (b.bottom <= a.y and b.x < a.right) or (b.right <= a.x and b.y < a.bottom)
        for a, b in pairwise(places)
    )
