"""Rings, arrowheads, bars and route lines as shapes."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from shapely import LineString
from shapely.geometry.base import BaseGeometry
from shapely.ops import substring

from wayfold.base.geometry import Point
from wayfold.drawing.colour import Colour
from wayfold.drawing.items import Contour, Shape, Stroke
from wayfold.maps.projection import Floats
from wayfold.maps.shapes import trace_lines

_ROUND = 36
_ARROW_AT = 0.6
_ARROW_LENGTH, _ARROW_WIDTH = 2.3, 1.6
_SHORTEST_WITH_ARROW = 9.0
_TICK = 0.9


def draw_circle(
    middle: Point, diameter: float, fill: Colour | None, stroke: Stroke | None
) -> Shape:
    """Give a circle."""
    angles = [2 * math.pi * k / _ROUND for k in range(_ROUND)]
    r = diameter / 2
    points = tuple(Point(middle.x + r * math.cos(a), middle.y + r * math.sin(a)) for a in angles)
    return Shape((Contour(points, closed=True),), fill=fill, stroke=stroke)


def draw_route(
    lines: Sequence[Floats],
    dashed: Sequence[bool],
    colour: Colour,
    width: float,
    gap: float,
    mask: BaseGeometry,
) -> list[Shape]:
    """Give route lines (mm) and their arrowheads.

    Lines end ``gap`` before their places and stop at the ``mask``, where letters lie.
    """
    shapes: list[Shape] = []
    for kind in (False, True):
        cut = [shorten(line, gap) for line, d in zip(lines, dashed, strict=True) if d is kind]
        contours = trace_lines([line.difference(mask) for line in cut if line is not None])
        dash = (1.4, 1.0) if kind else ()
        if contours:
            shapes.append(Shape(contours, stroke=Stroke(colour, width, dash)))
    heads = [head for line in lines if (head := _point_arrow(line)) is not None]
    if heads:
        shapes.append(Shape(tuple(heads), fill=colour))
    return shapes


def shorten(line: Floats, gap: float) -> LineString | None:
    """Give a line without ``gap`` mm at either end; None where nothing is left."""
    whole = LineString(line)
    if whole.length <= 2 * gap + 0.3:
        return None
    return substring(whole, gap, whole.length - gap)


def _point_arrow(line: Floats) -> Contour | None:
    whole = LineString(line)
    if whole.length < _SHORTEST_WITH_ARROW:
        return None
    tip_at = whole.length * _ARROW_AT + _ARROW_LENGTH / 2
    tip, tail = (whole.interpolate(at) for at in (tip_at, tip_at - _ARROW_LENGTH))
    ahead = np.array([tip.x - tail.x, tip.y - tail.y])
    ahead /= max(float(np.hypot(*ahead)), 1e-9)
    aside = np.array([-ahead[1], ahead[0]]) * _ARROW_WIDTH / 2
    base = np.array([tip.x, tip.y]) - ahead * _ARROW_LENGTH
    notch = base + ahead * _ARROW_LENGTH * 0.25
    corners = [np.array([tip.x, tip.y]), base + aside, notch, base - aside]
    return Contour(tuple(Point(float(x), float(y)) for x, y in corners), closed=True)


def draw_bar(x: float, y: float, length: float, colour: Colour, width: float) -> Shape:
    """Give a scale bar: one line with its two ends turned up."""
    points = (
        Point(x, y - _TICK),
        Point(x, y),
        Point(x + length, y),
        Point(x + length, y - _TICK),
    )
    return Shape((Contour(points),), stroke=Stroke(colour, width))
