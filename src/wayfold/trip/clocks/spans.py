"""From agreeing evidence to spans of a clock's life: zone, slip and drift of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from itertools import combinations, pairwise
from math import inf, isinf
from statistics import median

from wayfold.trip.clocks.consensus import Consensus, agrees
from wayfold.trip.clocks.model import Hint, Span
from wayfold.trip.clocks.resets import QUARTER_S, Group, find_own_changes, group_evidence
from wayfold.trip.zones_timeline import ZoneChange

DRIFT_SPAN = timedelta(days=7)
DRIFT_APART = timedelta(days=3)
DRIFT_MOST_S_DAY = 5.0
"""Ordinary quartz keeps within this (common practice, no single source)."""
DRIFT_HINTS = 6

REAL_ZONES = (
    *range(-720, 841, 60),
    *(-570, -210, -150, 210, 270, 330, 390, 570, 630),
    *(345, 525, 765, 825),
)
"""Minutes east of UTC in use now, by the tz database 2026."""
ZONE_SLIP_S = 600.0
NO_RESET = timedelta(hours=6)
"""Between pictures no longer apart nobody is thought to have come to another zone (proposal)."""


def read_spans(
    hints: Sequence[Hint],
    pictures: Sequence[datetime],
    changes: Sequence[ZoneChange],
    *,
    unseen: bool = False,
) -> tuple[tuple[Span, ...], tuple[Consensus, ...]]:
    """Give the spans of a clock and the consensus behind them; no spans where none is known.

    ``pictures``: what the clock showed, in order. ``changes``: where the party came to other
    local time, the only occasions at which a clock is thought to have been set. A span whose
    ``error_s`` is infinite is one that is not known. Where changes would be ``unseen``, no
    zone of the journey being known, the evidence itself may tell of one; and it speaks only for
    the pictures it lies among, not for those beyond a long pause before or after.
    """
    if unseen:
        changes = find_own_changes(hints)
    groups = group_evidence(hints, changes)
    found = tuple(g.consensus for g in groups if g.consensus)
    if not any(g.known for g in groups):
        return (), found
    spans: list[Span] = []
    last: tuple[Group, int] | None = None
    for group in groups:
        base = _make_span(group.consensus) if group.known and group.consensus else None
        for stretch in group.stretches:
            shift_s = group.shifts.get(stretch, 0.0)
            since = None
            if last is not None:
                change = changes[stretch - 1]
                since = _find_start(pictures, change, last, (group, stretch))
            if base is None:
                zone: tuple[int | None, float] = (None, 0.0)
                span = Span(since, 0.0, *zone, inf, since or pictures[0])
            else:
                ahead_s = base.ahead_s + shift_s
                moved = base.middle + timedelta(seconds=shift_s)
                zone = split_zone(ahead_s)
                span = replace(base, since=since, ahead_s=ahead_s, zone_minutes=zone[0],
                               slip_s=zone[1], middle=moved)  # fmt: skip
            last = group, stretch
            if not spans or not _continues(spans[-1], span):
                spans.append(span)
    if unseen:
        spans = _end_at_pauses(spans, pictures, hints)
    return tuple(spans), found


def _end_at_pauses(
    spans: Sequence[Span], pictures: Sequence[datetime], hints: Sequence[Hint]
) -> list[Span]:
    """Give the spans, not known where a long pause parts the pictures from a span's evidence.

    Nobody knows then whether the clock was set in that pause or in another one.
    """
    told = {
        span: [
            h.shown
            for h in hints
            if _span_at(spans, h.shown) is span and agrees(h, span.ahead_at(h.shown))
        ]
        for span in spans
        if not isinf(span.error_s)
    }
    ended: list[Span] = []
    for run in _split_runs(pictures):
        for shown in run:
            span = _span_at(spans, shown)
            seen = told.get(span)
            known = bool(seen) and run[0] <= max(seen or run) and run[-1] >= min(seen or run)
            since = shown if ended else None
            fresh = replace(span, since=since) if known else Span(since, 0.0, None, 0.0, inf, shown)
            if not ended or not _continues(ended[-1], fresh):
                ended.append(fresh)
    return ended


def _span_at(spans: Sequence[Span], shown: datetime) -> Span:
    return next((s for s in reversed(spans) if s.since and s.since <= shown), spans[0])


def _split_runs(pictures: Sequence[datetime]) -> list[list[datetime]]:
    runs = [[pictures[0]]]
    for one, other in pairwise(pictures):
        if other - one > NO_RESET:
            runs.append([])
        runs[-1].append(other)
    return runs


def _continues(one: Span, other: Span) -> bool:
    if inf in (one.error_s, other.error_s):
        return one.error_s == other.error_s
    return one.ahead_s == other.ahead_s


def _find_start(
    pictures: Sequence[datetime],
    change: ZoneChange,
    before: tuple[Group, int],
    after: tuple[Group, int],
) -> datetime:
    """Give what the clock showed at the first picture that belongs to the stretch after a change.

    The clock was set in the longest pause about the change; where one side is not known, all
    that may lie beyond the change belongs to that side.
    """
    old_s, new_s = _ahead(before), _ahead(after)
    if old_s is None and new_s is None:
        return change.last
    if new_s is None and old_s is not None:
        return change.first + timedelta(seconds=old_s, microseconds=1)
    if old_s is None and new_s is not None:
        return change.last + timedelta(seconds=new_s)
    assert old_s is not None and new_s is not None
    first, last = after[0].window(change)
    pauses = []
    for one, other in pairwise(pictures):
        left = one - timedelta(seconds=old_s)
        right = other - timedelta(seconds=new_s)
        if right >= first and left <= last:
            pauses.append((right - left, other))
    return max(pauses)[1] if pauses else change.last + timedelta(seconds=new_s)


def _ahead(side: tuple[Group, int]) -> float | None:
    group, stretch = side
    if not group.known or group.consensus is None:
        return None
    return group.consensus.ahead_s + group.shifts.get(stretch, 0.0)


def _make_span(consensus: Consensus) -> Span:
    inliers = consensus.inliers
    times = sorted(h.shown for h in inliers)
    middle = times[0] + (times[-1] - times[0]) / 2
    drift = find_drift(inliers)
    ahead_s = consensus.ahead_s
    if drift:
        ahead_s = median(
            _value(h) - drift * (h.shown - middle).total_seconds() / 86_400.0 for h in inliers
        )
    zone, slip_s = split_zone(ahead_s)
    return Span(None, ahead_s, zone, slip_s, consensus.error_s, middle, drift)


def _value(hint: Hint) -> float:
    return (hint.low_s + hint.high_s) / 2.0


def find_drift(hints: Sequence[Hint]) -> float:
    """Give the gain in seconds a day (Theil 1950, Sen 1968: median slope); 0 without strong signs.

    Over more than ``DRIFT_SPAN``, from pairs ``DRIFT_APART`` apart, up to ``DRIFT_MOST_S_DAY``,
    and only where it halves the median deviation.
    """
    points = [h for h in hints if h.high_s - h.low_s < 30.0]
    if len(points) < DRIFT_HINTS:
        return 0.0
    if max(p.shown for p in points) - min(p.shown for p in points) <= DRIFT_SPAN:
        return 0.0
    slopes = [
        (_value(b) - _value(a)) / ((b.shown - a.shown).total_seconds() / 86_400.0)
        for a, b in combinations(points, 2)
        if abs(b.shown - a.shown) >= DRIFT_APART
    ]
    if not slopes:
        return 0.0
    slope = median(slopes)
    if abs(slope) > DRIFT_MOST_S_DAY:
        return 0.0
    start = points[0].shown
    flat = [_value(p) for p in points]
    level = [
        v - slope * (p.shown - start).total_seconds() / 86_400.0
        for v, p in zip(flat, points, strict=True)
    ]
    return slope if _deviation(level) <= _deviation(flat) / 2.0 else 0.0


def _deviation(values: Sequence[float]) -> float:
    centre = median(values)
    return median(abs(v - centre) for v in values)


def split_zone(ahead_s: float) -> tuple[int | None, float]:
    """Give zone (minutes east) and slip (s) of a clock ``ahead_s`` before UTC.

    A zone in use with a slip of up to ten minutes if there is one, else the nearest quarter of
    an hour; no zone where the clock was not even on the right day.
    """
    nearest = min(REAL_ZONES, key=lambda m: abs(ahead_s - m * 60.0))
    if abs(ahead_s - nearest * 60.0) <= ZONE_SLIP_S:
        return nearest, ahead_s - nearest * 60.0
    quarter = round(ahead_s / QUARTER_S) * 15
    if not -720 <= quarter <= 840:
        return None, ahead_s
    return quarter, ahead_s - quarter * 60.0
