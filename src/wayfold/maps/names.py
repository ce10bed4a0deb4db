"""All the lettering of one map, placed together: places, countries, waters, the scale bar."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
import shapely
from shapely import MultiPolygon
from shapely.geometry.base import BaseGeometry

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Point, Rect
from wayfold.base.units import mm_from_pt
from wayfold.drawing.items import Emblem, Item, Shape, Stroke
from wayfold.drawing.text import Align
from wayfold.maps.flag import ASPECT
from wayfold.maps.labelling import Candidate, Label, keep_clear, offer_places, place_labels
from wayfold.maps.lettering import Lettering, measure_lettering, set_lettering
from wayfold.maps.marks import draw_bar
from wayfold.maps.model import MapFrame, MapPlace, WidthMeasurer
from wayfold.maps.scalebar import ScaleBar, measure_bar
from wayfold.maps.shapes import box_of, contour_of
from wayfold.maps.sheet import Sheet
from wayfold.maps.style import MapStyle
from wayfold.maps.waters import WATERS, offer_waters

_GAP = 1.0
"""Between a mark and its name, mm."""
_OVER_ROUTE, _OVER_COAST, _OVER_OUTLINE, _OVER_QUIET = 0.8, 0.15, 0.5, 1.2
_ROUTE_BLOCKS = 1.5
"""Names of countries and waters keep this far (mm) from the route."""
_COUNTRY_WORTH, _WATER_WORTH, _BAR_WORTH = 0.9, 0.5, 1.6
_FLAG_GAP = 0.8
_FLAG_HEIGHT_EM = 0.64
_BAR_ROOM = 1.2


@dataclass(frozen=True, slots=True)
class Spot:
    """A place on the page and the part of it in which its name must stay."""

    place: MapPlace
    at: Point
    room: Rect


@dataclass(frozen=True, slots=True)
class Ground:
    """What names lie over: route lines and coast they should not cross, boxes they must not.

    ``water`` is the language of the names of waters, "" for none; they float clear of ``land``.
    """

    route: BaseGeometry
    coast: BaseGeometry
    land: BaseGeometry
    blocked: tuple[Rect, ...] = ()
    water: str = ""


@dataclass(frozen=True, slots=True)
class Lettered:
    """The letters of a map, the boxes they fill (mm), and the names that found no room."""

    items: tuple[Item, ...]
    boxes: tuple[Rect, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class _Wish:
    """A label, how to set it once its place is found, and what to say where there is none."""

    label: Label
    draw: Callable[[Rect], Sequence[Item]]
    lost: Finding | None = None


@dataclass(frozen=True, slots=True)
class _Walls:
    """What a map's letters keep clear of, or would rather not cross."""

    room: Rect
    dots: tuple[BaseGeometry, ...]
    fold: tuple[BaseGeometry, ...]
    insets: tuple[BaseGeometry, ...]
    near_route: BaseGeometry
    crossed: tuple[tuple[BaseGeometry, float], ...]


def name_map(
    sheet: Sheet,
    spots: Sequence[Spot],
    countries: Mapping[str, MultiPolygon],
    ground: Ground,
    frame: MapFrame,
    style: MapStyle,
    widths: WidthMeasurer,
    *,
    note: str = "",
    miles: bool = False,
) -> Lettered:
    """Set all names and the scale bar; each place that finds no room is a finding.

    ``countries`` are names to set within shapes on the page (mm). ``note`` stands beneath the
    scale bar.
    """
    walls = _build_walls(spots, ground, frame, style)
    wishes = [
        *_wish_places(spots, walls, style, widths),
        *_wish_countries(countries, walls, style, widths),
        *_wish_waters(sheet, ground, walls, style, widths),
        _wish_bar(sheet, walls, style, widths, note, miles=miles),
    ]
    chosen = place_labels([wish.label for wish in wishes])
    items: list[Item] = []
    boxes: list[Rect] = []
    findings: list[Finding] = []
    for wish, k in zip(wishes, chosen, strict=True):
        if k is not None:
            candidate = wish.label.candidates[k]
            items += wish.draw(candidate.box)
            boxes.append(candidate.box)
        elif wish.lost is not None:
            findings.append(wish.lost)
    return Lettered(tuple(items), tuple(boxes), tuple(findings))


def _build_walls(spots: Sequence[Spot], ground: Ground, frame: MapFrame, style: MapStyle) -> _Walls:
    fold = _fold_strip(frame)
    over_coast = _OVER_COAST if style.land is not None else _OVER_OUTLINE
    quiet = [(box_of(q), _OVER_QUIET) for q in frame.quiet]
    return _Walls(
        frame.room,
        tuple(shapely.Point(s.at.x, s.at.y).buffer(style.ring / 2 + 0.35) for s in spots),
        () if fold is None else (box_of(fold),),
        tuple(box_of(r) for r in ground.blocked),
        ground.route.buffer(_ROUTE_BLOCKS),
        ((ground.route, _OVER_ROUTE), (ground.coast, over_coast), *quiet),
    )


def _wish_places(
    spots: Sequence[Spot], walls: _Walls, style: MapStyle, widths: WidthMeasurer
) -> list[_Wish]:
    names = style.set_text(style.name_pt, style.ink)
    notes = style.set_text(style.note_pt, style.quiet_ink, italic=True)
    letterings = measure_lettering(
        [[(s.place.name, names), (s.place.note, notes)] for s in spots], widths
    )
    wishes = []
    for spot, lettering in zip(spots, letterings, strict=True):
        width = lettering.width + _flag_width(spot, style)
        reach = style.ring / 2 + _GAP
        offered = offer_places(spot.at.x, spot.at.y, width, lettering.height, reach)
        # A name in an inset may lie in its box; all others keep out of it.
        insets = walls.insets if spot.room == walls.room else ()
        hard = [*walls.dots, *walls.fold, *insets]
        kept = keep_clear(offered, spot.room, hard, walls.crossed)
        wishes.append(
            _Wish(
                Label(kept, 1.0 + spot.place.weight),
                partial(_set_place, spot, lettering, style),
                _say_no_room(spot.place.name),
            )
        )
    return wishes


def _wish_countries(
    countries: Mapping[str, MultiPolygon], walls: _Walls, style: MapStyle, widths: WidthMeasurer
) -> list[_Wish]:
    names = style.set_text(style.country_pt, style.quiet_ink, small_caps=True, tracking=120.0)
    letterings = measure_lettering([[(name, names)] for name in countries], widths)
    hard = [*walls.insets, *walls.fold, *walls.dots, walls.near_route]
    wishes = []
    for (name, shape), lettering in zip(countries.items(), letterings, strict=True):
        inside = keep_clear(_offer_inside(shape, lettering, walls.room), walls.room, hard)
        wishes.append(
            _Wish(
                Label(inside, _COUNTRY_WORTH),
                partial(_set_centred, lettering, name),
            )
        )
    return wishes


def _wish_waters(
    sheet: Sheet, ground: Ground, walls: _Walls, style: MapStyle, widths: WidthMeasurer
) -> list[_Wish]:
    # The names are English; in a book of another language they would be strangers.
    if not ground.water.startswith("en"):
        return []
    look = style.set_text(style.water_pt, style.water_ink, italic=True, tracking=60.0)
    names = list(WATERS)
    letterings = dict(
        zip(names, measure_lettering([[(name, look)] for name in names], widths), strict=True)
    )
    sizes = {name: (t.width, t.height) for name, t in letterings.items()}
    hard = [*walls.insets, *walls.fold, *walls.dots, walls.near_route]
    wishes = []
    for name, offered in offer_waters(sheet, walls.room, ground.land, sizes).items():
        kept = keep_clear(offered, walls.room, hard, walls.crossed[2:])
        text = letterings[name]
        wishes.append(
            _Wish(
                Label(kept, _WATER_WORTH),
                partial(_set_centred, text, name),
            )
        )
    return wishes


def _wish_bar(
    sheet: Sheet,
    walls: _Walls,
    style: MapStyle,
    widths: WidthMeasurer,
    note: str,
    *,
    miles: bool,
) -> _Wish:
    """Offer the scale bar in the four corners, its length measured for each.

    A map of the whole earth has none: no one length is true of it, and the note stands alone.
    """
    look = style.set_text(style.scale_pt, style.quiet_ink, sans=True)
    corners = _list_corners(walls.room)
    bars: list[ScaleBar | None] = [None] * len(corners)
    if style.scale_bar and not sheet.projection.is_cut_open:
        left = walls.room.center.x
        bars = [measure_bar(sheet, x, y, leftwards=x > left, miles=miles) for x, y in corners]
    letterings = measure_lettering(
        [[(bar.text if bar else "", look), (note, look)] for bar in bars], widths
    )
    drawn: dict[Rect, tuple[ScaleBar | None, Lettering]] = {}
    for corner, bar, lettering in zip(corners, bars, letterings, strict=True):
        if lettering.lines:
            drawn[_bar_box(corner, bar, lettering, walls.room)] = (bar, lettering)
    offered = [Candidate(box, 0.1 * n) for n, box in enumerate(drawn)]
    hard = [*walls.insets, *walls.fold, *walls.dots, walls.near_route]
    kept = keep_clear(offered, walls.room, hard, walls.crossed[1:])
    return _Wish(
        Label(kept, _BAR_WORTH),
        lambda box: _set_bar(*drawn[box], style, box),
        _say_no_bar() if drawn else None,
    )


def _set_place(spot: Spot, lettering: Lettering, style: MapStyle, box: Rect) -> list[Item]:
    align = Align.LEFT
    if box.right < spot.at.x + 0.01:
        align = Align.RIGHT
    elif box.x < spot.at.x:
        align = Align.CENTER
    flag = _flag_width(spot, style)
    items: list[Item] = []
    if flag:
        # The flag leads the name: with it, lines begin at one edge whatever the side.
        align = Align.LEFT
        size = mm_from_pt(style.name_pt)
        width = flag - _FLAG_GAP
        picture = Rect(box.x, box.y + size * 0.12, width, width / ASPECT)
        items.append(Emblem(picture, spot.place.flag))
        # A flag with white at its edge would run out into the land.
        rim = Stroke(style.quiet_ink, style.hairline)
        items.append(Shape((contour_of(picture),), stroke=rim))
    inner = Rect(box.x + flag, box.y, box.width - flag, box.height)
    return [*items, *set_lettering(lettering, inner, align, f"map: {spot.place.name}")]


def _set_centred(lettering: Lettering, key: str, box: Rect) -> Sequence[Item]:
    return set_lettering(lettering, box, Align.CENTER, f"map: {key}")


def _flag_width(spot: Spot, style: MapStyle) -> float:
    if not spot.place.flag:
        return 0.0
    return mm_from_pt(style.name_pt) * _FLAG_HEIGHT_EM * ASPECT + _FLAG_GAP


def _set_bar(
    bar: ScaleBar | None, lettering: Lettering, style: MapStyle, box: Rect
) -> Sequence[Item]:
    if bar is None:
        return set_lettering(lettering, box, Align.LEFT, "map: scale")
    line = draw_bar(box.x, box.y + 1.0, bar.length, style.quiet_ink, style.hairline)
    below = Rect(box.x, box.y + 1.0 + _BAR_ROOM, lettering.width, lettering.height)
    return [line, *set_lettering(lettering, below, Align.LEFT, "map: scale")]


def _bar_box(
    corner: tuple[float, float], bar: ScaleBar | None, lettering: Lettering, room: Rect
) -> Rect:
    width = max(bar.length if bar else 0.0, lettering.width)
    height = lettering.height + (1.0 + _BAR_ROOM if bar else 0.0)
    left = corner[0] <= room.center.x
    upper = corner[1] <= room.center.y
    return Rect(
        corner[0] if left else corner[0] - width,
        corner[1] if upper else corner[1] - height,
        width,
        height,
    )


def _list_corners(room: Rect) -> list[tuple[float, float]]:
    return [
        (room.x, room.bottom),
        (room.right, room.bottom),
        (room.x, room.y),
        (room.right, room.y),
    ]


def _fold_strip(frame: MapFrame) -> Rect | None:
    if frame.fold is None:
        return None
    return Rect(
        frame.fold - frame.fold_clear,
        -frame.bleed,
        2 * frame.fold_clear,
        frame.size.height + 2 * frame.bleed,
    )


def _offer_inside(shape: MultiPolygon, lettering: Lettering, room: Rect) -> list[Candidate]:
    """Give places for a name within a country, the roomiest first."""
    # Part by part: islands made plain may touch or overlap, which all together could not be cut.
    seen = shapely.get_parts(shapely.intersection(shapely.get_parts(shape), box_of(room)))
    if not any(p.area for p in seen):
        return []
    part = max(seen, key=lambda p: p.area)
    x0, y0, x1, y1 = part.bounds
    found = []
    shapely.prepare(part)
    for x in np.linspace(x0, x1, 13)[1:-1]:
        for y in np.linspace(y0, y1, 13)[1:-1]:
            box = Rect(
                float(x) - lettering.width / 2,
                float(y) - lettering.height / 2,
                lettering.width,
                lettering.height,
            )
            if part.contains(box_of(box)):
                found.append((float(part.boundary.distance(shapely.Point(x, y))), box))
    found.sort(key=lambda entry: (-entry[0], entry[1].x, entry[1].y))
    roomiest = found[0][0] if found else 1.0
    return [Candidate(box, 0.8 * (1.0 - space / roomiest)) for space, box in found[:40]]


def _say_no_room(name: str) -> Finding:
    return Finding(
        "map-names",
        Severity.WARN,
        name,
        f"The map has no room for the name “{name}”; only its mark is drawn.",
        "Give the map a larger frame, or show fewer places on it.",
    )


def _say_no_bar() -> Finding:
    return Finding(
        "map-scale",
        Severity.NOTE,
        "map",
        "No corner of the map is free for its scale bar.",
        "Give the map a larger frame.",
    )
