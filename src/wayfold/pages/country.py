"""The map of one country with the journey's places in it, in one ink, for a translucent leaf."""

from __future__ import annotations

from collections.abc import Sequence

from wayfold.base.geometry import Size
from wayfold.book.state import Book
from wayfold.maps.model import DrawnMap, MapFrame, Outline, WidthMeasurer
from wayfold.maps.region import draw_region
from wayfold.maps.style import style_interleaf
from wayfold.pages.country_place import LABEL
from wayfold.pages.overview import mark_places
from wayfold.trip.journey.route import RoutePlace

EDGE = 1.0
"""The map reaches so near (mm) to the edge of its room; where that lies, keeps it off the trim."""


def draw_country(
    book: Book,
    places: Sequence[RoutePlace],
    country: str,
    room: Size,
    outlines: Sequence[Outline],
    widths: WidthMeasurer,
) -> DrawnMap:
    """Draw a country (ISO 3166-1 alpha-2) in a room of that size (mm), its neighbours left out.

    ``places`` are those of the journey that lie in it.
    """
    return draw_region(
        f"{LABEL}{country}",
        outlines,
        country,
        mark_places(places, book.language),
        MapFrame(room, margin=EDGE),
        style_interleaf(book.style.ink, serif=book.style.serif),
        widths,
        neighbours=False,
    )
