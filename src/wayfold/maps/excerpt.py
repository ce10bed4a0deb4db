"""A map of a part of a journey for the screen, and where on it each place and picture lies."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np

from wayfold.base.geometry import Point
from wayfold.base.world import LonLat
from wayfold.maps.compose import compose_map
from wayfold.maps.model import DrawnMap, MapFrame, MapLeg, MapPlace, Outline, WidthMeasurer
from wayfold.maps.overview import check_frame, check_legs, lay_sheet, names_room
from wayfold.maps.style import MapStyle

FINEST_M = 40.0
"""A millimetre is never less ground than this: coasts of the whole world are known no finer."""


@dataclass(frozen=True, slots=True)
class Excerpt:
    """A map, with where its places and further spots lie (mm)."""

    drawn: DrawnMap
    places: tuple[Point, ...]
    spots: tuple[Point, ...]


def draw_excerpt(
    label: str,
    outlines: Sequence[Outline],
    places: Sequence[MapPlace],
    legs: Sequence[MapLeg],
    spots: Sequence[LonLat],
    frame: MapFrame,
    style: MapStyle,
    widths: WidthMeasurer,
    visited: Collection[str] = (),
) -> Excerpt | None:
    """Draw a map that shows all places, ways and spots as large as they fit; None without any.

    ``spots`` are marked by nobody: they only lie within the map, and it is told where. ``visited``
    are codes of the countries to set off from the others. Raises UserError for a frame too small.
    """
    check_frame(frame)
    check_legs(legs, len(places))
    seen = [place.place for place in places] + [at for leg in legs for at in leg.track]
    seen += spots
    if not seen:
        return None
    sheet = lay_sheet(
        np.array([at.longitude for at in seen], dtype=float),
        np.array([at.latitude for at in seen], dtype=float),
        names_room(frame),
        FINEST_M,
    )
    drawn = compose_map(
        label,
        sheet,
        outlines,
        set(visited),
        places,
        legs,
        frame,
        style,
        widths,
        country_names={},
    )
    return Excerpt(drawn, sheet.place([p.place for p in places]), sheet.place(spots))
