"""Whether a clock was set to the new local time where the journey came to one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from itertools import accumulate, pairwise, product

from wayfold.trip.clocks.consensus import (
    WITHIN_S,
    Consensus,
    agrees,
    away_from,
    find_consensus,
    refine_consensus,
)
from wayfold.trip.clocks.model import Hint
from wayfold.trip.zones_timeline import ZoneChange

LEAST_SUPPORT = 2.5
"""Two agreeing receiver's times, three scenes, or one clock pointed at."""
LEAST_LEAD = 1.35
"""The best explanation needs so many times the weight of the next best, or ..."""
LEAST_LOG_ODDS = 8.0
"""... odds of 3,000 to 1 against it: more than one piece of evidence is ever worth."""
LEAST_BACKING = 6.0
"""One piece alone may be wrong; what else says the same must be 400 times likelier than chance."""
ROUGH_S = 900.0
"""An explanation less exact than this is none: it does not even tell the zone."""
DECIDES = 0.8
"""Weight by which “set” and “not set” must differ: one good piece of evidence beyond the change.

By chance a wrong piece agrees with either to three minutes about once in two hundred times.
"""
LATE = timedelta(hours=36)
"""So long after arriving the clock may still have been as before."""
MOST_CHANGES = 8
CONTRARY = 2.0
"""One receiver's time, or two scenes."""
QUARTER_S = 900.0
SLACK_S = 120.0
"""Setting a clock by the zone leaves its slip as it was, but for the errors of reading it."""


@dataclass(frozen=True, slots=True)
class Group:
    """Stretches (numbers, between changes of local time) whose settings hang together.

    ``shifts``: stretch -> seconds the clock had been put forward since the group's first
    setting. ``known``: whether ``consensus``, of the evidence less the shifts, is enough to use.
    ``late``: change number -> instant (naive, UTC) until which the old setting was still seen.
    """

    stretches: tuple[int, ...]
    shifts: Mapping[int, float] = field(default_factory=dict)
    consensus: Consensus | None = None
    known: bool = False
    late: Mapping[ZoneChange, datetime] = field(default_factory=dict)

    def window(self, change: ZoneChange) -> tuple[datetime, datetime]:
        """Give the span of time (naive, UTC) in which the clock was set at ``change``."""
        late = self.late.get(change)
        return (late, late + LATE) if late else (change.first, change.last)


def judge(consensus: Consensus | None) -> bool:
    """Whether the evidence is enough to use."""
    return (
        consensus is not None
        and consensus.support >= LEAST_SUPPORT
        and (
            consensus.support >= LEAST_LEAD * consensus.rival
            or consensus.log_odds >= LEAST_LOG_ODDS
        )
        and consensus.log_odds >= 0.0
        and (consensus.backing >= LEAST_BACKING or _speaks_alone(consensus))
        and consensus.error_s <= ROUGH_S
    )


def _speaks_alone(consensus: Consensus) -> bool:
    return any(hint.weight >= LEAST_SUPPORT for hint in consensus.inliers)


def find_own_changes(hints: Sequence[Hint]) -> tuple[ZoneChange, ...]:
    """Give the changes of setting that the evidence alone tells, where no places tell of one.

    A second explanation that is enough by itself, a number of quarters of an hour away, all of
    whose pieces lie before or all after those of the best one. Failing that, a change by nobody
    knows how much (step 0) where, before the first or after the last piece that agrees with the
    best, all the evidence there is speaks against it.
    """
    best = find_consensus(hints)
    if best is None:
        return ()
    others = [h for h in hints if away_from(h, best.ahead_s) > 2 * WITHIN_S]
    second = find_consensus(others)
    if second is not None and second.support >= LEAST_SUPPORT:
        one, other = sorted((best, second), key=lambda c: min(_claims(h) for h in c.inliers))
        first = max(_claims(h) for h in one.inliers)
        last = min(_claims(h) for h in other.inliers)
        step_s = other.ahead_s - one.ahead_s
        quarters_s = QUARTER_S * round(step_s / QUARTER_S)
        if first < last and abs(step_s - quarters_s) <= SLACK_S:
            return (ZoneChange(first, last, quarters_s),)
    # In the order in which the clock showed them, which the evidence has no part in.
    start = min(h.shown for h in best.inliers)
    end = max(h.shown for h in best.inliers)
    ahead = timedelta(seconds=best.ahead_s)
    early = [h for h in others if h.shown < start]
    late = [h for h in others if h.shown > end]
    changes = []
    if sum(h.weight for h in early) >= CONTRARY:
        edge = max(h.shown for h in early)
        changes.append(ZoneChange(edge - ahead, start - ahead, 0.0))
    if sum(h.weight for h in late) >= CONTRARY:
        edge = min(h.shown for h in late)
        changes.append(ZoneChange(end - ahead, edge - ahead, 0.0))
    return tuple(changes)


def group_evidence(hints: Sequence[Hint], changes: Sequence[ZoneChange]) -> list[Group]:
    """Give the groups of stretches in order of time, each with its consensus.

    Every combination of “set to the new time” and “left as it was” at the changes is tried; the
    one most evidence agrees with holds. Where a change could as well have gone the other way,
    what lies beyond it stands alone, and must be known by itself or is not known.
    """
    if len(changes) > MOST_CHANGES:
        # A journey of so many changes is read stretch by stretch.
        return [_read_alone((n,), hints, changes) for n in range(len(changes) + 1)]
    numbered = [(_stretch_of(h, changes), h) for h in hints]
    best_mask: tuple[int, ...] = (0,) * len(changes)
    supports: dict[tuple[int, ...], float] = {}
    for mask in sorted(product((0, 1), repeat=len(changes)), key=sum):
        found = find_consensus(_shift(numbered, _shifts(mask, changes)))
        supports[mask] = found.support if found else 0.0
        if supports[mask] > supports[best_mask] + 1e-9:
            best_mask = mask
    unsure = []
    for number in range(len(changes)):
        other = max(s for m, s in supports.items() if m[number] != best_mask[number])
        if supports[best_mask] - other < DECIDES:
            unsure.append(number)
    runs = _cut_runs(len(changes) + 1, unsure)
    shifts = _shifts(best_mask, changes)
    return [_read_run(run, numbered, shifts, changes) for run in runs]


def _read_run(
    run: tuple[int, ...],
    numbered: Sequence[tuple[int, Hint]],
    shifts: Mapping[int, float],
    changes: Sequence[ZoneChange],
) -> Group:
    start = shifts[run[0]]
    own = {n: shifts[n] - start for n in run}
    hints = [(n, h) for n, h in numbered if n in own]
    consensus = _read(_shift(hints, own))
    late: dict[ZoneChange, datetime] = {}
    if consensus is not None:
        for one, other in pairwise(run):
            if own[one] != own[other]:
                old_s, new_s = (consensus.ahead_s + own[n] for n in (one, other))
                held = _held_until(hints, changes[other - 1], old_s, new_s)
                if held is not None:
                    late[changes[other - 1]] = held
    return Group(run, own, consensus, judge(consensus), late)


def _held_until(
    hints: Sequence[tuple[int, Hint]], change: ZoneChange, old_s: float, new_s: float
) -> datetime | None:
    """Give the last instant after a change that had the old setting, if most evidence says so."""
    votes = []
    for _, hint in hints:
        claimed = _claims(hint)
        if change.last <= claimed <= change.last + LATE:
            votes.append((claimed, agrees(hint, old_s) - agrees(hint, new_s)))
    best, lead, held = 0, 0, None
    for claimed, vote in sorted(votes):
        lead += vote
        if lead > best:
            best, held = lead, claimed
    return held


def _read_alone(
    run: tuple[int, ...], hints: Sequence[Hint], changes: Sequence[ZoneChange]
) -> Group:
    own = [h for h in hints if _stretch_of(h, changes) in run]
    consensus = _read(own)
    return Group(run, {}, consensus, judge(consensus))


def _read(hints: Sequence[Hint]) -> Consensus | None:
    found = find_consensus(hints)
    return refine_consensus(found, hints) if found else None


def _stretch_of(hint: Hint, changes: Sequence[ZoneChange]) -> int:
    return sum(c.last <= _claims(hint) for c in changes)


def _claims(hint: Hint) -> datetime:
    """Give the instant (naive, UTC) at which the picture was taken, if the hint is right."""
    return hint.shown - timedelta(seconds=(hint.low_s + hint.high_s) / 2.0)


def _shifts(mask: Sequence[int], changes: Sequence[ZoneChange]) -> dict[int, float]:
    steps = (m * c.step_s for m, c in zip(mask, changes, strict=True))
    return dict(enumerate(accumulate(steps, initial=0.0)))


def _shift(numbered: Sequence[tuple[int, Hint]], shifts: Mapping[int, float]) -> list[Hint]:
    return [
        replace(h, low_s=h.low_s - shifts[n], high_s=h.high_s - shifts[n],
                shown=h.shown - timedelta(seconds=shifts[n]))
        if shifts[n]
        else h
        for n, h in numbered
    ]  # fmt: skip


def _cut_runs(count: int, unsure: Sequence[int]) -> list[tuple[int, ...]]:
    edges = [0, *(n + 1 for n in unsure), count]
    return [tuple(range(a, b)) for a, b in pairwise(edges)]
