"""Two cameras that were busy at the same moments: the difference their times most agree on."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

REACH_S = 15 * 3600.0
"""Clocks are set to some zone: no two zones are farther apart than 26 h, from UTC 14 h."""
BIN_S = 60.0
AROUND_BINS = 45
"""Bins on each side that tell how busy the days are anyway."""
LEAST_PICTURES = 15
LEAST_SCORE = 7.0
"""Peak over background, in the background's standard deviations (Poisson)."""
LEAST_LEAD = 1.35
"""So many times the next best peak's score."""
CORE_S = 30.0


@dataclass(frozen=True, slots=True)
class Rhythm:
    """``ahead_s`` by voting, its score, and that of the next best peak."""

    ahead_s: float
    score: float
    next_score: float


def compare_rhythms(shown: Sequence[datetime], sure: Sequence[datetime]) -> Rhythm | None:
    """Give the difference that most pairs of pictures vote for; None where none stands out.

    ``shown``: what one clock showed; ``sure``: instants of another body's pictures, both naive,
    the latter in UTC. All differences within ``REACH_S`` vote, in bins of ``BIN_S`` smoothed over
    three. People shoot all day, so a peak counts only over its surroundings. Bursts vote once.
    """
    first, second = _thin(shown), _thin(sure)
    if min(len(first), len(second)) < LEAST_PICTURES:
        return None
    differences = _list_differences(first, second)
    votes = Counter(round(d / BIN_S) for d in differences)
    reach = int(REACH_S / BIN_S)
    line = [votes.get(b, 0) for b in range(-reach - 1, reach + 2)]
    smooth = [float(sum(line[i - 1 : i + 2])) for i in range(1, len(line) - 1)]
    sums = [0.0]
    for value in smooth:
        sums.append(sums[-1] + value)
    scores = []
    for index, value in enumerate(smooth):
        low, high = max(0, index - AROUND_BINS), min(len(smooth), index + AROUND_BINS + 1)
        inner = sum(smooth[max(0, index - 3) : index + 4])
        count = high - low - len(smooth[max(0, index - 3) : index + 4])
        background = max((sums[high] - sums[low] - inner) / count, 0.5)
        scores.append((value - background) / background**0.5)
    peak = max(range(len(scores)), key=scores.__getitem__)
    others = [s for i, s in enumerate(scores) if abs(i - peak) > 5]
    next_score = max(others, default=0.0)
    if scores[peak] < LEAST_SCORE or scores[peak] < LEAST_LEAD * next_score:
        return None
    centre_s = (peak - reach) * BIN_S
    return Rhythm(_sharpen(differences, centre_s), scores[peak], next_score)


def _thin(times: Sequence[datetime]) -> list[float]:
    """Give seconds since a fixed day, one for all pictures within 20 s of the one before."""
    kept: list[float] = []
    last = float("-inf")
    for at in sorted(times):
        seconds = (at - datetime(2000, 1, 1)).total_seconds()
        if seconds - last > 20.0:
            kept.append(seconds)
        last = seconds
    return kept


def _list_differences(first: Sequence[float], second: Sequence[float]) -> list[float]:
    differences: list[float] = []
    for at in first:
        low = bisect_left(second, at - REACH_S)
        high = bisect_left(second, at + REACH_S)
        differences += [at - other for other in second[low:high]]
    return differences


def _sharpen(differences: Sequence[float], centre_s: float) -> float:
    """Climb to the peak with a narrow bell (mean shift; Fukunaga and Hostetler 1975)."""
    near = [d for d in differences if abs(d - centre_s) <= 4 * BIN_S]
    for _ in range(20):
        weights = [math.exp(-(((d - centre_s) / CORE_S) ** 2) / 2.0) for d in near]
        total = sum(weights)
        if total <= 0:
            break
        moved = sum(w * d for w, d in zip(weights, near, strict=True)) / total
        if abs(moved - centre_s) < 0.5:
            break
        centre_s = moved
    return centre_s
