"""The journey's stays and legs become maps on pages and leaves."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from tests.maps.read_map import list_items
from wayfold.base.geometry import Rect, Size
from wayfold.base.world import LonLat
from wayfold.book.state import Book
from wayfold.book.trip_choices import Mode, TripChoices, Unit
from wayfold.drawing.items import Drawing, Placed, Shape, Text
from wayfold.layout.grid import make_grid
from wayfold.layout.maps import lay_map
from wayfold.layout.matter import Matter, RememberingMeasurer
from wayfold.layout.model import BookLayout
from wayfold.maps.flag import load_flag
from wayfold.maps.model import DrawnMap
from wayfold.maps.outlines import load_outlines
from wayfold.pages.compose import compose_pages
from wayfold.pages.country import draw_country
from wayfold.pages.overview import draw_journey
from wayfold.plan.model import Plan, PlannedPage
from wayfold.story.model import Alternative, Block, BlockKind, Story
from wayfold.trip.bookings.model import Spot
from wayfold.trip.journey.model import Journey, Leg, Stay
from wayfold.trip.journey.route import list_route
from wayfold.typeset.engine import Typesetter
from wayfold.words.model import Words

BOOK = Book("B", trim=Size(210.0, 297.0), bleed=3.0)
NOON = datetime(2025, 5, 12, 12, tzinfo=UTC)
# Positions from memory, to about a kilometre.
LISBON, PORTO, VIGO = LonLat(-9.14, 38.72), LonLat(-8.61, 41.15), LonLat(-8.72, 42.24)


def stay(name: str, country: str, place: LonLat, day: int) -> Stay:
    first = date(2025, 5, day)
    land = {"PT": "Portugal", "ES": "Spain"}[country]
    return Stay(Spot(name, country, place), land, first, first, NOON, NOON, nights=1)


def leg(start: int, end: int, mode: Mode) -> Leg:
    return Leg(start, end, date(2025, 5, 13), 100_000.0, LISBON, PORTO, mode)


# There and back: Porto is a place once, though it is two stays.
JOURNEY = Journey(
    stays=(
        stay("Lisbon", "PT", LISBON, 12),
        stay("Porto", "PT", PORTO, 13),
        stay("Vigo", "ES", VIGO, 14),
        stay("Porto", "PT", PORTO, 15),
    ),
    legs=(leg(0, 1, Mode.TRAIN), leg(1, 2, Mode.BOAT), leg(2, 3, Mode.TRAIN)),
)
ROUTE = list_route(JOURNEY)


@pytest.fixture(scope="module")
def setter() -> Typesetter:
    return Typesetter()


def draw_map(book: Book, pages: int, setter: Typesetter) -> DrawnMap:
    widths, far = setter.measure_widths, JOURNEY.distance_m
    return draw_journey(book, ROUTE, far, pages, load_outlines(), widths, load_flag)


def list_words(drawing: Drawing) -> list[str]:
    texts = [item for item in list_items(drawing) if isinstance(item, Text)]
    return [p.plain for text in texts for p in text.paragraphs]


def test_every_place_stands_once_with_its_first_day(setter: Typesetter) -> None:
    drawn = draw_map(BOOK, 2, setter)
    assert drawn.drawing.size == Size(420.0, 297.0)
    words = list_words(drawn.drawing)
    for name in ("Lisbon", "Porto", "Vigo"):
        assert words.count(name) == 1
    assert "13\N{NO-BREAK SPACE}May" in words
    assert "15\N{NO-BREAK SPACE}May" not in words
    # The three legs of 100 km each; the way over water alone is dashed.
    assert "300\N{NO-BREAK SPACE}km" in words
    lines = [i.stroke for i in list_items(drawn.drawing) if isinstance(i, Shape) and i.stroke]
    assert any(line.dash for line in lines)


def test_the_distance_is_in_the_units_of_the_book(setter: Typesetter) -> None:
    book = Book("B", journey=TripChoices(unit=Unit.MILES))
    drawn = draw_map(book, 1, setter)
    # 300 km are 186.4 international miles of 1609.344 m.
    assert "186\N{NO-BREAK SPACE}mi" in list_words(drawn.drawing)


def test_a_country_has_its_own_places_only(setter: Typesetter) -> None:
    room = Size(210.0, 180.0)
    drawn = draw_country(BOOK, ROUTE.places[:2], "PT", room, load_outlines(), setter.measure_widths)
    words = list_words(drawn.drawing)
    assert {"Lisbon", "Porto"} <= set(words)
    assert "Vigo" not in words
    inks = {i.fill or i.stroke.colour for i in list_items(drawn.drawing) if isinstance(i, Shape)
            if i.fill or i.stroke}  # fmt: skip
    assert inks == {BOOK.style.ink}


def test_the_halves_of_a_map_meet_at_the_fold() -> None:
    block = Block("overview", BlockKind.OVERVIEW, (Alternative(2, spreads=(0,)),))
    measurer = RememberingMeasurer(Typesetter())
    matter = Matter(BOOK, make_grid(BOOK), Words({}), {}, measurer, block, (2, 3))
    pages = (PlannedPage(1, None), PlannedPage(2, "overview"), PlannedPage(3, "overview", 1))
    whole = Drawing("overview", Size(420, 297), 3.0, ())
    layout = BookLayout(lay_map(matter).pages)
    drawings = compose_pages(
        BOOK, Story((), (block,)), Plan(pages, ()), layout, {"overview": whole}
    )
    (one,), (other,) = drawings[1].items, drawings[2].items
    assert isinstance(one, Placed)
    assert isinstance(other, Placed)
    # The left page shows the drawing from its bleed to the fold, the right one from there on.
    assert one.clip == Rect(-3.0, -3.0, 213.0, 303.0)
    assert other.clip == Rect(0.0, -3.0, 213.0, 303.0)
    assert (one.transform.e, other.transform.e) == (0.0, -210.0)
