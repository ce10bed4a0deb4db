"""Arranging pictures on a page: how long each way takes.

Seconds of the processor, one process, nothing remembered from one set of pictures to the next;
common shapes drawn by lot, fixed seeds. The floor lays the same pictures in rows, good or bad.
"""

from __future__ import annotations

import math
import random
import statistics
import time
from collections.abc import Callable, Sequence

from benchmarks.rows import Effort, Part, Row, fit_power
from wayfold.base.geometry import Rect
from wayfold.layout.choose import arrange_pictures, arrange_ways
from wayfold.layout.exact import fit_exactly
from wayfold.layout.scatter import arrange_scattered

SETS_OF = {Effort.QUICK: 3, Effort.USUAL: 10, Effort.LONG: 40}
FLOOR = "the same pictures in plain rows"
GAP, WAYS = 4.0, 4
BOX = Rect(20.0, 22.0, 168.0, 240.0)
COMMON = (1.5, 0.667, 1.333, 0.75, 1.778, 1.0)
BEST_GOAL_MS, WAYS_GOAL_MS = 20.0, 150.0

Work = Callable[[Sequence[float]], object]
KINDS: tuple[tuple[str, tuple[int, ...], Work, dict[int, float]], ...] = (
    (
        "the best of all trees",
        (5, 7, 8, 9),
        lambda a: arrange_pictures(a, BOX, GAP),
        {9: BEST_GOAL_MS},
    ),
    (
        f"{WAYS} ways that differ",
        (5, 7, 9),
        lambda a: arrange_ways(a, BOX, GAP, count=WAYS),
        {9: WAYS_GOAL_MS},
    ),
    (
        f"{WAYS} ways, aligned by 3 % crop",
        (5, 7, 9),
        lambda a: arrange_ways(a, BOX, GAP, count=WAYS, limits=[0.03] * len(a)),
        {9: WAYS_GOAL_MS},
    ),
    (
        f"{WAYS} ways that fill the box, cropped",
        (5, 7, 9),
        lambda a: fit_exactly(a, BOX, GAP, count=WAYS),
        {},
    ),
    (
        "3 ways to scatter them",
        (3, 5, 6),
        lambda a: arrange_scattered(a, BOX),
        {5: WAYS_GOAL_MS},
    ),
)


def invent_sets(count: int, sets: int) -> list[list[float]]:
    """Sets of ``count`` shapes, each a little off the common ones so that none is met twice."""
    chance = random.Random(count)
    return [
        [chance.choice(COMMON) * chance.uniform(0.99, 1.01) for _ in range(count)]
        for _ in range(sets)
    ]


def clock_each(work: Work, sets: Sequence[Sequence[float]]) -> list[float]:
    """Milliseconds of the processor that each set takes, after one that is not counted."""
    work(sets[-1])
    taken = []
    for aspects in sets:
        start = time.process_time()
        work(aspects)
        taken.append(1000 * (time.process_time() - start))
    return taken


def report(effort: Effort) -> Part:
    """Measure all ways at all sizes."""
    rows, sets = [], SETS_OF[effort]
    lines = [
        "## Arranging pictures",
        "",
        f"{sets} sets each, milliseconds of the processor; growth: with pictures to the power of.",
        "",
        "| what | pictures | median | worst | floor | goal | growth |",
        "|---|--:|--:|--:|--:|---|--:|",
    ]
    for what, counts, work, goals in KINDS:
        middles = []
        for count in counts:
            shapes = invent_sets(count, sets)
            floor, taken = clock_each(lay_in_rows, shapes), clock_each(work, shapes)
            middle, least = statistics.median(taken), statistics.median(floor)
            middles.append((count, middle))
            goal = f"≤ {goals[count]:.0f}" if count in goals else ""
            grown = f"{fit_power(middles):.1f}" if count == counts[-1] else ""
            lines.append(
                f"| {what} | {count} | {middle:.1f} | {max(taken):.1f} | {least:.3f} | {goal} "
                f"| {grown} |"
            )
            if count in goals:
                about = f"{what[0].upper()}{what[1:]}, {count} pictures"
                rows.append(Row(about, middle, least, FLOOR, "ms", most=goals[count]))
    return Part(tuple(rows), tuple(lines))


def lay_in_rows(aspects: Sequence[float]) -> list[Rect]:
    """Lay pictures in rows as wide as the box, as many in each as the root of their number."""
    across = math.isqrt(len(aspects))
    frames, y = [], BOX.y
    for start in range(0, len(aspects), across):
        row = aspects[start : start + across]
        height = (BOX.width - GAP * (len(row) - 1)) / sum(row)
        x = BOX.x
        for aspect in row:
            frames.append(Rect(x, y, aspect * height, height))
            x += aspect * height + GAP
        y += height + GAP
    return frames
