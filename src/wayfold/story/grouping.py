"""Pictures of one day that belong together, divided into groups for a page or two."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from statistics import median

from wayfold.story.entries import Entry

SIZE_COST = {2: 1.0, 3: 0.0, 4: 0.2, 5: 1.0, 6: 1.5}
"""Three or four pictures suit a page best; six are the most that still breathe."""
PAUSE_COST = 0.4
"""For each doubling of the usual pause within a group."""
APART_COST = 1.5
"""For a change of event or of place within a group."""
SAME_SHAPE_COST = 0.3
"""Only upright or only wide pictures make a duller page than both."""


def divide_into_groups(entries: Sequence[Entry]) -> list[tuple[Entry, ...]]:
    """Give groups of two to six in the same order, none of one unless there is one entry only.

    The cheapest division by the costs of this module, by dynamic programming over where groups
    end; of equals the one whose later groups are smaller.
    """
    if len(entries) < 2:
        return [tuple(entries)] if entries else []
    pauses = [_cost_pause(a, b, _usual_pause(entries)) for a, b in pairwise(entries)]
    best: list[tuple[float, int]] = [(0.0, 0)]
    for end in range(1, len(entries) + 1):
        ways = [
            (
                best[end - size][0]
                + cost
                + sum(pauses[end - size : end - 1])
                + _cost_shape(entries[end - size : end]),
                size,
            )
            for size, cost in SIZE_COST.items()
            if size <= end
        ]
        best.append(min(ways, default=(math.inf, 1)))
    return _read_back(entries, [size for _, size in best])


def _read_back(entries: Sequence[Entry], sizes: Sequence[int]) -> list[tuple[Entry, ...]]:
    groups: list[tuple[Entry, ...]] = []
    end = len(entries)
    while end > 0:
        groups.insert(0, tuple(entries[end - sizes[end] : end]))
        end -= sizes[end]
    return groups


def _seconds_between(earlier: Entry, later: Entry) -> float:
    if earlier.local is None or later.local is None:
        return 1.0
    return max(1.0, (later.local - earlier.local).total_seconds())


def _usual_pause(entries: Sequence[Entry]) -> float:
    return median(_seconds_between(a, b) for a, b in pairwise(entries))


def _cost_pause(earlier: Entry, later: Entry, usual: float) -> float:
    doublings = max(0.0, math.log2(_seconds_between(earlier, later) / usual))
    apart = (earlier.event, earlier.stop) != (later.event, later.stop)
    return PAUSE_COST * doublings + (APART_COST if apart else 0.0)


def _cost_shape(group: Sequence[Entry]) -> float:
    upright = sum(e.aspect < 1.0 for e in group)
    return SAME_SHAPE_COST if upright in (0, len(group)) else 0.0
