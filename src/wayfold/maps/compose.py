"""A map put together: land, borders, route, marks and names on one drawing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely import LineString, MultiLineString, MultiPolygon
from shapely.geometry.base import BaseGeometry

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Point, Rect
from wayfold.base.memory import Memory
from wayfold.drawing.colour import WHITE
from wayfold.drawing.items import Drawing, Item, Placed, Shape, Stroke
from wayfold.maps.land import project_outlines
from wayfold.maps.marks import draw_circle, draw_route
from wayfold.maps.model import DrawnMap, MapFrame, MapLeg, MapPlace, Outline, WidthMeasurer
from wayfold.maps.names import Ground, Spot, name_map
from wayfold.maps.projection import Floats
from wayfold.maps.route import draw_legs
from wayfold.maps.shapes import box_of, contour_of, gather_lines, trace_lines, trace_polygons
from wayfold.maps.sheet import Sheet
from wayfold.maps.simplify import LINES, TINTS, find_borders, simplify_lands
from wayfold.maps.style import MapStyle

_OVER = 4.0
"""Land is worked out this far (mm) beyond what is seen, so that no cut edge shows."""
_SAME_SPOT = 0.4
_MASK = 0.3
"""Lines stop this far (mm) from letters that lie over them."""
_GRAZE = 1.2


@dataclass(frozen=True, slots=True)
class Inset:
    """A part of the country drawn apart: where it stands, and how its ground lies there."""

    box: Rect
    sheet: Sheet
    outlines: tuple[Outline, ...]
    places: tuple[int, ...]
    """Which of the map's places lie in it."""


def compose_map(
    label: str,
    sheet: Sheet,
    outlines: Sequence[Outline],
    visited: set[str],
    places: Sequence[MapPlace],
    legs: Sequence[MapLeg],
    frame: MapFrame,
    style: MapStyle,
    widths: WidthMeasurer,
    *,
    country_names: Mapping[str, str],
    insets: Sequence[Inset] = (),
    note: str = "",
    miles: bool = False,
    findings: Sequence[Finding] = (),
    memory: Memory | None = None,
) -> DrawnMap:
    """Draw land in two tints (``visited`` and the rest), and upon it route, marks and names.

    What is in ``memory`` of the land and the ways is not worked out again for other names.
    """
    memory = memory or Memory()
    ground = tuple(p.place for p in places)
    at = list(sheet.place(ground))
    rooms = [frame.room] * len(places)
    for inset in insets:
        for n, point in zip(
            inset.places, inset.sheet.place([ground[i] for i in inset.places]), strict=True
        ):
            at[n], rooms[n] = point, inset.box.grown(-0.8)

    keep = _outside(at, insets)
    layers = [
        memory.recall(lay_land, sheet, outlines, frame.media, style, keep, at=("land", label))
    ]
    for inset in insets:
        keep = [at[n] for n in inset.places]
        layers.append(lay_land(inset.sheet, inset.outlines, inset.box, style, keep))
    ways = memory.recall(draw_legs, legs, ground, at, sheet, at=("ways", label)).lines
    lines = [line for way in ways for line in way]
    spots = merge_spots([Spot(p, a, r) for p, a, r in zip(places, at, rooms, strict=True)])
    lands = layers[0].lands
    named = {country_names[code]: land for code, land in lands.items() if country_names.get(code)}
    drawn_lines = [line for layer in layers for line in (*layer.borders, *layer.coast)]
    # A leaf in one ink shows the country alone; what is not drawn is not water either.
    beneath = Ground(
        _gather(lines),
        MultiLineString(drawn_lines),
        MultiPolygon([part for land in lands.values() for part in land.geoms]),
        tuple(i.box for i in insets),
        style.language if style.land is not None else "",
    )
    texts = name_map(sheet, spots, named, beneath, frame, style, widths, note=note, miles=miles)

    mask = shapely.union_all([box_of(box.grown(_MASK)) for box in texts.boxes])
    items: list[Item] = list(draw_layer(layers[0], visited, style, mask))
    for inset, layer in zip(insets, layers[1:], strict=True):
        items += _draw_inset(inset, layer, visited, style, mask)
    gap = style.ring / 2 + style.ring_width / 2 + 0.3
    dashed = [leg.dashed for leg, way in zip(legs, ways, strict=True) for _ in way]
    # A route that only grazes a name is better left whole.
    over = [b for b in texts.boxes if beneath.route.intersection(box_of(b)).length > _GRAZE]
    route_mask = shapely.union_all([box_of(box.grown(_MASK)) for box in over])
    items += draw_route(lines, dashed, style.accent, style.route_width, gap, route_mask)
    items += [draw_mark(spot.at, style) for spot in spots]
    drawing = Drawing(label, frame.size, frame.bleed, (*items, *texts.items))
    cut = [leg for leg, way in zip(legs, ways, strict=True) if len(way) > 1]
    told = (*findings, *(_say_cut(places[g.start], places[g.end]) for g in cut), *texts.findings)
    return DrawnMap(drawing, sheet.scale, sheet.projection.name, told)


def _say_cut(start: MapPlace, end: MapPlace) -> Finding:
    return Finding(
        "map-route",
        Severity.NOTE,
        f"{start.name} – {end.name}",
        "The way leaves the map at one edge and comes back at the other, for the map shows the "
        "earth cut open.",
    )


@dataclass(frozen=True, slots=True)
class LandLayer:
    """Land by country, and its lines, as far as ``seen`` (mm) shows them."""

    seen: Rect
    lands: dict[str, MultiPolygon]
    borders: tuple[LineString, ...]
    coast: tuple[LineString, ...]


def lay_land(
    sheet: Sheet, outlines: Sequence[Outline], seen: Rect, style: MapStyle, keep: Sequence[Point]
) -> LandLayer:
    """Work out land and lines for a part of the page; islands at the points to ``keep`` stay."""
    wide = seen.grown(_OVER)
    plainness = LINES if style.land is None else TINTS
    rough = project_outlines(outlines, sheet, wide, keep, plainness.island)
    lands = simplify_lands(rough, keep, plainness)
    borders, coast = find_borders(lands)
    drawn = _without_frame(coast, wide) if style.coast_width else []
    return LandLayer(seen, lands, tuple(gather_lines(*borders)), tuple(gather_lines(*drawn)))


def draw_layer(
    layer: LandLayer, visited: set[str], style: MapStyle, mask: BaseGeometry
) -> list[Item]:
    """Give water, land and borders clipped to what is seen; lines stop short of the ``mask``."""
    inner: list[Item] = []
    if style.water is not None:
        inner.append(Shape((contour_of(layer.seen),), fill=style.water))
    for tint, chosen in ((style.land_beyond, False), (style.land, True)):
        lands = [land for code, land in layer.lands.items() if (code in visited) is chosen]
        contours = tuple(c for land in lands for c in trace_polygons(land))
        if tint is not None and contours:
            inner.append(Shape(contours, fill=tint))
    for lines, width in (
        (layer.borders, style.border_width),
        (layer.coast, style.coast_width),
    ):
        cut = trace_lines([line.difference(mask) for line in lines])
        if cut and width:
            inner.append(Shape(cut, stroke=Stroke(style.border, width)))
    return [Placed(Drawing("land", layer.seen.size, 0.0, tuple(inner)), clip=layer.seen)]


def draw_mark(at: Point, style: MapStyle) -> Shape:
    """Give the ring of a place; white within, unless the map is in lines only."""
    fill = WHITE if style.land is not None else None
    return draw_circle(at, style.ring, fill, Stroke(style.accent, style.ring_width))


def merge_spots(spots: Sequence[Spot]) -> list[Spot]:
    """Make one of places of one name on one spot (a place returned to); their notes are joined."""
    merged: list[Spot] = []
    for spot in spots:
        for n, other in enumerate(merged):
            near = np.hypot(other.at.x - spot.at.x, other.at.y - spot.at.y) < _SAME_SPOT
            if near and other.place.name == spot.place.name:
                notes = [t for t in (other.place.note, spot.place.note) if t]
                note = ", ".join(dict.fromkeys(notes))
                weight = max(other.place.weight, spot.place.weight)
                place = replace(other.place, note=note, weight=weight)
                merged[n] = replace(other, place=place)
                break
        else:
            merged.append(spot)
    return merged


def _outside(at: Sequence[Point], insets: Sequence[Inset]) -> list[Point]:
    inside = {n for inset in insets for n in inset.places}
    return [point for n, point in enumerate(at) if n not in inside]


def _draw_inset(
    inset: Inset, layer: LandLayer, visited: set[str], style: MapStyle, mask: BaseGeometry
) -> list[Item]:
    items: list[Item] = []
    if style.land is not None:
        # The inset covers what the main map would show there.
        items.append(Shape((contour_of(inset.box),), fill=style.water or WHITE))
    items += draw_layer(layer, visited, style, mask)
    pen = Stroke(style.quiet_ink, style.hairline)
    return [*items, Shape((contour_of(inset.box),), stroke=pen)]


def _gather(lines: Sequence[Floats]) -> MultiLineString:
    return MultiLineString([line for line in lines if len(line) > 1])


def _without_frame(lines: Sequence[shapely.Geometry], cut: Rect) -> list[shapely.Geometry]:
    """Take off the edges along which the land was cut."""
    inside = box_of(cut.grown(-0.01))
    return list(shapely.get_parts(shapely.intersection(MultiLineString(list(lines)), inside)))
