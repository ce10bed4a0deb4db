"""What most of the evidence agrees on."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from wayfold.trip.clocks.model import Hint, Kind

WITHIN_S = 180.0
"""Pieces of evidence that name a moment agree with a value this near."""
STRETCH_WITHIN_S = 60.0
"""Pieces that name a stretch of time have their play in it already."""
STRETCH_S = 30.0
WIDE_S = 900.0
"""A piece that fits so wide a stretch of offsets is worth half of one that fits a point."""
ROUNDS = 3
STEP_S = 3.0
REACH_S = 360.0
WRONG = 0.4
WRONG_DENSITY = 1.0 / (30 * 3600.0)
"""A wrong piece of evidence says anything, over the thirty hours that zones can differ."""
SPREAD_S = {
    Kind.CLOCK_PICTURE: 2.0,
    Kind.TAG: 5.0,
    Kind.GPS: 12.0,
    Kind.LOCAL: 30.0,
    Kind.SCENE: 45.0,
    Kind.RHYTHM: 30.0,
    Kind.PAUSE: 30.0,
    Kind.TRACK: 30.0,
    Kind.EVENT: 60.0,
}
"""How far right pieces of a kind scatter (standard deviation; proposal)."""
SURE = 1.96
"""Standard deviations that 95 of 100 readings keep within."""
COMMON_S = 20.0
"""What all evidence may be off by together: a receiver's lag, a drift not seen (proposal)."""


@dataclass(frozen=True, slots=True)
class Consensus:
    """The value most evidence supports, and how it stands against the next best.

    ``error_s`` keeps 95 of 100 readings (``refine_consensus``; infinite before it). ``support``
    and ``rival`` are sums of weights, ``rival`` that of the best other explanation;
    ``log_odds`` (natural) against that one, where every piece is weighed by how exact it is, and
    ``backing`` against chance, of all pieces but the one that speaks for it most.
    """

    ahead_s: float
    error_s: float
    support: float
    rival: float
    inliers: tuple[Hint, ...]
    log_odds: float = 0.0
    backing: float = 0.0


def find_consensus(hints: Sequence[Hint]) -> Consensus | None:
    """Give the value with most weight around it, and a weighted median there.

    A hint counts for every value within its stretch; a wide one for less. None without hints.
    """
    if not hints:
        return None
    ahead_s, _ = _densest(hints)
    inliers = [h for h in hints if agrees(h, ahead_s)]
    for _ in range(ROUNDS):  # the centre may move a little as pieces at the rim come and go
        moved_s = _weighted_median(inliers)
        near = [h for h in hints if agrees(h, moved_s)]
        if sum(map(_worth, near)) < sum(map(_worth, inliers)) - 1e-9:
            break
        ahead_s, before, inliers = moved_s, inliers, near
        if near == before:
            break
    rival = _densest([h for h in hints if away_from(h, ahead_s) > WITHIN_S])[1]
    support = sum(_worth(h) for h in inliers)
    return Consensus(ahead_s, math.inf, support, rival, tuple(inliers))


def refine_consensus(consensus: Consensus, hints: Sequence[Hint]) -> Consensus:
    """Give the value again as mean of its posterior, with the error and the odds that follow.

    Each hint is right with a kind's own scatter about its point or stretch, or wrong and says
    anything. Even chances before; ``REACH_S`` about the consensus; error ``SURE`` deviations
    and ``COMMON_S``. The odds are those against the best other explanation.
    """
    values, logs = _weigh_values(hints, consensus.ahead_s)
    top = max(logs)
    shares = [math.exp(log - top) for log in logs]
    total = sum(shares)
    mean_s = sum(p * v for p, v in zip(shares, values, strict=True)) / total
    square = sum(p * (v - mean_s) ** 2 for p, v in zip(shares, values, strict=True)) / total
    log_odds = math.inf
    others = [h for h in hints if away_from(h, consensus.ahead_s) > WITHIN_S]
    if others:
        _, rivals = _weigh_values(hints, _densest(others)[0])
        other_top = max(rivals)
        other = math.log(sum(math.exp(r - other_top) for r in rivals)) + other_top
        log_odds = math.log(total) + top - other
    error_s = SURE * math.sqrt(square) + COMMON_S
    backing = _measure_backing(hints, values[logs.index(top)])
    return replace(consensus, ahead_s=mean_s, error_s=error_s, log_odds=log_odds, backing=backing)


def _measure_backing(hints: Sequence[Hint], value_s: float) -> float:
    """Give the logarithm of how much likelier than by chance all but one piece fit a value."""
    floor = math.log(WRONG * WRONG_DENSITY)
    gains = [min(1.0, h.weight) * (math.log(_density(h, value_s)) - floor) for h in hints]
    return sum(gains) - max(gains)


def _weigh_values(hints: Sequence[Hint], centre_s: float) -> tuple[list[float], list[float]]:
    """Give values about a centre, and the logarithm of each one's likelihood."""
    steps = int(REACH_S / STEP_S)
    values = [centre_s + STEP_S * n for n in range(-steps, steps + 1)]
    # Weights tell how far to trust a piece; above one they would feign pieces that are not there.
    trusts = [(h, min(1.0, h.weight)) for h in hints if away_from(h, centre_s) <= 2 * REACH_S]
    floor = math.log(WRONG * WRONG_DENSITY)
    return values, [
        sum(trust * (math.log(_density(h, v)) - floor) for h, trust in trusts) for v in values
    ]


def _density(hint: Hint, value_s: float) -> float:
    sigma = SPREAD_S.get(hint.kind, 45.0)
    width = hint.high_s - hint.low_s
    if width < 1.0:
        z = (value_s - hint.low_s) / sigma
        right = math.exp(-z * z / 2.0) / (sigma * math.sqrt(2.0 * math.pi))
    else:
        root = sigma * math.sqrt(2.0)
        rise = math.erf((value_s - hint.low_s) / root) - math.erf((value_s - hint.high_s) / root)
        right = max(rise, 0.0) / (2.0 * width)
    return WRONG * WRONG_DENSITY + (1.0 - WRONG) * right


def agrees(hint: Hint, value_s: float) -> bool:
    """Whether a piece of evidence agrees with a value."""
    return away_from(hint, value_s) <= _play(hint)


def away_from(hint: Hint, value_s: float) -> float:
    """Give how far (s) a value lies outside the hint's stretch; 0 within."""
    return max(hint.low_s - value_s, value_s - hint.high_s, 0.0)


def _play(hint: Hint) -> float:
    return WITHIN_S if hint.high_s - hint.low_s < STRETCH_S else STRETCH_WITHIN_S


def _worth(hint: Hint) -> float:
    return hint.weight / (1.0 + (hint.high_s - hint.low_s) / WIDE_S)


def _densest(hints: Sequence[Hint]) -> tuple[float, float]:
    """Give the middle of the stretch that the most weight covers, and that weight."""
    events = sorted(
        [(h.low_s - _play(h), 0, _worth(h)) for h in hints]
        + [(h.high_s + _play(h), 1, -_worth(h)) for h in hints]
    )
    best = depth = 0.0
    middle = 0.0
    for index, (at_s, _, change) in enumerate(events):
        depth += change
        if depth > best + 1e-9 and index + 1 < len(events):
            best, middle = depth, (at_s + events[index + 1][0]) / 2.0
    return middle, best


def _weighted_median(hints: Sequence[Hint]) -> float:
    """Give the value nearest to all hints in weighted sum; the middle where it is undecided.

    The distance to a stretch is half the sum of the distances to its ends, up to a constant, so
    the least sum lies at the median of all ends, each with half the worth.
    """
    ends = sorted((end, _worth(h) / 2.0) for h in hints for end in (h.low_s, h.high_s))
    half = sum(weight for _, weight in ends) / 2.0
    total = 0.0
    for index, (value_s, weight) in enumerate(ends):
        total += weight
        if abs(total - half) <= 1e-9 * half and index + 1 < len(ends):
            return (value_s + ends[index + 1][0]) / 2.0
        if total > half:
            return value_s
    return ends[-1][0]
