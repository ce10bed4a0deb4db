"""Put fixes in order, and leave out those that cannot be true."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise

from wayfold.trip.tracks import Fix, speed_and_way

HDOP_LIMIT = 10.0
"""A fix of greater dilution is no position (common practice, no single source)."""
SPEED_LIMIT_M_S = 300.0
"""Faster than an airliner over ground (common practice, no single source)."""


@dataclass(frozen=True, slots=True)
class Remark:
    """What was done to a track; ``rule`` is the last part of the finding's name."""

    rule: str
    message: str


def clean_segments(
    runs: Sequence[Sequence[Fix]],
) -> tuple[tuple[tuple[Fix, ...], ...], tuple[Remark, ...]]:
    """Give segments whose times rise strictly throughout, and what was done.

    In turn: fixes of poor geometry go; a run recorded backwards is turned; of fixes out of order
    the fewest are dropped; so are fixes no traveller could have reached from either neighbour;
    a jump that is left cuts the segment. Segments that overlap in time are merged by time.
    """
    dilute = disordered = wild = turned = 0
    kept: list[Fix] = []
    starts: set[datetime] = set()
    for run in runs:
        sharp = [f for f in run if f.hdop is None or f.hdop <= HDOP_LIMIT]
        dilute += len(run) - len(sharp)
        ordered, backwards = order_fixes(sharp)
        turned += backwards
        disordered += len(sharp) - len(ordered)
        if ordered:
            starts.add(ordered[0].utc)
            kept += ordered
    kept.sort(key=lambda f: f.utc)
    single = [f for i, f in enumerate(kept) if i == 0 or kept[i - 1].utc < f.utc]
    disordered += len(kept) - len(single)
    calm = drop_leaps(single)
    wild = len(single) - len(calm)
    segments = _cut(calm, starts)
    remarks = [
        Remark("dilute", f"{_count(dilute)} of poor satellite geometry (HDOP over "
               f"{HDOP_LIMIT:g}) were left out.") if dilute else None,
        Remark("reversed", f"{turned} segment(s) ran backwards in time and were turned round.")
        if turned else None,
        Remark("disordered", f"{_count(disordered)} with times out of order, or the time of "
               "another, were left out.") if disordered else None,
        Remark("leap", f"{_count(wild)} that nobody could have reached (over "
               f"{SPEED_LIMIT_M_S:g} m/s) were left out.") if wild else None,
    ]  # fmt: skip
    return segments, tuple(r for r in remarks if r)


def order_fixes(fixes: Sequence[Fix]) -> tuple[list[Fix], bool]:
    """Give the longest run of strictly rising times among ``fixes``, and whether it was turned.

    It is sought backwards too: a track joined end to start by a program runs against time.
    """
    forward = _longest_rising(fixes)
    if len(forward) == len(fixes):
        return forward, False
    backward = _longest_rising(fixes[::-1])
    return (backward, True) if len(backward) > len(forward) else (forward, False)


def _longest_rising(fixes: Sequence[Fix]) -> list[Fix]:
    """Give the longest strictly rising subsequence by patience sorting (Fredman 1975)."""
    ends: list[datetime] = []
    tails: list[int] = []
    before: list[int] = []
    for index, fix in enumerate(fixes):
        place = bisect_left(ends, fix.utc)
        before.append(tails[place - 1] if place else -1)
        if place == len(ends):
            ends.append(fix.utc)
            tails.append(index)
        else:
            ends[place], tails[place] = fix.utc, index
    chain = []
    index = tails[-1] if tails else -1
    while index >= 0:
        chain.append(fixes[index])
        index = before[index]
    return chain[::-1]


def drop_leaps(fixes: Sequence[Fix]) -> list[Fix]:
    """Leave out fixes that lie beyond ``SPEED_LIMIT_M_S`` from both neighbours in time.

    At the ends the one neighbour decides, if that one agrees with its own. Repeated until
    nothing changes, so that two bad fixes side by side go as well where they disagree.
    """
    kept = list(fixes)
    while len(kept) > 2:
        fast = [speed_and_way(a, b)[0] > SPEED_LIMIT_M_S for a, b in pairwise(kept)]
        bad = {i for i in range(1, len(kept) - 1) if fast[i - 1] and fast[i]}
        # Two bad neighbours accuse each other, and each its good neighbour: take every other.
        bad -= {i for i in bad if i - 1 in bad and i % 2 == 0}
        if fast[0] and not fast[1]:
            bad.add(0)
        if fast[-1] and not fast[-2]:
            bad.add(len(kept) - 1)
        if not bad:
            break
        kept = [f for i, f in enumerate(kept) if i not in bad]
    return kept


def _cut(fixes: Sequence[Fix], starts: set[datetime]) -> tuple[tuple[Fix, ...], ...]:
    """Cut at the file's own segment starts and at jumps that are left."""
    cuts = [
        i
        for i in range(1, len(fixes))
        if fixes[i].utc in starts or speed_and_way(fixes[i - 1], fixes[i])[0] > SPEED_LIMIT_M_S
    ]
    edges = [0, *cuts, len(fixes)]
    return tuple(tuple(fixes[a:b]) for a, b in pairwise(edges) if b > a)


def _count(points: int) -> str:
    return "1 point" if points == 1 else f"{points:,} points"
