"""A city map: its blocks, parks and water, the walks, and numbered places with their key."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely import LineString, MultiLineString
from shapely.geometry.base import BaseGeometry

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Rect
from wayfold.base.world import LonLat
from wayfold.drawing.colour import WHITE, Colour
from wayfold.drawing.items import Drawing, Item, Placed, Shape, Stroke
from wayfold.maps.city_frame import CityFrame
from wayfold.maps.inklines import draw_ink_town
from wayfold.maps.key import draw_key
from wayfold.maps.marks import draw_route
from wayfold.maps.model import CityMap, DrawnMap, KeyEntry, MapPlace, WidthMeasurer
from wayfold.maps.numbers import draw_numbers, place_numbers
from wayfold.maps.projection import Floats
from wayfold.maps.shapes import box_of, trace_lines, trace_polygons
from wayfold.maps.sheet import Sheet
from wayfold.maps.streets import StreetPlan
from wayfold.maps.strip import draw_strip
from wayfold.maps.style import MapStyle
from wayfold.maps.townscape import Townscape, plain_town

_COARSEST_M = 100.0
"""Beyond 1 : 100 000 a town is a spot, and its streets are no more to be told apart."""
_WALK_TOLERANCE = 0.12
_WALK_LEAST = 2.0
_CASING = 0.5
_GRID = 8
_BARE = 0.25


def draw_city(
    label: str,
    laid: CityFrame,
    plan: StreetPlan,
    places: Sequence[MapPlace],
    style: MapStyle,
    widths: WidthMeasurer,
    *,
    walks: Sequence[Sequence[LonLat]] = (),
    miles: bool = False,
) -> CityMap:
    """Draw a town from what ``read_extract`` gave for ``laid.extent``.

    ``places`` (those that ``lay_city`` was given) are numbered in their order; ``walks`` are
    tracks. A style without tints draws everything as lines of one ink.
    """
    sheet = laid.sheet
    spots = sheet.place([p.place for p in places])
    tracks = [_lay_walk(walk, sheet) for walk in walks]
    walked = MultiLineString([t for t in tracks if len(t) > 1])
    keep = [*(shapely.Point(s.x, s.y) for s in spots), walked]
    town = plain_town(plan, sheet, laid.seen, keep)
    margin = min(laid.frame.margin, laid.window.width / 8)
    room = Rect(
        laid.window.x + margin,
        laid.window.y + margin,
        laid.window.width - 2 * margin,
        laid.window.height - margin - min(margin, 4.0),
    )
    marks, lost = place_numbers(spots, places, room, style, walked, _find_fold(laid))
    covered = shapely.union_all([mark.cover for mark in marks])

    middle = laid.window.center
    tinted = style.land is not None
    ground = _draw_tints(town, style) if tinted else draw_ink_town(town, style, covered)
    items: list[Item] = [
        Placed(Drawing("town", laid.seen.size, 0.0, tuple(ground)), clip=laid.seen),
        *_draw_walks(tracks, style, covered, laid.seen),
        *draw_numbers(marks, style),
        *draw_strip(
            laid.strip, laid.strip_at, sheet, (middle.x, middle.y), style, widths, miles=miles
        ),
        *draw_key(laid.key, laid.key_at.x, laid.key_at.y, style),
    ]
    findings = (
        *plan.findings,
        *town.findings,
        *lost,
        *_judge_scale(sheet),
        *(() if plan.is_empty else _judge_reach(town, laid.window)),
    )
    drawing = Drawing(label, laid.frame.size, laid.frame.bleed, tuple(items))
    key = tuple(KeyEntry(n, p.name, p.note) for n, p in enumerate(places, start=1))
    return CityMap(
        DrawnMap(drawing, sheet.scale, sheet.projection.name, findings), key, plan.credit
    )


def _draw_tints(town: Townscape, style: MapStyle) -> list[Item]:
    layers: list[tuple[BaseGeometry, Colour | None]] = [
        (town.blocks, style.land),
        (town.parks, style.park or style.land),
        (town.water, style.inland_water),
    ]
    items: list[Item] = [
        Shape(contours, fill=tint) for shape, tint in layers if (contours := trace_polygons(shape))
    ]
    rails = trace_lines(town.rails)
    if rails:
        items.append(Shape(rails, stroke=Stroke(style.border, 0.25, (1.2, 0.6))))
    return items


def _lay_walk(walk: Sequence[LonLat], sheet: Sheet) -> Floats:
    """Give a track on the page, without the wavering of its receiver."""
    if len(walk) < 2:
        return np.zeros((0, 2))
    x, y = sheet.to_page(
        np.array([p.longitude for p in walk]), np.array([p.latitude for p in walk])
    )
    line = LineString(np.column_stack([x, y])).simplify(_WALK_TOLERANCE)
    return np.asarray(line.coords) if line.length >= _WALK_LEAST else np.zeros((0, 2))


def _draw_walks(
    tracks: Sequence[Floats], style: MapStyle, covered: BaseGeometry, seen: Rect
) -> list[Item]:
    lines = [track for track in tracks if len(track) > 1]
    if not lines:
        return []
    inner: list[Item] = []
    if style.land is not None:
        casing = trace_lines([LineString(line) for line in lines])
        inner.append(Shape(casing, stroke=Stroke(WHITE, style.route_width + _CASING)))
    mask = covered if style.land is None else shapely.Point()
    # In one ink a walk is told from the streets by its dashes.
    dashed = [style.land is None] * len(lines)
    width = style.route_width if style.land is not None else max(style.route_width, 0.5)
    inner += draw_route(lines, dashed, style.accent, width, 0.0, mask)
    return [Placed(Drawing("walks", seen.size, 0.0, tuple(inner)), clip=seen)]


def _find_fold(laid: CityFrame) -> Rect | None:
    frame = laid.frame
    if frame.fold is None:
        return None
    clear = frame.fold_clear
    return Rect(frame.fold - clear, -frame.bleed, 2 * clear, frame.media.height)


def _judge_scale(sheet: Sheet) -> tuple[Finding, ...]:
    if sheet.metres <= _COARSEST_M:
        return ()
    return (
        Finding(
            "map-scale",
            Severity.WARN,
            "city map",
            f"At 1 : {sheet.scale:,.0f} streets can no longer be told apart.".replace(
                ",", "\u202f"
            ),
            "Leave out the places that lie far from the town, or show them on a map of the region.",
        ),
    )


def _judge_reach(town: Townscape, window: Rect) -> tuple[Finding, ...]:
    """Say so where a good part of the map is neither street, park nor sea: the extract ends there.

    Where the coast is broken off, what counts as sea is not to be trusted.
    """
    wide, tall = window.width / _GRID, window.height / _GRID
    cells = [
        box_of(Rect(window.x + i * wide, window.y + k * tall, wide, tall))
        for i in range(_GRID)
        for k in range(_GRID)
    ]
    lines = MultiLineString([line for lines in town.lines.values() for line in lines])
    known = [lines, town.parks] if town.findings else [lines, town.parks, town.water]
    bare = sum(not any(shape.intersects(cell) for shape in known) for cell in cells) / len(cells)
    if bare < _BARE:
        return ()
    return (
        Finding(
            "map-streets",
            Severity.NOTE,
            "city map",
            f"{bare:.0%} of the map is bare: the street data ends there.",
            "Add an extract that reaches beyond the map's frame on all sides.",
        ),
    )
