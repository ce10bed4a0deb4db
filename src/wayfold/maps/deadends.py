"""Short dead ends, which at a map's scale are stubs and not ways, taken off a net of streets."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

import numpy as np
import shapely
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from wayfold.maps.projection import Floats
from wayfold.maps.shapes import gather_lines

_ROUNDS = 3
_NEAR = 1.5


def drop_dead_ends(
    streets: Mapping[int, Sequence[LineString]],
    shortest: float,
    frame: BaseGeometry,
    keep: Sequence[BaseGeometry] = (),
) -> dict[int, tuple[LineString, ...]]:
    """Give streets by rank without dead ends shorter than ``shortest`` (mm).

    Streets meet where they share a corner. What ends at the rim of the ``frame``, or comes near
    something to ``keep``, is no dead end. What falls free when a stub goes is looked at again.
    """
    kept = {rank: list(_join(lines)) for rank, lines in streets.items()}
    near = shapely.union_all([k.buffer(_NEAR) for k in keep]) if keep else shapely.Point()
    shapely.prepare(near)
    rim = frame.boundary.buffer(0.05)
    shapely.prepare(rim)
    for _ in range(_ROUNDS):
        meetings = _count_meetings(line for lines in kept.values() for line in lines)
        changed = False
        for rank, lines in kept.items():
            left: list[LineString] = []
            for line in lines:
                cut = _cut_ends(line, meetings, shortest, rim, near)
                changed = changed or cut is not line
                left += [] if cut is None else [cut]
            kept[rank] = left
        if not changed:
            break
    return {rank: tuple(lines) for rank, lines in kept.items()}


def _join(lines: Sequence[LineString]) -> list[LineString]:
    if not lines:
        return []
    return gather_lines(shapely.line_merge(shapely.multilinestrings(list(lines))))


def _count_meetings(lines: Iterable[LineString]) -> Counter[tuple[float, float]]:
    """Count how many street ends run to each corner: 1 is a dead end, 2 a bend, 3 a junction."""
    counts: Counter[tuple[float, float]] = Counter()
    for line in lines:
        corners = _corners(line)
        counts.update(corners[1:-1])
        counts.update(corners[1:-1])
        counts.update((corners[0], corners[-1]))
    return counts


def _corners(line: LineString) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in np.round(shapely.get_coordinates(line), 5)]


def _cut_ends(
    line: LineString,
    meetings: Counter[tuple[float, float]],
    shortest: float,
    rim: BaseGeometry,
    near: BaseGeometry,
) -> LineString | None:
    corners = _corners(line)
    points = shapely.get_coordinates(line)
    first, last = 0, len(points) - 1
    steps = np.hypot(*np.diff(points, axis=0).T)
    if meetings[corners[0]] == 1:
        first = _stub(corners, steps, meetings, shortest)
    if meetings[corners[-1]] == 1:
        last -= _stub(corners[::-1], steps[::-1], meetings, shortest)
    if (first, last) == (0, len(points) - 1):
        return line
    if line.intersects(rim) or line.intersects(near):
        return line
    return LineString(points[first : last + 1]) if last > first else None


def _stub(
    corners: Sequence[tuple[float, float]],
    steps: Floats,
    meetings: Counter[tuple[float, float]],
    shortest: float,
) -> int:
    """Give how many corners to take off a dead end: up to the first junction, or none."""
    way = 0.0
    for n, step in enumerate(steps, start=1):
        way += float(step)
        if way >= shortest:
            return 0
        if n < len(corners) - 1 and meetings[corners[n]] > 2:
            return n
        if n == len(corners) - 1:
            return n
    return 0
