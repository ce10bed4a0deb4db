"""The route between places: arcs whose bulges are chosen together so that they do not tangle.

What readers find clear was measured by B. Jenny and others (Cartography and Geographic
Information Science 45(1), 2018): few overlaps, no sharp crossings, no line through a place it
does not serve. The choice is exact: variables are eliminated one by one (dynamic programming).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from wayfold.maps.projection import Floats

BULGES = (0.07, -0.07, 0.0, 0.13, -0.13, 0.2, -0.2, 0.28, -0.28)
"""How far an arc's middle may lie off the straight line, as shares of its length."""
_BEST_BULGE = 0.07
"""Readers like arcs better than straight lines; this one is as quiet as an arc can be."""
_OTHER_SIDE = 0.05
"""All else equal, arcs lie to the right of the way."""
_STEPS = 24
_CROSSING, _SHARP, _PASSING, _BEND = 10.0, 20.0, 25.0, 20.0
_CLOSE_MM, _PASS_MM, _SHARP_DEG = 3.0, 2.0, 30.0
_NEAR_END_MM = 5.0
_NAME_MM, _CROWDING = 8.0, 4.0
"""A place wants this much room for its name; a way through it makes the name cover the way."""
_LARGEST_TABLE = 9**6


@dataclass(frozen=True, slots=True)
class ArcLeg:
    """The straight way (mm, n by 2) of a leg between two places, by their numbers."""

    line: Floats
    start: int
    end: int


def choose_arcs(legs: Sequence[ArcLeg], places: Floats) -> tuple[Floats, ...]:
    """Give one line (mm) a leg. ``places`` are all places of the map, n by 2."""
    if not legs:
        return ()
    options = [[bend_line(leg.line, bulge) for bulge in BULGES] for leg in legs]
    single = [
        np.array([_rate_alone(line, leg, places, b) for line, b in zip(lines, BULGES, strict=True)])
        for leg, lines in zip(legs, options, strict=True)
    ]
    pairs = {}
    for i in range(len(legs)):
        for k in range(i + 1, len(legs)):
            table = _rate_pair(legs[i], options[i], legs[k], options[k], places)
            if table.any():
                pairs[i, k] = table
    chosen = choose_jointly(single, pairs)
    return tuple(options[i][k] for i, k in enumerate(chosen))


def bend_line(line: Floats, bulge: float) -> Floats:
    """Bend a line to one side by ``bulge`` times the distance of its ends, as a parabola does.

    A positive bulge lies to the right of the way (y down).
    """
    chord = line[-1] - line[0]
    length = float(np.hypot(*chord))
    steps = np.linspace(0.0, 1.0, max(_STEPS + 1, len(line)))
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])
    if length == 0.0 or along[-1] == 0.0:
        return np.repeat(line[:1], len(steps), axis=0)
    base = np.column_stack(
        [np.interp(steps, along / along[-1], line[:, axis]) for axis in range(2)]
    )
    aside = np.array([-chord[1], chord[0]]) / length
    return base + np.outer(4.0 * bulge * length * steps * (1.0 - steps), aside)


def choose_jointly(
    single: Sequence[Floats], pairs: dict[tuple[int, int], Floats]
) -> tuple[int, ...]:
    """Give the option of each variable that makes the sum of single and pair costs smallest.

    Exact while no step of the elimination needs a table of more than 9⁶ entries; denser tangles
    are improved option by option until nothing more is gained.
    """
    factors: list[tuple[tuple[int, ...], Floats]] = [((i,), c) for i, c in enumerate(single)]
    factors += [((i, k), table) for (i, k), table in pairs.items()]
    left = set(range(len(single)))
    steps: list[tuple[int, tuple[int, ...], Floats]] = []
    while left:
        neighbours = {
            i: sorted({v for scope, _ in factors if i in scope for v in scope} - {i}) for i in left
        }
        i = min(left, key=lambda v: (len(neighbours[v]), v))
        scope = (*neighbours[i], i)
        if math.prod(len(single[v]) for v in scope) > _LARGEST_TABLE:
            return _improve(single, pairs)
        table = np.zeros([len(single[v]) for v in scope])
        for names, costs in (f for f in factors if i in f[0]):
            order = sorted(range(len(names)), key=lambda n: scope.index(names[n]))
            shape = [len(single[v]) if v in names else 1 for v in scope]
            table = table + costs.transpose(order).reshape(shape)
        factors = [f for f in factors if i not in f[0]]
        steps.append((i, scope[:-1], table))
        if neighbours[i]:
            factors.append((scope[:-1], table.min(axis=-1)))
        left.remove(i)
    chosen = [0] * len(single)
    for i, others, table in reversed(steps):
        chosen[i] = int(np.argmin(table[tuple(chosen[v] for v in others)]))
    return tuple(chosen)


def _improve(single: Sequence[Floats], pairs: dict[tuple[int, int], Floats]) -> tuple[int, ...]:
    chosen = [int(np.argmin(costs)) for costs in single]
    while True:
        before = list(chosen)
        for i, costs in enumerate(single):
            total = costs.astype(float)
            for (a, b), table in pairs.items():
                if a == i:
                    total = total + table[:, chosen[b]]
                elif b == i:
                    total = total + table[chosen[a], :]
            if total.min() < total[chosen[i]] - 1e-9:
                chosen[i] = int(np.argmin(total))
        if chosen == before:
            return tuple(chosen)


def _rate_alone(line: Floats, leg: ArcLeg, places: Floats, bulge: float) -> float:
    others = [n for n in range(len(places)) if n not in (leg.start, leg.end)]
    ends = places[[leg.start, leg.end]]
    foreign = [n for n in others if np.hypot(*(ends - places[n]).T).min() > 1.0]
    near, crowding = 0, 0.0
    if foreign:
        every = np.hypot(*(line[:, None, :] - places[foreign][None, :, :]).transpose(2, 0, 1))
        away = every.min(axis=0)
        near = int((away < _PASS_MM).sum())
        crowding = float((1.0 - away / _NAME_MM).clip(0.0).sum())
    bend = _BEND * abs(abs(bulge) - _BEST_BULGE) + (_OTHER_SIDE if bulge < 0 else 0.0)
    return bend + _PASSING * near + _CROWDING * crowding


def _rate_pair(
    one: ArcLeg, lines: Sequence[Floats], other: ArcLeg, others: Sequence[Floats], places: Floats
) -> Floats:
    """Give the cost of each option of one leg with each of the other."""
    first, second = _thin(lines), _thin(others)
    spots = places[[one.start, one.end, other.start, other.end]]
    shared = [p for p in spots[:2] if np.hypot(*(spots[2:] - p).T).min() < 1.0]
    low, high = first.min(axis=(0, 1)) - _CLOSE_MM, first.max(axis=(0, 1)) + _CLOSE_MM
    if (second.max(axis=(0, 1)) < low).any() or (second.min(axis=(0, 1)) > high).any():
        return np.zeros((len(lines), len(others)))
    return _rate_crossings(first, second, shared) + _rate_closeness(first, second, shared)


def _thin(lines: Sequence[Floats]) -> Floats:
    """Give all options of a leg as one array (options, points, 2), with few points each."""
    whole = np.stack(lines)
    keep = np.unique(np.linspace(0, whole.shape[1] - 1, _STEPS + 1).round().astype(int))
    return np.asarray(whole[:, keep])


def _rate_closeness(one: Floats, other: Floats, shared: Sequence[Floats]) -> Floats:
    """Charge the share of the way that runs beside the other, away from shared ends."""
    free = np.ones(one.shape[:2], dtype=bool)
    for spot in shared:
        free &= np.hypot(*np.moveaxis(one - spot, -1, 0)) > _NEAR_END_MM
    gap = one[:, None, :, None, :] - other[None, :, None, :, :]
    away = np.hypot(gap[..., 0], gap[..., 1]).min(axis=-1)
    near = np.clip(1.0 - away / _CLOSE_MM, 0.0, None) * free[:, None, :]
    return np.asarray(_CROSSING * near.sum(axis=-1) / one.shape[1] * 2.0)


def _rate_crossings(one: Floats, other: Floats, shared: Sequence[Floats]) -> Floats:
    p, r = one[:, None, :-1, None, :], np.diff(one, axis=1)[:, None, :, None, :]
    q, s = other[None, :, None, :-1, :], np.diff(other, axis=1)[None, :, None, :, :]
    det = r[..., 0] * s[..., 1] - r[..., 1] * s[..., 0]
    gap = q - p
    with np.errstate(divide="ignore", invalid="ignore"):
        t = (gap[..., 0] * s[..., 1] - gap[..., 1] * s[..., 0]) / det
        u = (gap[..., 0] * r[..., 1] - gap[..., 1] * r[..., 0]) / det
        hit = (t >= 0) & (t < 1) & (u >= 0) & (u < 1) & (np.abs(det) > 1e-12)
    cost = np.zeros(hit.shape[:2])
    for a, b, i, k in zip(*np.nonzero(hit), strict=True):
        along, across = one[a, i + 1] - one[a, i], other[b, k + 1] - other[b, k]
        spot = one[a, i] + t[a, b, i, k] * along
        if any(np.hypot(*(spot - end)) < 1.0 for end in shared):
            continue
        angle = abs(math.degrees(math.atan2(det[a, b, i, k], float((along * across).sum()))))
        sharp = min(angle, 180.0 - angle) < _SHARP_DEG
        cost[a, b] += _CROSSING + (_SHARP if sharp else 0.0)
    return cost
