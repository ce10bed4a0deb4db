"""Areas made of several ways: their rings closed, their holes taken out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import shapely
from shapely import LineString, MultiPolygon

from wayfold.maps.shapes import gather_polygons


def close_rings(
    outer: Sequence[int], inner: Sequence[int], lines: Mapping[int, LineString]
) -> MultiPolygon:
    """Give the area between outer and inner ways (numbers in ``lines``).

    Ways that are not there leave their ring open; an open ring is no area and is left out.
    """
    rim = _fill(outer, lines)
    if rim.is_empty:
        return MultiPolygon()
    return gather_polygons(shapely.difference(rim, _fill(inner, lines)))


def _fill(numbers: Sequence[int], lines: Mapping[int, LineString]) -> shapely.Geometry:
    there = [lines[n] for n in numbers if n in lines]
    rings = shapely.get_parts(shapely.polygonize(there))
    return shapely.union_all(shapely.make_valid(rings))
