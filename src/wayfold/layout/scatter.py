"""Scattered pictures: a few in a box with much white, on common lines but on no grid.

The box is divided into modules, and every picture's sides are whole ones. Pictures keep one module
from each other; like edges lie on one line or at least two modules apart, so that nothing is
nearly aligned. A heavier picture is larger, and the heaviest at least twice as large as the
smallest.

The search places the pictures one after the other, the heaviest first, and keeps the most
promising beginnings (a beam). It counts in whole numbers only, and the number of its steps is
fixed: on every machine one seed gives one answer.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from wayfold.base.geometry import Rect
from wayfold.layout.arrangement import Arrangement
from wayfold.layout.different import pick_different
from wayfold.layout.modules import MODULE, Modules, Place, divide_box, list_sizes
from wayfold.layout.scatter_judge import (
    CLEARLY_APART,
    FUSSY,
    OPTICAL_CENTRE,
    judge_places,
    lines_wanted,
)

FEWEST, MOST = 2, 6
LEAST_COVERED, MOST_COVERED = 0.45, 0.60
"""The part of the box that the pictures cover."""
HERO = 2.6
"""The heaviest picture should be this many times as large as the lightest; twice at least."""
SIZES_WITHIN = ((0.7, 1.4), (0.35, 2.5))
"""A picture's area lies between these parts of what its weight asks for; if need be, the latter."""
TASTES = 4
"""So many searches, each drawn to other parts of the page."""
COVERED = (0.52, 0.49, 0.55, 0.51)
"""What the searches aim to cover."""
BEAMS = {2: 96, 3: 48, 4: 24, 5: 24, 6: 24}
CHILDREN, FINALISTS = 6, 96
"""Beginnings that are kept (of few pictures many lead nowhere), the most of them that come of one,
and ends that are judged."""
PER_LINE = 64
"""Points for an edge on a line of another's."""
PER_FUSS = 24
"""Points lost by an edge that lies a little off the line of another's."""
PER_NEIGHBOUR, PER_UNCLEAR = 24, 48
"""Points for a neighbour one module away, and points lost by one a little farther off."""
PER_MODULE = 32
"""Points lost for each module that the common centre is off."""
PART, BROAD, FINE = 6, 80, 32
"""Side (modules) of the parts of the page that a taste prefers, and the most points it gives."""
NEVER = -30000
Ints = npt.NDArray[np.int64]
Points = npt.NDArray[np.int16]
Bools = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Beam:
    """Beginnings: the pictures placed so far, in the order of placing.

    ``x``, ``y``, ``w``, ``h``: modules, shape (beginnings, pictures); ``shared``: edges on common
    lines, shape (beginnings,).
    """

    x: Ints
    y: Ints
    w: Ints
    h: Ints
    shared: Ints

    def __len__(self) -> int:
        return len(self.shared)

    @property
    def areas(self) -> Ints:
        """Modules that each picture covers."""
        return self.w * self.h


def arrange_scattered(
    aspects: Sequence[float],
    box: Rect,
    weights: Sequence[float] | None = None,
    *,
    seed: int = 0,
    count: int = 3,
    least_side: float = 28.0,
    module: float = MODULE,
) -> tuple[Arrangement, ...]:
    """Give up to ``count`` truly different ways to scatter 2-6 pictures over ``box``, best first.

    The rectangles lie on the box's modules (about ``module`` mm) and have shapes that the pictures
    come to by losing 4 % at most; their shorter sides are at least ``least_side`` mm. Another
    ``seed`` gives other ways. Nothing where no way is found. Raises ValueError for another number
    of pictures, or an aspect or a weight that is not positive.
    """
    n = len(aspects)
    weights = [1.0] * n if weights is None else list(weights)
    if not FEWEST <= n <= MOST or len(weights) != n or min(*aspects, *weights) <= 0:
        raise ValueError(f"cannot scatter pictures of aspects {tuple(aspects)}, weights {weights}")
    modules = divide_box(box, module)
    for within in SIZES_WITHIN:
        found: dict[tuple[Place, ...], float] = {}
        for taste in range(seed * TASTES, (seed + 1) * TASTES):
            for places in _search(modules, aspects, weights, least_side, within, taste):
                if places not in found:
                    found[places] = round(judge_places(modules, places), 9)
        ranked = sorted(found.items(), key=lambda f: -f[1])
        ways = [Arrangement(tuple(map(modules.rect, p)), score) for p, score in ranked if score > 0]
        if ways:
            return pick_different(ways, count, box)
    return ()


def _search(
    modules: Modules,
    aspects: Sequence[float],
    weights: Sequence[float],
    least_side: float,
    within: tuple[float, float],
    taste: int,
) -> list[tuple[Place, ...]]:
    n = len(aspects)
    ties = _mix(np.arange(n) + 1000 * taste)
    order = sorted(range(n), key=lambda i: (-weights[i], int(ties[i])))
    wanted = _share_out([weights[i] for i in order], taste)
    low, high = within
    sizes = [
        np.array(
            list_sizes(modules, aspects[i], least_side, low * share, high * share), dtype=np.int64
        ).reshape(-1, 2)
        for i, share in zip(order, wanted, strict=True)
    ]
    empty = np.zeros((1, 0), dtype=np.int64)
    if not all(map(len, sizes)):
        return []
    beam = Beam(empty, empty, empty, empty, np.zeros(1, dtype=np.int64))
    for k in range(n):
        heavier = [j for j in range(k) if weights[order[j]] > weights[order[k]]] or [0]
        beam = _place_next(modules, beam, sizes, heavier, wanted, taste)
        if not len(beam):
            return []
    where = np.argsort(order)
    return [
        tuple(
            Place(int(beam.x[b, k]), int(beam.y[b, k]), int(beam.w[b, k]), int(beam.h[b, k]))
            for k in where
        )
        for b in range(len(beam))
    ]


def _place_next(
    modules: Modules,
    beam: Beam,
    sizes: Sequence[Ints],
    heavier: Sequence[int],
    wanted: Sequence[float],
    taste: int,
) -> Beam:
    """Lay the next picture everywhere it may lie, and keep the best beginnings.

    All sizes and places at once: arrays of shape (beginnings, sizes, columns, rows). What is asked
    of columns and what is asked of rows is worked out apart and joined last.
    """
    k, n = beam.x.shape[1], len(sizes)
    w, h = sizes[k][:, 0], sizes[k][:, 1]
    area = w * h
    fits = _bound_areas(modules, beam, sizes, area, heavier)
    across, shared_x, fuss_x = _judge_axis(beam.x, beam.w, w, modules.columns)
    down, shared_y, fuss_y = _judge_axis(beam.y, beam.h, h, modules.rows)
    free = (across & fits[:, :, None])[:, :, :, None] & down[:, :, None, :]
    for later in sizes[k + 1 :]:
        beside = _leaves_room(w, later[:, 0], modules.columns)
        free &= beside[:, :, None] | _leaves_room(h, later[:, 1], modules.rows)[:, None, :]
    neighbours = np.zeros(free.shape, dtype=np.int16)
    for j in range(k):
        gap_x = _measure_gaps(beam.x[:, j], beam.w[:, j], w, modules.columns)[:, :, :, None]
        gap_y = _measure_gaps(beam.y[:, j], beam.h[:, j], h, modules.rows)[:, :, None, :]
        free &= (gap_x > 0) | (gap_y > 0)
        neighbours += _rate_gaps(gap_x) * (gap_y < 0)
        neighbours += _rate_gaps(gap_y) * (gap_x < 0)
    rest = int(sum(wanted[k + 1 :]) * modules.count)
    off_x = _reach_middle(beam.areas, beam.x, beam.w, area, w, modules.columns, 0.5, rest)
    off_y = _reach_middle(beam.areas, beam.y, beam.h, area, h, modules.rows, OPTICAL_CENTRE, rest)
    shared = shared_x[:, :, :, None] + shared_y[:, :, None, :]
    shared += beam.shared[:, None, None, None].astype(np.int16)
    value: Points = PER_LINE * np.minimum(shared, lines_wanted(n))
    value -= (off_x + fuss_x)[:, :, :, None]
    value -= (off_y + fuss_y)[:, :, None, :]
    value += neighbours
    value += _taste(len(w), modules, n * taste + k)
    value[~free] = NEVER
    most = FINALISTS if k == n - 1 else BEAMS[n]
    return _keep_best(beam, value, shared, w, h, most)


def _bound_areas(
    modules: Modules, beam: Beam, sizes: Sequence[Ints], area: Ints, heavier: Sequence[int]
) -> Bools:
    """Whether each size goes with each beginning: under all heavier ones, and in sum."""
    k = beam.x.shape[1]
    later = [s[:, 0] * s[:, 1] for s in sizes[k + 1 :]]
    total = beam.areas.sum(axis=1)[:, None] + area
    fits: Bools = total + sum(int(a.min()) for a in later) <= MOST_COVERED * modules.count
    fits &= total + sum(int(a.max()) for a in later) >= LEAST_COVERED * modules.count
    if k:
        fits &= area < beam.areas[:, list(heavier)].min(axis=1)[:, None]
    if not later:
        smallest = np.minimum(beam.areas.min(axis=1)[:, None], area)
        fits &= 2 * smallest <= beam.areas[:, 0][:, None]
    return fits


def _judge_axis(start: Ints, length: Ints, sizes: Ints, count: int) -> tuple[Bools, Points, Points]:
    """Judge the edges on one axis: (beginnings, sizes, lines).

    Whether none is nearly aligned; how many share a line; the points lost by lines that fidget.
    """
    low = np.arange(count)[None, :]
    high = low + sizes[:, None]
    ok = (high <= count) & (low != 1) & (high != count - 1)
    shape = (len(start), *ok.shape)
    free = np.broadcast_to(ok, shape).copy()
    lows, highs, fuss = (np.zeros(shape, dtype=np.int16) for _ in range(3))
    for j in range(start.shape[1]):
        first = start[:, j, None, None]
        last = first + length[:, j, None, None]
        apart_low, apart_high = abs(low - first), abs(high - last)
        free &= (apart_low != 1) & (apart_high != 1)
        free &= (low - last != -1) & (first - high != -1)
        lows |= apart_low == 0
        highs |= apart_high == 0
        for apart in (apart_low, apart_high):
            fuss += PER_FUSS * ((apart > 1) & (apart <= FUSSY)).astype(np.int16)
    return free, lows + highs, fuss


def _leaves_room(sizes: Ints, later: Ints, count: int) -> Bools:
    """Whether a later picture can lie before or after on one axis: (sizes, lines)."""
    low = np.arange(count)[None, :]
    room: Bools = np.maximum(low, count - low - sizes[:, None]) > later.min()
    return room


def _measure_gaps(start: Ints, length: Ints, sizes: Ints, count: int) -> Points:
    """White (modules) between on one axis, under 0 for an overlap: (beginnings, sizes, lines)."""
    low = np.arange(count)[None, None, :]
    high = low + sizes[None, :, None]
    after, before = low - (start + length)[:, None, None], start[:, None, None] - high
    return np.maximum(after, before).astype(np.int16)


def _rate_gaps(gaps: Points) -> Points:
    """Points for neighbours one module apart; lost by those neither near nor clearly apart."""
    near = PER_NEIGHBOUR * (gaps == 1).astype(np.int16)
    rated: Points = near - PER_UNCLEAR * ((gaps > 1) & (gaps < CLEARLY_APART)).astype(np.int16)
    return rated


def _reach_middle(
    areas: Ints,
    start: Ints,
    length: Ints,
    area: Ints,
    sizes: Ints,
    count: int,
    middle: float,
    rest: int,
) -> Points:
    """Points lost on one axis because the pictures cannot be, or are not, balanced.

    What is still to come, ``rest`` modules, can lie in the middle half of the box.
    """
    low = np.arange(count)
    mass = areas.sum(axis=1)[:, None, None] + area[None, :, None]
    # Twice the moment about the middle of the box.
    pull = (areas * (2 * start + length)).sum(axis=1)[:, None, None]
    pull = pull + area[None, :, None] * (2 * low[None, None, :] + sizes[None, :, None])
    off = abs(pull - round(2 * middle * count) * mass)
    left = np.maximum(0, off - rest * count // 2)
    lost: Points = np.minimum(PER_MODULE * left // (2 * (mass + rest)), 4000).astype(np.int16)
    return lost


def _keep_best(beam: Beam, value: Points, shared: Points, w: Ints, h: Ints, most: int) -> Beam:
    """Give the beginnings with the highest values, a few of each beginning at most."""
    rows = value.reshape(len(beam), -1)
    few = min(rows.shape[1], max(CHILDREN, -(-most // len(beam))))
    best = np.sort(np.argpartition(-rows, few - 1, axis=1)[:, :few], axis=1)
    values = np.take_along_axis(rows, best, axis=1).ravel()
    parents = np.repeat(np.arange(len(beam)), few)
    cells = best.ravel()
    ranked = np.argsort(-values, kind="stable")[:most]
    ranked = ranked[values[ranked] > NEVER]
    parents, cells = parents[ranked], cells[ranked]
    size, x, y = np.unravel_index(cells, value.shape[1:])

    def join(before: Ints, new: Ints) -> Ints:
        return np.concatenate([before[parents], new[:, None]], axis=1)

    return Beam(
        join(beam.x, x),
        join(beam.y, y),
        join(beam.w, w[size]),
        join(beam.h, h[size]),
        shared.reshape(len(beam), -1)[parents, cells].astype(np.int64),
    )


def _share_out(weights: Sequence[float], taste: int) -> list[float]:
    """Give the part of the box that each picture should cover; the heaviest come first."""
    most, least = max(weights), min(weights)
    if most > least:
        parts = [1.0 + (HERO - 1.0) * (w - least) / (most - least) for w in weights]
    else:
        parts = [HERO] + [1.0] * (len(weights) - 1)
    covered = COVERED[taste % len(COVERED)]
    return [covered * part / sum(parts) for part in parts]


def _taste(sizes: int, modules: Modules, seed: int) -> Points:
    """Give points by lot to parts of the page, and a few to every place: (sizes, x, y)."""
    x, y = np.arange(modules.columns), np.arange(modules.rows)
    parts = (x[:, None] // PART) * 64 + y[None, :] // PART
    broad = _mix(parts + 65536 * seed) % BROAD
    each = np.arange(sizes * modules.count).reshape(sizes, modules.columns, modules.rows)
    fine = _mix(each + 16777216 * (seed + 1)) % FINE
    return (broad[None] + fine).astype(np.int16)


def _mix(numbers: Ints) -> Ints:
    """Give numbers (0 to 2**31 - 1) that look drawn by lot, always the same for the same.

    The finishing steps of MurmurHash3 (A. Appleby, public domain), in 32 bits.
    """
    bits = numbers.astype(np.uint32)
    bits ^= bits >> np.uint32(16)
    bits *= np.uint32(0x85EBCA6B)
    bits ^= bits >> np.uint32(13)
    bits *= np.uint32(0xC2B2AE35)
    bits ^= bits >> np.uint32(16)
    return (bits >> np.uint32(1)).astype(np.int64)
