"""Which of a country's islands belong on its map, and which lie too far off."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
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
    """Group parts that chains of gaps under ``FAR_KM`` join."""
    samples = [_sample_vectors(part) for part in parts]
    low = np.array([sample.min(axis=0) for sample in samples])
    high = np.array([sample.max(axis=0) for sample in samples])
    group = list(range(len(parts)))

    def find(i: int) -> int:
        while group[i] != i:
            group[i] = group[group[i]]
            i = group[i]
        return i

    far = FAR_KM / _EARTH_KM
    for i, sample in enumerate(samples):
        apart = np.maximum(low[i] - high, low - high[i]).clip(0.0)
        for k in np.flatnonzero((apart**2).sum(axis=1) < far**2):
            if k < i and find(i) != find(int(k)) and _come_close(sample, samples[k], far):
                group[find(i)] = find(int(k))
    grouped: dict[int, list[Polygon]] = {}
    for i, part in enumerate(parts):
        grouped.setdefault(find(i), []).append(part)
    return list(grouped.values())


def _come_close(one: Floats, other: Floats, far: float) -> bool:
    return bool((one @ other.T).max() > math.cos(far))


def _sample_vectors(part: Polygon) -> Floats:
    """Give unit vectors of an outline's corners, one a cell of a third of a degree."""
    ring = np.asarray(part.exterior.coords)[:, :2]
    _, first = np.unique(np.round(ring / _CELL_DEG), axis=0, return_index=True)
    lon, lat = np.radians(ring[first, 0]), np.radians(ring[first, 1])
    return np.column_stack([np.cos(lat) * np.cos(lon), np.cos(lat) * np.sin(lon), np.sin(lat)])
