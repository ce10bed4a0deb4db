"""The map of one country: its outline with the places in it, for a page or a translucent leaf."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import MultiPolygon

from wayfold.base.errors import UserError
from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Point, Rect
from wayfold.base.units import mm_from_pt
from wayfold.base.world import LonLat
from wayfold.maps.compose import Inset, compose_map
from wayfold.maps.doubts import find_swapped, leave_out_zero
from wayfold.maps.home import split_home
from wayfold.maps.land import METRES_PER_DEG, project_outlines
from wayfold.maps.model import DrawnMap, MapFrame, MapLeg, MapPlace, Outline, WidthMeasurer
from wayfold.maps.overview import check_frame, check_legs, lay_sheet
from wayfold.maps.projection import Floats
from wayfold.maps.shapes import box_of
from wayfold.maps.sheet import Sheet
from wayfold.maps.simplify import TINTS
from wayfold.maps.style import MapStyle

_NEAR_DEG = 0.6
"""A place this near to a group of islands belongs to it."""
_GROWN_MM = 1.0
_INSET_SHARE = 0.3
_INSET_AIR = 5.0
_PLACES_ONLY_DEG = 1.5


@dataclass(frozen=True, slots=True)
class _Parts:
    """The land of the main map with its places, and the groups for insets with theirs."""

    main: MultiPolygon
    insets: tuple[tuple[MultiPolygon, tuple[int, ...]], ...]


def draw_region(
    label: str,
    outlines: Sequence[Outline],
    code: str,
    places: Sequence[MapPlace],
    frame: MapFrame,
    style: MapStyle,
    widths: WidthMeasurer,
    *,
    legs: Sequence[MapLeg] = (),
    neighbours: bool = True,
    title: str = "",
    note: str = "",
    miles: bool = False,
) -> DrawnMap:
    """Draw a country (ISO 3166-1 alpha-2 ``code``) with its places.

    Land too far off goes, or is drawn apart (inset) where a place lies in it. ``neighbours``
    draws the land around; a style without tints shows the country's own outline alone. ``title``
    is written in the country. A country without an outline of its own is drawn from the land its
    places lie in, with a finding. Raises UserError for a frame too small, or where there is
    neither an outline nor a place.
    """
    check_frame(frame)
    check_legs(legs, len(places))
    believed = leave_out_zero(places, legs)
    places, legs = believed.places, believed.legs
    own, findings = _find_outline(outlines, code, places)
    findings = (*believed.findings, *findings, *find_swapped(places, outlines, [code]))
    room = frame.room
    parts = _split_parts(own.land, places, room.width / room.height)
    apart = {n for _, names in parts.insets for n in names}
    here = [p.place for n, p in enumerate(places) if n not in apart]
    lon, lat = _list_corners(parts.main, here)
    sheet = lay_sheet(lon, lat, room, finest=2.0)
    seen = _list_corners(_leave_out_specks(parts.main, here, sheet), here)
    sheet = lay_sheet(*seen, room, finest=2.0)

    tinted = style.land is not None
    main = Outline(own.code, own.name, parts.main) if parts.insets or not neighbours else own
    others = [o for o in outlines if o is not own] if neighbours and tinted else []
    marks = list(sheet.place(here))
    insets = _place_insets(parts, own, places, sheet, frame, style, marks)
    return compose_map(
        label,
        sheet,
        [main, *others],
        {own.code},
        places,
        legs,
        frame,
        style,
        widths,
        country_names={own.code: title} if title else {},
        insets=insets,
        note=note,
        miles=miles,
        findings=findings,
    )


def _find_outline(
    outlines: Sequence[Outline], code: str, places: Sequence[MapPlace]
) -> tuple[Outline, tuple[Finding, ...]]:
    for outline in outlines:
        if outline.code == code and code:
            return outline, ()
    if not places:
        raise UserError(
            f"There is no outline of “{code}”, and no place to find its land by.",
            where="map",
            remedy="Use the country's two-letter code (ISO 3166-1), or name places in it.",
        )
    points = shapely.MultiPoint([(p.place.longitude, p.place.latitude) for p in places])
    near = points.buffer(_PLACES_ONLY_DEG)
    pieces = [
        polygon
        for outline in outlines
        for polygon in outline.land.geoms
        if shapely.box(*polygon.bounds).intersects(near) and polygon.distance(points) < _NEAR_DEG
    ]
    finding = Finding(
        "map-outline",
        Severity.NOTE,
        code or "map",
        f"“{code}” has no outline of its own; the land around its places is drawn.",
    )
    box = near.envelope
    small = [p for p in pieces if p.intersects(box)]
    if not small:
        return Outline(code, code, MultiPolygon([box])), (finding,)
    return Outline(code, code, MultiPolygon(small)), (finding,)


def _split_parts(land: MultiPolygon, places: Sequence[MapPlace], aspect: float) -> _Parts:
    split = split_home(land, aspect)
    groups = [split.home, *split.far]
    points = [shapely.Point(p.place.longitude, p.place.latitude) for p in places]
    members: dict[int, list[int]] = {}
    for n, point in enumerate(points):
        away = [group.distance(point) for group in groups]
        nearest = int(np.argmin(away))
        members.setdefault(nearest if away[nearest] < _NEAR_DEG else 0, []).append(n)
    # With no place at home, the map is of where the journey was.
    first = 0 if not members or 0 in members else max(members, key=lambda g: len(members[g]))
    insets = tuple((groups[g], tuple(members[g])) for g in sorted(members) if g != first)
    return _Parts(groups[first], insets)


def _leave_out_specks(land: MultiPolygon, places: Sequence[LonLat], sheet: Sheet) -> MultiPolygon:
    """Give the land without the islets that are too small to be drawn: they need no room."""
    mm_per_deg = METRES_PER_DEG / sheet.metres
    points = shapely.MultiPoint([(p.longitude, p.latitude) for p in places])
    shown = [
        part
        for part in land.geoms
        if part.area * math.cos(math.radians(part.bounds[1])) * mm_per_deg**2 >= TINTS.island
        or part.distance(points) * mm_per_deg < _GROWN_MM
    ]
    return MultiPolygon(shown) if shown else land


def _list_corners(land: MultiPolygon, places: Sequence[LonLat]) -> tuple[Floats, Floats]:
    rings = [np.asarray(p.exterior.coords)[:, :2] for p in land.geoms]
    rows = np.array([(p.longitude, p.latitude) for p in places]).reshape(-1, 2)
    corners = np.vstack([*rings, rows])
    return corners[:, 0], corners[:, 1]


def _place_insets(
    parts: _Parts,
    own: Outline,
    places: Sequence[MapPlace],
    sheet: Sheet,
    frame: MapFrame,
    style: MapStyle,
    marks: Sequence[Point],
) -> list[Inset]:
    """Give each far group a box where the main map leaves most room."""
    if not parts.insets:
        return []
    home = Outline(own.code, own.name, parts.main)
    land = shapely.union_all(list(project_outlines([home], sheet, frame.media).values()))
    room = frame.room
    taken: list[Rect] = []
    insets = []
    for group, names in parts.insets:
        lon, lat = _list_corners(group, [places[n].place for n in names])
        side = _INSET_SHARE * min(room.width, room.height)
        probe = lay_sheet(lon, lat, Rect(0.0, 0.0, side, side), finest=2.0)
        x, y = probe.to_page(lon, lat)
        # An archipelago is never shown larger than the country it belongs to.
        shrink = min(1.0, probe.metres / sheet.metres)
        width = max(float(np.ptp(x)) * shrink, 12.0) + 2 * _INSET_AIR
        height = max(float(np.ptp(y)) * shrink, 8.0) + 2 * _INSET_AIR
        longest = max(len(places[n].name) for n in names) * mm_from_pt(style.name_pt) * 0.55
        width = max(width, min(longest + 12.0, room.width * 0.45))
        height = max(height, 24.0)
        box = _find_corner(width, height, room, land, marks, taken)
        taken.append(box)
        laid = lay_sheet(lon, lat, box.grown(-_INSET_AIR), finest=sheet.metres)
        outline = Outline(own.code, own.name, group)
        insets.append(Inset(box, laid, (outline,), names))
    return insets


def _find_corner(
    width: float,
    height: float,
    room: Rect,
    land: shapely.Geometry,
    marks: Sequence[Point],
    taken: Sequence[Rect],
) -> Rect:
    """Give the box along the frame's edge that covers least land, no mark and no other inset."""
    best, least = Rect(room.x, room.bottom - height, width, height), float("inf")
    for down in (1.0, 0.0, 0.5, 0.75, 0.25):
        for across in (0.0, 1.0, 0.5, 0.25, 0.75):
            box = Rect(
                room.x + across * (room.width - width),
                room.y + down * (room.height - height),
                width,
                height,
            )
            wide = box.grown(2.5)
            cost = float(shapely.intersection(land, box_of(wide)).area) / box.area
            cost += (
                sum(wide.x <= m.x <= wide.right and wide.y <= m.y <= wide.bottom for m in marks)
                * 10.0
            )
            cost += sum(wide.overlap(t) is not None for t in taken) * 20.0
            if 0.0 < across < 1.0 and 0.0 < down < 1.0:
                cost += 5.0
            if cost < least - 1e-6:
                best, least = box, cost
    return best
