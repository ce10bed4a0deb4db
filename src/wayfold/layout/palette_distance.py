"""How far apart the colours of two palettes are: the least work that turns one into the other."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from wayfold.layout.slicing import Floats
from wayfold.photos.look import Tone

NOTHING = 1e-9
"""Shares and gains under this are nothing."""


def measure_distance(one: Sequence[Tone], other: Sequence[Tone]) -> float:
    """Give the earth mover's distance of two palettes in OKLab (black to white is 1).

    Shares are scaled to a sum of 1. Y. Rubner, C. Tomasi and L. Guibas, "The earth mover's distance
    as a metric for image retrieval", IJCV 40(2), 2000. Exact: each round carries as much as goes
    along the cheapest way left, which may take back what was carried before. Raises ValueError for
    an empty palette.
    """
    supply, demand = _scale(one), _scale(other)
    cost = np.sqrt(((_place(one)[:, None] - _place(other)[None]) ** 2).sum(axis=2))
    carried = np.zeros(cost.shape)
    while min(supply.max(), demand.max()) > NOTHING:
        way = _find_cheapest_way(cost, carried, supply, demand)
        start, end = way[0][0], way[-1][1]
        amount = min(supply[start], demand[end], *(carried[step] for step in way[1::2]))
        for number, step in enumerate(way):
            carried[step] += -amount if number % 2 else amount
        supply[start] -= amount
        demand[end] -= amount
    return float((carried * cost).sum())


def merge_tones(palette: Sequence[Tone], within: float) -> tuple[Tone, ...]:
    """Make one of all tones in a cube of the side ``within`` (OKLab), in the middle of them."""
    cubes: dict[tuple[int, int, int], list[Tone]] = {}
    for tone in palette:
        light, a, b = (math.floor(v / within) for v in (tone.lightness, tone.a, tone.b))
        cubes.setdefault((light, a, b), []).append(tone)
    return tuple(_join_tones(tones) for tones in cubes.values())


def _join_tones(tones: Sequence[Tone]) -> Tone:
    share = sum(t.share for t in tones)
    return Tone(
        share,
        sum(t.share * t.lightness for t in tones) / share,
        sum(t.share * t.a for t in tones) / share,
        sum(t.share * t.b for t in tones) / share,
    )


def _find_cheapest_way(
    cost: Floats, carried: Floats, supply: Floats, demand: Floats
) -> list[tuple[int, int]]:
    """Give steps (from, to): every other one, from the second, takes back what goes there.

    Bellman and Ford's rounds; one path has no more of them than there are tones.
    """
    here = np.where(supply > NOTHING, 0.0, math.inf)
    there = np.full(len(demand), math.inf)
    before_here = np.full(len(supply), -1)
    before_there = np.full(len(demand), -1)
    while True:
        onwards = here[:, None] + cost
        nearer = onwards.min(axis=0) < there - NOTHING
        there[nearer] = onwards.min(axis=0)[nearer]
        before_there[nearer] = onwards.argmin(axis=0)[nearer]
        back = np.where(carried > NOTHING, there[None, :] - cost, math.inf)
        nearer = back.min(axis=1) < here - NOTHING
        if not nearer.any():
            break
        here[nearer] = back.min(axis=1)[nearer]
        before_here[nearer] = back.argmin(axis=1)[nearer]
    end = int(np.where(demand > NOTHING, there, math.inf).argmin())
    start = int(before_there[end])
    way = [(start, end)]
    while before_here[start] >= 0:
        end = int(before_here[start])
        way.append((start, end))
        start = int(before_there[end])
        way.append((start, end))
    return way[::-1]


def _scale(palette: Sequence[Tone]) -> Floats:
    shares = np.array([tone.share for tone in palette])
    if not len(shares) or shares.sum() <= 0:
        raise ValueError("a palette has no tone")
    scaled: Floats = shares / shares.sum()
    return scaled


def _place(palette: Sequence[Tone]) -> Floats:
    return np.array([(tone.lightness, tone.a, tone.b) for tone in palette])
