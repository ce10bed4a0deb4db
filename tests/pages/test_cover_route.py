"""The journey's line on a cover: every place a dot, in its true direction, flights dashed.

Directions are those of a map with north up (common practice); towns and their places are those of
the open gazetteer that the package carries.
"""

from tests.trip.journey_world import event, shots, travel
from wayfold.base.geometry import Rect, Size
from wayfold.drawing.colour import Colour
from wayfold.drawing.items import Shape
from wayfold.pages.cover_route import draw_cover_route
from wayfold.trip.journey.route import list_route

SIZE, INK = Size(130.0, 110.0), Colour(255, 255, 255)


def split(*towns: str, flown: tuple[str, str, str] | None = None) -> tuple[list, list]:  # type: ignore[type-arg]
    events = [event(*flown)] if flown else []
    drawing = draw_cover_route(list_route(travel(shots(*towns), *events)), SIZE, INK).drawing
    shapes = [item for item in drawing.items if isinstance(item, Shape)]
    assert len(shapes) == len(drawing.items)
    return [s for s in shapes if s.fill is None], [s for s in shapes if s.fill is not None]


TOWNS = (
    "Bilbao 2025-05-03T10:00 120",
    "Barcelona 2025-05-07T18:00 120",
    "Lisbon 2025-05-12T10:00 60",
)


def test_every_place_is_a_dot_in_its_direction() -> None:
    lines, dots = split(*TOWNS)
    middles = []
    for dot in dots:
        points = dot.contours[0].points
        xs, ys = [p.x for p in points], [p.y for p in points]
        middles.append(((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2))
    bilbao, barcelona, lisbon = middles
    assert len(dots) == 3
    assert lisbon[0] < bilbao[0] < barcelona[0]  # from west to east
    assert bilbao[1] < barcelona[1] < lisbon[1]  # from north to south
    assert len(lines) == 2


def test_the_line_keeps_inside_its_room_and_fills_it() -> None:
    lines, dots = split(*TOWNS)
    points = [p for shape in (*lines, *dots) for c in shape.contours for p in c.points]
    room = Rect(0.0, 0.0, SIZE.width, SIZE.height)
    assert all(room.contains(Rect(p.x, p.y, 0.0, 0.0)) for p in points)
    assert max(p.x for p in points) - min(p.x for p in points) > 0.8 * SIZE.width


def test_a_flight_is_dashed() -> None:
    lines, _ = split(*TOWNS, flown=("BIO → BCN", "20250507T070000", "20250507T081000"))
    assert [bool(line.stroke.dash) for line in lines].count(True) == 1
