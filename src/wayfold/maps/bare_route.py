"""A route alone: its ways and its places in one ink, without land, names or scale."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from wayfold.base.geometry import Point, Rect, Size
from wayfold.drawing.colour import Colour
from wayfold.drawing.items import Contour, Drawing, Item, Shape, Stroke
from wayfold.maps.marks import draw_circle
from wayfold.maps.model import DrawnMap, MapLeg, MapPlace
from wayfold.maps.overview import lay_sheet
from wayfold.maps.projection import Floats
from wayfold.maps.route import draw_legs

LINE, DOT = 0.55, 2.1
"""Width of the line and diameter of a place (mm): enough to stand in light ink on a dark ground."""
DASH = (1.8, 1.5)
EDGE = 3.0


def draw_bare_route(
    places: Sequence[MapPlace], legs: Sequence[MapLeg], size: Size, ink: Colour
) -> DrawnMap:
    """Draw a route as large as fits in ``size`` (mm), north up; there is one place at least."""
    spots = [p.place for p in places] + [spot for leg in legs for spot in leg.track]
    sheet = lay_sheet(
        np.array([spot.longitude for spot in spots], dtype=float),
        np.array([spot.latitude for spot in spots], dtype=float),
        Rect(0.0, 0.0, size.width, size.height).grown(-EDGE),
    )
    at = sheet.place([p.place for p in places])
    lines = draw_legs(legs, [p.place for p in places], at, sheet).lines
    items = (*_draw_lines(legs, lines, ink), *(draw_circle(point, DOT, ink, None) for point in at))
    return DrawnMap(Drawing("the journey's line", size, 0.0, items), sheet.scale, "")


def _draw_lines(
    legs: Sequence[MapLeg], lines: Sequence[Sequence[Floats]], ink: Colour
) -> Iterator[Item]:
    for leg, runs in zip(legs, lines, strict=True):
        for run in runs:
            points = tuple(Point(float(x), float(y)) for x, y in run)
            yield Shape((Contour(points),), stroke=Stroke(ink, LINE, DASH if leg.dashed else ()))
