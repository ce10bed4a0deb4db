"""The overview tells each place once, namesakes apart, and draws ways through where one changed."""

from __future__ import annotations

from tests.trip.journey_world import event, shots, travel
from wayfold.book.state import Book
from wayfold.drawing.items import Drawing, Placed, Text
from wayfold.maps.outlines import load_outlines
from wayfold.pages.overview import draw_journey
from wayfold.trip.journey.model import Journey
from wayfold.typeset.engine import Typesetter


def names(drawing: Drawing) -> list[str]:
    found = []
    for item in drawing.items:
        if isinstance(item, Text):
            found += [p.plain for p in item.paragraphs]
        elif isinstance(item, Placed):
            found += names(item.drawing)
    return found


def draw(journey: Journey) -> list[str]:
    drawn = draw_journey(Book("T"), journey, 1, load_outlines(), Typesetter().measure_widths)
    return names(drawn.drawing)


def test_where_one_only_changed_is_not_named() -> None:
    journey = travel(
        shots("Bilbao 2025-05-03T10:00 120", "Barcelona 2025-05-07T18:00 120"),
        event("BIO → MAD", "20250507T070000", "20250507T081000"),
        event("MAD → BCN", "20250507T093000", "20250507T105000"),
    )
    told = draw(journey)
    assert {"Bilbao", "Barcelona"} <= set(told)
    assert "Madrid" not in told


def test_two_places_of_one_name_are_both_there() -> None:
    journey = travel(shots("Santiago/CL 2025-05-03T10:00 -240", "Santiago/ES 2025-05-09T10:00 120"))
    assert draw(journey).count("Santiago") == 2


def test_journeys_round_the_world_are_drawn() -> None:
    # Found by drawing: countries so small at this scale that nothing of them is left.
    rows = ("Santiago/CL 2025-05-03T10:00 -240", "Delhi 2025-05-06T10:00 330",
            "Auckland 2025-05-09T10:00 720")  # fmt: skip
    assert {"Santiago", "Delhi", "Auckland"} <= set(draw(travel(shots(*rows))))
