"""The journey's line for a cover: its ways and its places alone, in one ink."""

from __future__ import annotations

from wayfold.base.geometry import Size
from wayfold.drawing.colour import Colour
from wayfold.maps.bare_route import draw_bare_route
from wayfold.maps.model import DrawnMap, MapLeg, MapPlace
from wayfold.pages.overview import OVER_WATER
from wayfold.trip.journey.model import Journey
from wayfold.trip.journey.route import list_route


def draw_cover_route(journey: Journey, size: Size, ink: Colour) -> DrawnMap:
    """Draw the line of a journey as large as fits in ``size`` (mm); legs over water are dashed."""
    route = list_route(journey)
    places = [MapPlace(place.name, place.place) for place in route.places]
    legs = [
        MapLeg(leg.start, leg.end, leg.track, dashed=leg.mode in OVER_WATER)
        for leg in route.legs
        if leg.start != leg.end
    ]
    return draw_bare_route(places, legs, size, ink)
