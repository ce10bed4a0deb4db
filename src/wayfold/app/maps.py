"""The maps of a book, drawn once its plan says how many pages each has."""

from __future__ import annotations

from wayfold.base.geometry import Size
from wayfold.book.state import Book
from wayfold.book.trip_choices import PLACES_FOR_A_MAP
from wayfold.drawing.items import Drawing
from wayfold.maps.model import DrawnMap
from wayfold.plan.model import Plan
from wayfold.trip.journey.model import Journey
from wayfold.typeset.engine import Typesetter

OVERVIEW = "overview"
"""The overview's block, and its pages among those that texts ask for."""


def wants_overview(book: Book, journey: Journey) -> bool:
    """Whether the book has a map of the whole journey: as the person says, else by its places."""
    places = {stay.name for stay in journey.stays if not stay.change}
    if book.journey.overview is not None:
        return book.journey.overview and bool(places)
    return len(places) >= PLACES_FOR_A_MAP


class CountryMaps:
    """Draws the countries that leaves ask for; ``drawn`` are those it was asked."""

    def __init__(self, book: Book, journey: Journey, typesetter: Typesetter) -> None:
        """Draw with the journey's places and the book's own type."""
        self._book = book
        self._journey = journey
        self._typesetter = typesetter
        self.drawn: list[DrawnMap] = []

    def draw(self, country: str, room: Size) -> Drawing:
        """Give the map of a country (ISO 3166-1 alpha-2) for a room of that size (mm)."""
        from wayfold.maps.outlines import load_outlines
        from wayfold.pages.country import draw_country

        widths = self._typesetter.measure_widths
        drawn = draw_country(self._book, self._journey, country, room, load_outlines(), widths)
        self.drawn.append(drawn)
        return drawn.drawing


def draw_maps(
    book: Book, journey: Journey, plan: Plan, typesetter: Typesetter
) -> tuple[DrawnMap, ...]:
    """Draw the maps that the plan has pages for, each labelled with its block's name."""
    pages = sum(page.block == OVERVIEW for page in plan.pages)
    if not pages:
        return ()
    # The outlines and what draws them take a while to load; few makes need them.
    from wayfold.maps.outlines import load_outlines
    from wayfold.pages.overview import draw_journey

    return (draw_journey(book, journey, pages, load_outlines(), typesetter.measure_widths),)
