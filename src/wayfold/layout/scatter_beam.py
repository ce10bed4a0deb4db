"""Beginnings of scattered arrangements, and the next picture laid on all of them at once.

Points are whole numbers, and of equals the earlier goes first: all machines choose alike.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from wayfold.layout.modules import Modules
from wayfold.layout.scatter_judge import CLEARLY_APART, FUSSY, OPTICAL_CENTRE, lines_wanted

LEAST_COVERED, MOST_COVERED = 0.45, 0.60
"""The part of the box that the pictures cover."""
BEAMS = {2: 96, 3: 48, 4: 24, 5: 24, 6: 24}
CHILDREN, FINALISTS = 6, 96
"""Beginnings that are kept (of few pictures many lead nowhere), the most of them that come of one,
and ends that are judged."""
PER_LINE = 64
"""Points for an edge on a line of another's."""
PER_FUSS = 24
"""Points lost by an edge that lies a little off the line of another's."""
PER_NEIGHBOUR, UNCLEAR = 24, np.int8(2)
"""Points for a neighbour one module away; so many times as much is lost by one a little farther."""
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


def begin() -> Beam:
    """Give the one beginning with nothing placed."""
    empty = np.zeros((1, 0), dtype=np.int64)
    return Beam(empty, empty, empty, empty, np.zeros(1, dtype=np.int64))


def place_next(
    modules: Modules,
    beam: Beam,
    sizes: Sequence[Ints],
    heavier: Sequence[int],
    wanted: Sequence[float],
    taste: int,
) -> Beam:
    """Lay the next picture everywhere it may lie, and keep the best beginnings.

    ``sizes`` holds the widths and heights that each picture can take, in the order of placing;
    ``heavier`` the placed pictures than which the next must be smaller; ``wanted`` the parts of the
    box that they should cover; ``taste`` is the number by which parts of the page are preferred.

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
    neighbours = np.zeros(free.shape, dtype=np.int8)
    for j in range(k):
        gap_x = _measure_gaps(beam.x[:, j], beam.w[:, j], w, modules.columns)[:, :, :, None]
        gap_y = _measure_gaps(beam.y[:, j], beam.h[:, j], h, modules.rows)[:, :, None, :]
        free &= (gap_x > 0) | (gap_y > 0)
        neighbours += _rate_gaps(gap_x) * (gap_y < 0).view(np.int8)
        neighbours += _rate_gaps(gap_y) * (gap_x < 0).view(np.int8)
    rest = int(sum(wanted[k + 1 :]) * modules.count)
    off_x = _reach_middle(beam.areas, beam.x, beam.w, area, w, modules.columns, 0.5, rest)
    off_y = _reach_middle(beam.areas, beam.y, beam.h, area, h, modules.rows, OPTICAL_CENTRE, rest)
    shared = shared_x[:, :, :, None] + shared_y[:, :, None, :]
    shared += beam.shared[:, None, None, None].astype(np.int16)
    value: Points = PER_LINE * np.minimum(shared, lines_wanted(n))
    value -= (off_x + fuss_x)[:, :, :, None]
    value -= (off_y + fuss_y)[:, :, None, :]
    value += PER_NEIGHBOUR * neighbours.astype(np.int16)
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


def _rate_gaps(gaps: Points) -> npt.NDArray[np.int8]:
    """1 for neighbours one module apart, less than 0 for those neither near nor clearly apart."""
    near = (gaps == 1).astype(np.int8)
    rated: npt.NDArray[np.int8] = near - UNCLEAR * ((gaps > 1) & (gaps < CLEARLY_APART)).view(
        np.int8
    )
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
    best = [pick_highest(row, few) for row in rows]
    parents = np.repeat(np.arange(len(beam)), [len(b) for b in best])
    cells = np.concatenate(best)
    ranked = pick_highest(rows[parents, cells], most)
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


def pick_highest(values: Points, count: int) -> Ints:
    """Give where the ``count`` highest values lie, highest first, of equals the earlier.

    Fewer where fewer are above ``NEVER``.
    """
    high = np.flatnonzero(values > NEVER)
    if count < len(high):
        # The value is the same on all machines, though its place among equals is not.
        bar = np.partition(values[high], -count)[-count]
        high = high[values[high] >= bar]
    return high[np.argsort(-values[high], kind="stable")][:count]


def _taste(sizes: int, modules: Modules, seed: int) -> Points:
    """Give points by lot to parts of the page, and a few to every place: (sizes, x, y)."""
    x, y = np.arange(modules.columns), np.arange(modules.rows)
    one, other = (int(key) for key in mix(np.arange(2) + 2 * seed))
    parts = (x[:, None] // PART) * 64 + y[None, :] // PART
    broad = mix(parts + one) % BROAD
    each = np.arange(sizes * modules.count).reshape(sizes, modules.columns, modules.rows)
    fine = mix(each + other) % FINE
    return (broad[None] + fine).astype(np.int16)


def mix(numbers: Ints) -> Ints:
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
