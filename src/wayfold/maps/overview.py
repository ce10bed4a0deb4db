"""The map of a whole journey: countries, the route as arcs, its places with names and dates."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from wayfold.base.errors import UserError
from wayfold.base.geometry import Rect
from wayfold.base.memory import Memory
from wayfold.base.mends import Mend
from wayfold.base.world import LonLat
from wayfold.maps.compose import compose_map
from wayfold.maps.doubts import find_swapped, leave_out_zero
from wayfold.maps.home import extent_of, split_home
from wayfold.maps.model import DrawnMap, MapFrame, MapLeg, MapPlace, Outline, WidthMeasurer
from wayfold.maps.projection import Extent, Floats, choose_projection, find_extent, join_extents
from wayfold.maps.route import trace_geodesic
from wayfold.maps.sheet import Sheet, fit_sheet
from wayfold.maps.style import MapStyle

_ROOM_FOR_NAMES = 0.07
"""Places keep this share of the frame away from its edge, besides the margin."""
_WHOLE_COUNTRIES = 1.3
"""Visited countries are shown whole where that makes the map smaller by no more than this."""


def draw_overview(
    label: str,
    outlines: Sequence[Outline],
    places: Sequence[MapPlace],
    legs: Sequence[MapLeg],
    frame: MapFrame,
    style: MapStyle,
    widths: WidthMeasurer,
    *,
    visited: Sequence[str] = (),
    country_names: Mapping[str, str] | None = None,
    note: str = "",
    miles: bool = False,
    memory: Memory | None = None,
) -> DrawnMap:
    """Draw a journey.

    ``outlines`` are all the world's; ``visited`` the codes of the countries to set off from the
    others; ``country_names`` what to write in them (none by default). ``note`` (the distance, say)
    stands under the scale bar.
    Places whose position cannot be meant are findings. What is in ``memory`` of the ground is not
    worked out again for other names. Raises UserError without a place, or for a frame too small.
    """
    memory = memory or Memory()
    check_frame(frame)
    if not places:
        raise UserError(
            "There is no place to draw a map of.",
            where="overview map",
            remedy=f"Give some photographs a place, or name where you were: {Mend.STOPS}.",
        )
    check_legs(legs, len(places))
    believed = leave_out_zero(places, legs)
    places, legs = believed.places, believed.legs
    findings = (*believed.findings, *find_swapped(places, outlines, visited))
    spots = tuple(place.place for place in places)
    sheet = memory.recall(_choose_sheet, outlines, visited, spots, legs, frame, at=label)
    return compose_map(
        label,
        sheet,
        outlines,
        set(visited),
        places,
        legs,
        frame,
        style,
        widths,
        country_names=country_names or {},
        note=note,
        miles=miles,
        findings=findings,
        memory=memory,
    )


def _choose_sheet(
    outlines: Sequence[Outline],
    visited: Sequence[str],
    spots: Sequence[LonLat],
    legs: Sequence[MapLeg],
    frame: MapFrame,
) -> Sheet:
    """Choose how the ground lies in a frame: round the way, or with visited countries whole."""
    lon, lat = _list_positions(spots, legs)
    room = names_room(frame)
    sheet = lay_sheet(lon, lat, room)
    homes = [
        split_home(o.land, room.width / room.height).home for o in outlines if o.code in visited
    ]
    if homes and not sheet.projection.is_cut_open:
        around = join_extents([find_extent(lon, lat), *(extent_of(h.geoms) for h in homes)])
        corners = np.vstack([np.asarray(p.exterior.coords) for h in homes for p in h.geoms])
        all_lon, all_lat = np.append(lon, corners[:, 0]), np.append(lat, corners[:, 1])
        whole = fit_sheet(choose_projection(around), all_lon, all_lat, frame.room)
        if whole.metres <= sheet.metres * _WHOLE_COUNTRIES:
            sheet = whole
    return sheet


def lay_sheet(lon: Floats, lat: Floats, room: Rect, finest: float = 100.0) -> Sheet:
    """Choose a projection for positions and fit them into ``room``."""
    extent = find_extent(lon, lat)
    if extent.north - extent.south < 0.01 or extent.east - extent.west < 0.01:
        extent = Extent(
            extent.west - 0.1,
            max(-90.0, extent.south - 0.1),
            extent.east + 0.1,
            min(90.0, extent.north + 0.1),
        )
    return fit_sheet(choose_projection(extent), lon, lat, room, finest)


def names_room(frame: MapFrame) -> Rect:
    """Give where places may lie, so that their names still find room around them."""
    room = frame.room
    across, up = room.width * _ROOM_FOR_NAMES, room.height * _ROOM_FOR_NAMES
    return Rect(room.x + across, room.y + up, room.width - 2 * across, room.height - 2 * up)


def check_frame(frame: MapFrame) -> None:
    """Raise UserError for a frame in which nothing can be drawn."""
    if frame.room.width < 20.0 or frame.room.height < 20.0:
        raise UserError(
            f"A map of {frame.size.width:.0f} × {frame.size.height:.0f} mm with margins of "
            f"{frame.margin:.0f} mm leaves no room to draw.",
            where="map",
            remedy="Give it at least 20 × 20 mm inside its margins.",
        )


def check_legs(legs: Sequence[MapLeg], count: int) -> None:
    """Raise ValueError for a leg between places that are not there: the caller's mistake."""
    for leg in legs:
        if not (0 <= leg.start < count and 0 <= leg.end < count):
            raise ValueError(f"a leg from {leg.start} to {leg.end} among {count} places")


def _list_positions(spots: Sequence[LonLat], legs: Sequence[MapLeg]) -> tuple[Floats, Floats]:
    positions = list(spots)
    for leg in legs:
        positions += leg.track
    lons = [np.array([p.longitude for p in positions])]
    lats = [np.array([p.latitude for p in positions])]
    for leg in legs:
        if not leg.track:
            lon, lat = trace_geodesic(spots[leg.start], spots[leg.end])
            lons.append(lon)
            lats.append(lat)
    return np.concatenate(lons), np.concatenate(lats)
