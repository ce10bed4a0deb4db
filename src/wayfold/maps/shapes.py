"""Between the geometry library's shapes and the drawing's."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import shapely
from shapely import LineString, MultiPolygon
from shapely.geometry.base import BaseGeometry

from wayfold.base.geometry import Point, Rect
from wayfold.drawing.items import Contour


def gather_polygons(*shapes: BaseGeometry) -> MultiPolygon:
    """Give all polygons that shapes hold, without the lines and points that mending leaves."""
    parts = shapely.get_parts(shapely.get_parts(list(shapes)))
    return MultiPolygon([p for p in parts if p.geom_type == "Polygon" and not p.is_empty])


def gather_lines(*shapes: BaseGeometry) -> list[LineString]:
    """Give all lines that shapes hold."""
    parts = shapely.get_parts(shapely.get_parts(list(shapes)))
    return [p for p in parts if p.geom_type in {"LineString", "LinearRing"} and not p.is_empty]


def trace_polygons(shape: BaseGeometry) -> tuple[Contour, ...]:
    """Give the rings of all polygons of a shape as closed contours (holes by even-odd)."""
    rings = []
    for polygon in gather_polygons(shape).geoms:
        rings += [polygon.exterior, *polygon.interiors]
    return tuple(Contour(_list_points(ring)[:-1], closed=True) for ring in rings)


def trace_lines(lines: Iterable[BaseGeometry]) -> tuple[Contour, ...]:
    """Give lines as open contours, rings as closed ones."""
    contours = []
    for line in gather_lines(*lines):
        points = _list_points(line)
        closed = len(points) > 3 and points[0] == points[-1]
        contours.append(Contour(points[:-1] if closed else points, closed=closed))
    return tuple(contours)


def box_of(rect: Rect) -> shapely.Polygon:
    """Give a rectangle as a polygon."""
    return shapely.box(rect.x, rect.y, rect.right, rect.bottom)


def contour_of(rect: Rect) -> Contour:
    """Give a rectangle as a closed contour."""
    upper = (Point(rect.x, rect.y), Point(rect.right, rect.y))
    lower = (Point(rect.right, rect.bottom), Point(rect.x, rect.bottom))
    return Contour((*upper, *lower), closed=True)


def line_of(points: Iterable[Point]) -> LineString:
    """Give points as a line; a single one as a line of no length."""
    pairs = [(p.x, p.y) for p in points]
    return LineString(pairs if len(pairs) > 1 else pairs * 2)


def _list_points(line: BaseGeometry) -> tuple[Point, ...]:
    return tuple(Point(float(x), float(y)) for x, y in np.asarray(line.coords))
