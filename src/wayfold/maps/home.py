"""Which of a country's islands belong on its map, and which lie too far off."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from wayfold.maps.projection import Extent, Floats, join_extents

FAR_KM = 200.0
"""Land parted from all other by more than this may go off the map."""
LEAST_GAIN = 1.25
"""Land goes off the map where the rest can then be drawn larger by this factor."""
_MOST_LOST = 0.25
"""Parts that together are a larger share of the country are never all taken off."""
_SPECK = 0.003
"""A part below this share of the country is a speck in the sea"""
_SPECK_GAIN = 1.1
"""and goes where the box round the rest is then smaller by this factor."""
_EARTH_KM = 6371.0088
_CELL_DEG = 0.3
_ROWS = 10_000


@dataclass(frozen=True, slots=True)
class HomeParts:
    """A country's ``home``, and its ``far`` parts, each a group of islands (degrees)."""

    home: MultiPolygon
    far: tuple[MultiPolygon, ...]


@dataclass(frozen=True, slots=True)
class _Group:
    parts: tuple[Polygon, ...]
    extent: Extent
    area: float


def split_home(land: MultiPolygon, aspect: float) -> HomeParts:
    """Take the far parts off a country whose loss shows the rest larger by a quarter and more.

    ``aspect`` is width over height of the room the map has.
    """
    groups = [_measure_group(parts) for parts in _group_parts(list(land.geoms))]
    here = sorted(groups, key=lambda group: -group.area)
    whole = sum(group.area for group in groups)
    far: list[_Group] = []
    while len(here) > 1:
        best = min(here[1:], key=lambda g: _box_area([k for k in here if k is not g]))
        lost = best.area + sum(group.area for group in far)
        # Two far groups may hide behind each other: then neither pays alone, but both together.
        core = [g for g in here if g is here[0] or g.area >= _MOST_LOST * whole]
        pays = _size(here, aspect) / _size(core, aspect) >= LEAST_GAIN
        if best.area < _SPECK * whole:
            rest = [group for group in here if group is not best]
            pays = pays or _box_area(here) / _box_area(rest) >= _SPECK_GAIN
        if lost > _MOST_LOST * whole or not pays:
            break
        here.remove(best)
        far.append(best)
    home = MultiPolygon([p for group in here for p in group.parts])
    return HomeParts(home, tuple(MultiPolygon(group.parts) for group in far))


def extent_of(parts: Sequence[Polygon]) -> Extent:
    """Give the smallest box of longitude and latitude round polygons."""
    return join_extents([Extent(*part.bounds) for part in parts])


def _measure_group(parts: Sequence[Polygon]) -> _Group:
    area = sum(p.area * math.cos(math.radians(p.bounds[1])) for p in parts)
    return _Group(tuple(parts), extent_of(parts), area)


def _size(groups: Sequence[_Group], aspect: float) -> float:
    """Give how much room (in degrees of latitude by the height) groups need together."""
    extent = join_extents([group.extent for group in groups])
    narrowing = math.cos(math.radians((extent.south + extent.north) / 2))
    return max((extent.east - extent.west) * narrowing / aspect, extent.north - extent.south)


def _box_area(groups: Sequence[_Group]) -> float:
    extent = join_extents([group.extent for group in groups])
    narrowing = math.cos(math.radians((extent.south + extent.north) / 2))
    return max((extent.east - extent.west) * narrowing * (extent.north - extent.south), 1e-9)


def _group_parts(parts: list[Polygon]) -> list[list[Polygon]]:
    """Group parts that chains of gaps under ``FAR_KM`` join, judged by one corner a cell."""
    corners, part = shapely.get_coordinates(shapely.get_exterior_ring(parts), return_index=True)
    column, row = np.round(corners.T / _CELL_DEG).astype(np.int64)
    _, first, cell = np.unique(column * _ROWS + row, return_index=True, return_inverse=True)
    vectors = _find_vectors(corners[first])
    part, cell = np.divmod(np.unique(part * len(first) + cell), len(first))
    group = np.full(len(parts), -1)
    for start in range(len(parts)):
        # Whole waves of parts at once: coasts may have thousands of islands.
        wave = np.array([start] if group[start] < 0 else [], dtype=np.int64)
        while len(wave):
            group[wave] = start
            free = group[part] < 0
            here, left = np.unique(cell[np.isin(part, wave)]), np.unique(cell[free])
            closest = (vectors[left] @ vectors[here].T).max(axis=1)
            near = left[closest > math.cos(FAR_KM / _EARTH_KM)]
            wave = np.unique(part[free & np.isin(cell, near)])
    grouped: dict[int, list[Polygon]] = {}
    for number, polygon in zip(group, parts, strict=True):
        grouped.setdefault(int(number), []).append(polygon)
    return list(grouped.values())


def _find_vectors(degrees: Floats) -> Floats:
    """Give the unit vectors of points given by longitude and latitude."""
    lon, lat = np.radians(degrees).T
    return np.column_stack([np.cos(lat) * np.cos(lon), np.cos(lat) * np.sin(lon), np.sin(lat)])
