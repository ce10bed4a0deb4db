"""Shapes for the template: short ones as Typst curves, long ones as a picture in SVG."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from wayfold.base.geometry import Rect
from wayfold.drawing.colour import Colour
from wayfold.drawing.items import Contour, Shape

_MOST_CURVE_POINTS = 64
"""From about here on Typst reads an SVG faster than it evaluates as many curve elements."""


def encode_shape(shape: Shape) -> Iterator[dict[str, Any]]:
    """Give a shape as the template draws it; nothing for one that cannot be seen."""
    contours = [c for c in shape.contours if len(c.points) > 1]
    if not contours or (shape.fill is None and shape.stroke is None):
        return
    if sum(len(c.points) for c in contours) <= _MOST_CURVE_POINTS:
        yield _encode_curve(contours, shape)
    else:
        yield _encode_svg(contours, shape)


def _encode_curve(contours: list[Contour], shape: Shape) -> dict[str, Any]:
    stroke = shape.stroke
    pen = stroke and {
        "colour": encode_colour(stroke.colour),
        "width": stroke.width,
        "dash": list(_fill_dash(stroke.dash)),
    }
    return {
        "kind": "curve",
        "contours": [
            {"points": [[p.x, p.y] for p in c.points], "closed": c.closed} for c in contours
        ],
        "fill": shape.fill and encode_colour(shape.fill),
        "stroke": pen,
    }


def _encode_svg(contours: list[Contour], shape: Shape) -> dict[str, Any]:
    # The picture's frame has room for half the stroke on every side, for Typst may clip to it.
    xs = [p.x for c in contours for p in c.points]
    ys = [p.y for c in contours for p in c.points]
    room = (shape.stroke.width if shape.stroke else 0.0) + 0.1
    bounds = Rect(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)).grown(room)
    path = "".join(_write_contour(c, bounds) for c in contours)
    view = f"0 0 {bounds.width:.4f} {bounds.height:.4f}"
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{view}" '
        f'width="{bounds.width:.4f}mm" height="{bounds.height:.4f}mm" preserveAspectRatio="none">'
        f'<path d="{path}" fill-rule="evenodd" {_write_paint(shape)}/></svg>'
    )
    box = {"x": bounds.x, "y": bounds.y, "w": bounds.width, "h": bounds.height}
    return {"kind": "svg", **box, "svg": svg}


def _write_contour(contour: Contour, bounds: Rect) -> str:
    # Four decimals of a millimetre are a tenth of a micrometre.
    points = " ".join(f"{p.x - bounds.x:.4f},{p.y - bounds.y:.4f}" for p in contour.points)
    return f"M{points}{'Z' if contour.closed else ''}"


def _write_paint(shape: Shape) -> str:
    fill, stroke = shape.fill, shape.stroke
    words = ['fill="none"']
    if fill is not None:
        words = [f'fill="{fill.hex}" fill-opacity="{fill.opacity:g}"']
    if stroke is not None:
        words.append(f'stroke="{stroke.colour.hex}" stroke-opacity="{stroke.colour.opacity:g}"')
        words.append(f'stroke-width="{stroke.width:g}" stroke-linejoin="round"')
        if dash := _fill_dash(stroke.dash):
            words.append(f'stroke-dasharray="{" ".join(f"{d:g}" for d in dash)}"')
    return " ".join(words)


def _fill_dash(dash: tuple[float, ...]) -> tuple[float, ...]:
    # SVG repeats an odd list to make it even and PDF does not say so plainly; do it for both.
    if not dash or sum(dash) <= 0:
        return ()
    return dash if len(dash) % 2 == 0 else dash * 2


def encode_colour(colour: Colour) -> list[float]:
    """Give a colour as three channels 0-255 and the opacity."""
    return [colour.red, colour.green, colour.blue, colour.opacity]
