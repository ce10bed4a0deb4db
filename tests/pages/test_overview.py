"""The overview tells each place once, namesakes apart, and draws ways through where one changed."""

from __future__ import annotations

from collections.abc import Callable

from tests.trip.journey_world import event, shots, travel
from wayfold.book.state import Book
from wayfold.book.trip_choices import TripChoices
from wayfold.drawing.items import Drawing, Emblem, Placed, Text
from wayfold.maps.flag import load_flag
from wayfold.maps.model import DrawnMap
from wayfold.maps.outlines import load_outlines
from wayfold.pages.overview import draw_journey
from wayfold.trip.journey.model import Journey
from wayfold.trip.journey.route import list_route
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
    return names(draw_flags(Book("T"), journey, load_flag).drawing)


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


def list_flags(drawing: Drawing) -> list[str]:
    return [item.svg for item in drawing.items if isinstance(item, Emblem)]


def draw_flags(book: Book, journey: Journey, find: Callable[[str], str | None]) -> DrawnMap:
    route, widths = list_route(journey), Typesetter().measure_widths
    return draw_journey(book, route, journey.distance_m, 1, load_outlines(), widths, find)


ABROAD = ("Bilbao 2025-05-03T10:00 120", "Nice 2025-05-07T18:00 120")
AT_HOME = ("Bilbao 2025-05-03T10:00 120", "Barcelona/ES 2025-05-07T18:00 120")


def test_flags_stand_where_a_journey_crosses_a_border() -> None:
    journey = travel(shots(*ABROAD))
    drawn = draw_flags(Book("T"), journey, load_flag).drawing
    assert set(list_flags(drawn)) == {load_flag("ES"), load_flag("FR")}
    assert not list_flags(draw_flags(Book("T"), travel(shots(*AT_HOME)), load_flag).drawing)


def test_the_person_has_the_last_word_on_flags() -> None:
    none = Book("T", journey=TripChoices(flags=False))
    assert not list_flags(draw_flags(none, travel(shots(*ABROAD)), load_flag).drawing)
    one = Book("T", journey=TripChoices(flags=True))
    assert len(list_flags(draw_flags(one, travel(shots(*AT_HOME)), load_flag).drawing)) == 2


def test_a_country_without_a_flag_is_a_finding() -> None:
    drawn = draw_flags(Book("T"), travel(shots(*ABROAD)), lambda _: None)
    assert {f.where for f in drawn.findings if f.rule == "map-flag"} == {"Spain", "France"}
    assert not list_flags(drawn.drawing)
