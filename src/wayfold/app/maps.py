"""The maps of a book, drawn once its plan says how many pages each has."""

from __future__ import annotations

from wayfold.book.state import Book
from wayfold.book.trip_choices import PLACES_FOR_A_MAP
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
