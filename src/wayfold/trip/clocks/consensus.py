"""What most of the evidence agrees on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wayfold.trip.clocks.model import Hint

WITHIN_S = 180.0
"""Pieces of evidence this near to the common value agree with it."""
APART_S = 2.0 * WITHIN_S
"""An explanation must be this far from the best one to count as another."""
WIDE_S = 900.0
"""A piece that fits so wide a stretch of offsets is worth half of one that fits a point."""
TO_SIGMA = 1.4826
"""Median absolute deviation to standard deviation, normal distribution."""
COMMON_S = 15.0
"""What all evidence may be off by together: a receiver's lag, a drift not seen (proposal)."""
MEDIAN_COST = 1.2533
"""Standard error of a median over that of a mean, sqrt(pi/2), normal distribution."""


@dataclass(frozen=True, slots=True)
class Consensus:
    """The value most evidence supports, and how it stands against the next best.

    ``error_s``: 1.96 standard errors, or half the width where only stretches of time speak, and
    ``COMMON_S``.
    ``support`` and ``rival`` are sums of weights.
    """

    ahead_s: float
    error_s: float
    support: float
    rival: float
    inliers: tuple[Hint, ...]


def find_consensus(hints: Sequence[Hint]) -> Consensus | None:
    """Give the value with most weight within ``WITHIN_S``, then the weighted median there.

    A hint counts for every value within its stretch; a wide one for less. None without hints.
    """
    if not hints:
        return None
    start, support = _densest(hints)
    inliers = [h for h in hints if away_from(h, start) <= WITHIN_S]
    for _ in range(3):  # the centre may move a little as pieces at the rim come and go
        ahead_s, flat_s = _weighted_median(inliers)
        near = [h for h in hints if away_from(h, ahead_s) <= WITHIN_S]
        if near == inliers:
            break
        inliers = near
    others = [h for h in hints if away_from(h, ahead_s) > WITHIN_S]
    rival = _densest([h for h in others if away_from(h, ahead_s) > APART_S - WITHIN_S])[1]
    support = sum(_worth(h) for h in inliers)
    return Consensus(ahead_s, _error(inliers, ahead_s, flat_s), support, rival, tuple(inliers))


def _worth(hint: Hint) -> float:
    return hint.weight / (1.0 + (hint.high_s - hint.low_s) / WIDE_S)


def away_from(hint: Hint, value_s: float) -> float:
    """Give how far (s) a value lies outside the hint's stretch; 0 within."""
    return max(hint.low_s - value_s, value_s - hint.high_s, 0.0)


def _densest(hints: Sequence[Hint]) -> tuple[float, float]:
    """Give the middle of the stretch that the most weight covers, and that weight."""
    events = sorted(
        [(h.low_s - WITHIN_S, 0, _worth(h)) for h in hints]
        + [(h.high_s + WITHIN_S, 1, -_worth(h)) for h in hints]
    )
    best = depth = 0.0
    middle = 0.0
    for index, (at_s, _, change) in enumerate(events):
        depth += change
        if depth > best + 1e-9 and index + 1 < len(events):
            best, middle = depth, (at_s + events[index + 1][0]) / 2.0
    return middle, best


def _weighted_median(hints: Sequence[Hint]) -> tuple[float, float]:
    """Give the value nearest to all hints in weighted sum, and the width it is undecided over.

    The distance to a stretch is half the sum of the distances to its ends, up to a constant, so
    the least sum lies at the median of all ends, each with half the worth.
    """
    ends = sorted((end, _worth(h) / 2.0) for h in hints for end in (h.low_s, h.high_s))
    half = sum(weight for _, weight in ends) / 2.0
    total = 0.0
    for index, (value_s, weight) in enumerate(ends):
        total += weight
        if abs(total - half) <= 1e-9 * half and index + 1 < len(ends):
            after = ends[index + 1][0]
            return (value_s + after) / 2.0, after - value_s
        if total > half:
            return value_s, 0.0
    return ends[-1][0], 0.0


def _deviation(hint: Hint, ahead_s: float) -> float:
    """Give how far a hint is off: of a short stretch its middle, or the spread would look nil."""
    if hint.high_s - hint.low_s <= WIDE_S:
        return abs((hint.low_s + hint.high_s) / 2.0 - ahead_s)
    return away_from(hint, ahead_s)


def _error(inliers: Sequence[Hint], ahead_s: float, flat_s: float) -> float:
    total = sum(_worth(h) for h in inliers)
    squares: float = sum(_worth(h) * _worth(h) for h in inliers)
    count = total * total / squares  # effective number (Kish 1965)
    away = sorted((_deviation(h, ahead_s), _worth(h)) for h in inliers)
    reached, mad_s = 0.0, 0.0
    for away_s, weight in away:
        mad_s = away_s
        reached += weight
        if reached >= total / 2.0:
            break
    # Of two or three pieces the deviation says little, so no less than a common spread is taken.
    floor_s = 20.0 if count < 5 else 2.0
    sigma_s = max(TO_SIGMA * mad_s, floor_s)
    points = [h for h in inliers if h.high_s - h.low_s < 1.0]
    width_s = flat_s if not points else min(flat_s, 2.0 * WITHIN_S)
    narrowest = min(h.high_s - h.low_s for h in inliers)
    stretch_s = width_s / 2.0 if points else max(width_s, narrowest) / 2.0
    error_s = float(1.96 * MEDIAN_COST * sigma_s / count**0.5)
    return max(error_s, stretch_s) + COMMON_S
