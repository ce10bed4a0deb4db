"""Arranging pictures on a page: how long each way takes. Writes its part of docs/performance.md.

Run it with ``python -m benchmarks.arrangements``. Seconds of the processor, one process, nothing
remembered from one set of pictures to the next; common shapes drawn by lot, fixed seeds.
"""

from __future__ import annotations

import random
import statistics
import time
from collections.abc import Callable, Sequence

from benchmarks.report import describe_machine, write_part
from wayfold.base.geometry import Rect
from wayfold.layout.choose import arrange_pictures, arrange_ways
from wayfold.layout.exact import fit_exactly
from wayfold.layout.scatter import arrange_scattered

SETS = 40
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


def invent_sets(count: int) -> list[list[float]]:
    """Sets of ``count`` shapes, each a little off the common ones so that none is met twice."""
    chance = random.Random(count)
    return [
        [chance.choice(COMMON) * chance.uniform(0.99, 1.01) for _ in range(count)]
        for _ in range(SETS)
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


def main() -> None:
    lines = ["| what | pictures | median ms | worst ms | goal |", "|---|--:|--:|--:|---|"]
    for what, counts, work, goals in KINDS:
        for count in counts:
            taken = clock_each(work, invent_sets(count))
            middle = statistics.median(taken)
            goal = f"{goals[count]:.0f} ms" if count in goals else ""
            lines.append(f"| {what} | {count} | {middle:.1f} | {max(taken):.1f} | {goal} |")
    print("\n".join(lines))
    about = f"{describe_machine()} {SETS} sets each, by `python -m benchmarks.arrangements`."
    write_part("arrangements", ["## Arranging pictures", "", about, "", *lines])


if __name__ == "__main__":
    main()
