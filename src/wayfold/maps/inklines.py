"""A town in lines of one ink, for a translucent leaf: streets by width, shore, edges of parks."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from wayfold.drawing.items import Item, Shape, Stroke
from wayfold.maps.shapes import gather_lines, gather_polygons, trace_lines
from wayfold.maps.style import MapStyle
from wayfold.maps.townscape import Townscape

_WIDTHS = {1: 0.6, 2: 0.45, 3: 0.35, 4: 0.25}
"""Line widths by rank (mm): nothing under 0.18 holds on translucent paper. Footpaths go."""
APART = 0.7
"""Streets that run closer together than this (mm) become one line."""
_BESIDE = 4 * APART
"""What lies near another street for less than this only crosses or meets it."""
_SHORTEST = 3.0
_SMALLEST_PARK = 20.0
_DOTS = (0.25, 1.0)


def draw_ink_town(town: Townscape, style: MapStyle, covered: BaseGeometry) -> list[Item]:
    """Give the streets' middle lines, the shore, parks' rims in dots; none where ``covered``."""
    items: list[Item] = []
    kept: list[LineString] = []
    for rank, width in _WIDTHS.items():
        left = join_parallels(town.lines.get(rank, ()), kept)
        kept += left
        contours = trace_lines([line.difference(covered) for line in left])
        if contours:
            items.append(Shape(contours, stroke=Stroke(style.ink, width)))
    shore = trace_lines([line.difference(covered) for line in town.shore])
    if shore:
        items.append(Shape(shore, stroke=Stroke(style.ink, style.coast_width or 0.25)))
    parks = [p for p in gather_polygons(town.greens).geoms if p.area >= _SMALLEST_PARK]
    rims = trace_lines([p.exterior.difference(covered) for p in parks])
    if rims:
        items.append(Shape(rims, stroke=Stroke(style.ink, 0.25, _DOTS)))
    return items


def join_parallels(lines: Sequence[LineString], kept: Sequence[LineString]) -> list[LineString]:
    """Give lines without the stretches that run beside a longer one, or beside those ``kept``.

    What only crosses or meets another stays whole. An end cut free is led on to the line beside;
    scraps that hang on nothing go.
    """
    ordered = sorted(lines, key=lambda each: -each.length)
    near = shapely.STRtree([*kept, *ordered])
    # What is left of each line so far; lines not yet looked at hold nobody back.
    left: dict[int, list[LineString]] = {n: [line] for n, line in enumerate(kept)}
    for n, line in enumerate(ordered, start=len(kept)):
        close = near.query(line, predicate="dwithin", distance=APART)
        others = [piece for k in sorted(close) if int(k) != n for piece in left.get(int(k), [])]
        left[n] = _cut(line, others)
    done = [piece for n in range(len(kept), len(kept) + len(ordered)) for piece in left[n]]
    return _drop_scraps(done, kept)


def _cut(line: LineString, others: Sequence[LineString]) -> list[LineString]:
    if not others:
        return [line]
    strip = shapely.union_all(shapely.buffer(list(others), APART, quad_segs=3))
    beside = [p for p in gather_lines(line.intersection(strip)) if p.length > _BESIDE]
    if not beside:
        return [line]
    gone = shapely.union_all([p.buffer(0.01) for p in beside])
    pieces = [p for p in gather_lines(line.difference(gone)) if p.length > APART]
    ends = {line.coords[0], line.coords[-1]}
    return [_lead_on(piece, ends, shapely.MultiLineString(list(others))) for piece in pieces]


def _lead_on(piece: LineString, ends: set[tuple[float, ...]], others: BaseGeometry) -> LineString:
    points = list(piece.coords)
    for at, place in ((0, 0), (-1, len(points) + 1)):
        if points[at] not in ends:
            bridge = shapely.shortest_line(shapely.Point(points[at]), others)
            if bridge.length <= 1.5 * APART:
                points.insert(place, bridge.coords[-1])
    return LineString(points)


def _drop_scraps(lines: Sequence[LineString], kept: Sequence[LineString]) -> list[LineString]:
    tree = shapely.STRtree([*kept, *lines])

    def hangs_on(line: LineString) -> bool:
        return len(tree.query(line, predicate="dwithin", distance=0.1)) > 1

    return [line for line in lines if line.length >= _SHORTEST or hangs_on(line)]
