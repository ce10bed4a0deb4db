"""The journey's line for a cover: its ways and its places alone, in one ink, without a name."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from wayfold.base.geometry import Point, Rect, Size
from wayfold.book.trip_choices import Mode
from wayfold.drawing.colour import Colour
from wayfold.drawing.items import Contour, Drawing, Item, Shape, Stroke
from wayfold.maps.marks import draw_circle
from wayfold.maps.model import DrawnMap, MapLeg, MapPlace
from wayfold.maps.overview import lay_sheet
from wayfold.maps.route import draw_legs
from wayfold.trip.journey.model import Journey
from wayfold.trip.journey.route import list_route

LINE, DOT = 0.55, 2.1
"""Width of the line and diameter of a place (mm): enough to stand in light ink on a dark ground."""
DASH = (1.8, 1.5)
EDGE = 3.0
OVER_WATER = (Mode.BOAT, Mode.FLIGHT)


def draw_cover_route(journey: Journey, size: Size, ink: Colour) -> DrawnMap:
    """Draw the line of a journey as large as fits in ``size`` (mm); legs over water are dashed."""
    route = list_route(journey)
    places = [MapPlace(place.name, place.place) for place in route.places]
    legs = [
        MapLeg(leg.start, leg.end, leg.track, dashed=leg.mode in OVER_WATER)
        for leg in route.legs
        if leg.start != leg.end
    ]
    spots = [p.place for p in places] + [spot for leg in legs for spot in leg.track]
    room = Rect(0.0, 0.0, size.width, size.height).grown(-EDGE)
    sheet = lay_sheet(
        np.array([spot.longitude for spot in spots], dtype=float),
        np.array([spot.latitude for spot in spots], dtype=float),
        room,
    )
    at = sheet.place([p.place for p in places])
    lines = draw_legs(legs, places, at, sheet)
    drawn = [line for leg in lines for line in leg]
    dashes = [leg.dashed for leg, of in zip(legs, lines, strict=True) for _ in of]
    runs = [[Point(float(x), float(y)) for x, y in line] for line in drawn]
    items = tuple(_draw(runs, dashes, at, ink))
    return DrawnMap(Drawing("the journey's line", size, 0.0, items), sheet.scale, "")


def _draw(
    runs: Sequence[Sequence[Point]], dashes: Sequence[bool], at: Sequence[Point], ink: Colour
) -> Iterator[Item]:
    for run, dashed in zip(runs, dashes, strict=True):
        stroke = Stroke(ink, LINE, DASH if dashed else ())
        yield Shape((Contour(tuple(run)),), stroke=stroke)
    for point in at:
        yield draw_circle(point, DOT, ink, None)
