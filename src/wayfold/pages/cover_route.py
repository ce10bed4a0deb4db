"""The journey's line for a cover: its ways and its places alone, in one ink."""

from __future__ import annotations

from wayfold.base.geometry import Size
from wayfold.drawing.colour import Colour
from wayfold.maps.bare_route import draw_bare_route
from wayfold.maps.model import DrawnMap, MapLeg, MapPlace
from wayfold.pages.overview import OVER_WATER
from wayfold.trip.journey.route import Route


def draw_cover_route(route: Route, size: Size, ink: Colour) -> DrawnMap:
    """Draw the line of a journey as large as fits in ``size`` (mm); legs over water are dashed.

    What its places are called is nothing to it.
    """
    places = [MapPlace("", place.place) for place in route.places]
    legs = [
        MapLeg(leg.start, leg.end, leg.track, dashed=leg.mode in OVER_WATER)
        for leg in route.legs
        if leg.start != leg.end
    ]
    return draw_bare_route(places, legs, size, ink)
