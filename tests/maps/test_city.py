"""City maps of Monaco (the extract of a package, see ``osm_files``): nothing overlaps, nothing is
lost, nothing is too fine for print, and what is drawn lies where it is on the ground."""

from __future__ import annotations

import itertools
import math

import pyproj
import pytest
import shapely
from shapely import LineString

from tests.maps.osm_files import fetch_monaco
from tests.maps.read_map import list_items, place
from wayfold.base.errors import UserError
from wayfold.base.geometry import Rect, Size
from wayfold.base.units import mm_from_pt
from wayfold.base.world import LonLat
from wayfold.drawing.colour import Colour
from wayfold.drawing.items import Shape, Text
from wayfold.maps.city import draw_city
from wayfold.maps.city_frame import CityFrame, lay_city
from wayfold.maps.extract import read_extract
from wayfold.maps.model import CityMap, MapFrame, MapPlace, WidthMeasurer
from wayfold.maps.streets import CREDIT, StreetPlan
from wayfold.maps.style import FINEST_LINE, SMALLEST_TYPE_PT, MapStyle, style_interleaf
from wayfold.typeset.engine import Typesetter

# Positions are public geography.
PLACES = [
    place("Palais Princier", 43.7314, 7.4202, "2 May"),
    place("Cathédrale Notre-Dame-Immaculée", 43.7302, 7.4226),
    place("Musée océanographique", 43.7308, 7.4254),
    place("Église Sainte-Dévote", 43.7371, 7.4212, "3 May"),
    place("Casino", 43.7392, 7.4277),
    place("Opéra", 43.7389, 7.4281),
    place("Plage du Larvotto", 43.7465, 7.4345),
]
WALK = [LonLat(p.place.longitude, p.place.latitude) for p in PLACES[:5]]
INK = Colour.of("#2f3a45")
FRAMES = {
    "page": (MapFrame(Size(210, 297), bleed=3, margin=16), MapStyle()),
    "leaf": (MapFrame(Size(210, 297), bleed=3, margin=16), style_interleaf(INK)),
    "spread": (MapFrame(Size(420, 297), bleed=3, margin=16, fold=210), MapStyle()),
    "vignette": (MapFrame(Size(110, 130), margin=4), MapStyle()),
    "lying": (MapFrame(Size(160, 100), margin=5), MapStyle()),
}
Drawn = tuple[CityFrame, CityMap, MapStyle]


def draw(
    frame: MapFrame, style: MapStyle, widths: WidthMeasurer, places: list[MapPlace] = PLACES
) -> Drawn:
    laid = lay_city(places, [WALK], frame, style, widths)
    plan = read_extract(str(fetch_monaco()), laid.extent)
    return laid, draw_city("city", laid, plan, places, style, widths, walks=[WALK]), style


@pytest.fixture(scope="module", params=FRAMES)
def drawn(request: pytest.FixtureRequest, widths: WidthMeasurer) -> Drawn:
    return draw(*FRAMES[request.param], widths)


def list_texts(city: CityMap) -> list[Text]:
    return [item for item in list_items(city.drawn.drawing) if isinstance(item, Text)]


def find_numbers(city: CityMap) -> dict[int, Text]:
    texts = (t for t in list_texts(city) if t.key.startswith("map: number"))
    return {int(t.paragraphs[0].plain): t for t in texts}


def test_every_place_has_its_number_and_its_name_spelt_as_given(drawn: Drawn) -> None:
    _, city, _ = drawn
    assert sorted(find_numbers(city)) == list(range(1, len(PLACES) + 1))
    assert [entry.name for entry in city.key] == [p.name for p in PLACES]
    named = [t.paragraphs[0].runs[0].text for t in list_texts(city) if t.key.startswith("map key")]
    assert named[1::2] == [p.name for p in PLACES]


def test_numbers_stand_apart_and_off_the_fold(drawn: Drawn) -> None:
    laid, city, style = drawn
    middles = [t.box.center for t in find_numbers(city).values()]
    size = mm_from_pt(max(style.note_pt, 7.0))
    for one, other in itertools.combinations(middles, 2):
        assert math.hypot(one.x - other.x, one.y - other.y) > 1.6 * size
    for middle in middles:
        assert laid.window.contains(Rect(middle.x - size, middle.y - size, 2 * size, 2 * size))
        if laid.frame.fold is not None:
            assert abs(middle.x - laid.frame.fold) > laid.frame.fold_clear


def test_numbers_stand_where_their_places_are(drawn: Drawn) -> None:
    """Distances on paper against geodesics on WGS84; crowded numbers stand a little aside."""
    laid, city, _ = drawn
    geod = pyproj.Geod(ellps="WGS84")
    numbers = find_numbers(city)
    one, other = numbers[1].box.center, numbers[7].box.center
    _, _, metres = geod.inv(7.4202, 43.7314, 7.4345, 43.7465)
    on_paper = math.hypot(one.x - other.x, one.y - other.y) * laid.sheet.metres
    assert on_paper == pytest.approx(metres, rel=0.002)


def test_the_credit_that_the_licence_asks_for_is_printed_whole(drawn: Drawn) -> None:
    laid, city, _ = drawn
    lines = [t for t in list_texts(city) if t.key == "map: credit"]
    text = " ".join(t.paragraphs[0].plain for t in lines).replace("\u00a0", " ")
    assert text.replace("\u2011", "-") == CREDIT == city.credit
    assert "OpenStreetMap contributors" in CREDIT and "openstreetmap.org/copyright" in CREDIT
    trim = Rect(0, 0, laid.frame.size.width, laid.frame.size.height)
    assert all(trim.contains(t.box) for t in lines)


def test_key_credit_and_bar_stand_clear_of_map_and_each_other(
    drawn: Drawn, setter: Typesetter
) -> None:
    laid, city, _ = drawn
    texts = [t for t in list_texts(city) if not t.key.startswith("map: number")]
    trim = Rect(0, 0, laid.frame.size.width, laid.frame.size.height)
    for text in texts:
        assert trim.contains(text.box)
        assert text.box.overlap(laid.window.grown(-0.01)) is None
    boxes = [t.box for t in texts if not t.paragraphs[0].plain.isdigit()]
    for one, other in itertools.combinations(boxes, 2):
        over = one.overlap(other)
        # Boxes of neighbouring lines may share the air above their letters.
        assert over is None or over.height < 1.5
    assert setter.page_pdf(city.drawn.drawing).findings == ()


def test_nothing_is_finer_than_print_can_hold(drawn: Drawn) -> None:
    _, city, style = drawn
    least = FINEST_LINE if style.land is not None else 0.18
    strokes = [
        item.stroke
        for item in list_items(city.drawn.drawing)
        if isinstance(item, Shape) and item.stroke is not None
    ]
    assert strokes and min(stroke.width for stroke in strokes) >= least
    sizes = {t.paragraphs[0].style.size_pt for t in list_texts(city)}
    assert min(sizes) >= (SMALLEST_TYPE_PT if style.land is not None else 9.5)


def test_a_leaf_is_of_one_ink(widths: WidthMeasurer) -> None:
    _, city, _ = draw(*FRAMES["leaf"], widths)
    colours = set()
    for item in list_items(city.drawn.drawing):
        if isinstance(item, Shape):
            colours |= {item.fill, item.stroke.colour if item.stroke else None}
        elif isinstance(item, Text):
            colours.add(item.paragraphs[0].style.colour)
    assert colours - {None} == {INK}


def test_a_walk_keeps_to_its_track(widths: WidthMeasurer) -> None:
    """Within half a millimetre on paper (Hausdorff), arrowheads and all."""
    laid, city, style = draw(*FRAMES["page"], widths)
    walk = LineString([(p.x, p.y) for p in laid.sheet.place(WALK)])
    drawn_lines = [
        LineString([(p.x, p.y) for p in contour.points])
        for item in list_items(city.drawn.drawing)
        if isinstance(item, Shape) and item.stroke and item.stroke.width == style.route_width
        for contour in item.contours
    ]
    assert shapely.hausdorff_distance(shapely.union_all(drawn_lines), walk) < 0.5


def test_the_same_again_gives_the_same_drawing(widths: WidthMeasurer) -> None:
    one, other = (draw(*FRAMES["vignette"], widths)[1].drawn.drawing for _ in range(2))
    assert one == other


def test_without_street_data_places_and_key_are_still_drawn(widths: WidthMeasurer) -> None:
    frame, style = FRAMES["page"]
    laid = lay_city(PLACES, [], frame, style, widths)
    city = draw_city("city", laid, StreetPlan(), PLACES, style, widths)
    assert len(find_numbers(city)) == len(PLACES)


def test_places_too_far_apart_for_a_town_are_a_finding(widths: WidthMeasurer) -> None:
    far = [*PLACES, place("Turin", 45.07, 7.69)]
    frame, style = FRAMES["page"]
    laid = lay_city(far, [], frame, style, widths)
    city = draw_city("city", laid, StreetPlan(), far, style, widths)
    assert "map-scale" in {f.rule for f in city.drawn.findings}


def test_an_extract_that_ends_within_the_map_is_a_finding(widths: WidthMeasurer) -> None:
    around = [place("West", 43.73, 7.30), place("East", 43.74, 7.55)]
    frame, style = FRAMES["page"]
    _, city, _ = draw(frame, style, widths, around)
    assert {"map-streets"} <= {f.rule for f in city.drawn.findings}


def test_a_key_longer_than_the_frame_is_refused(widths: WidthMeasurer) -> None:
    many = [place(f"A place with quite a long name, number {n}", 43.73, 7.42) for n in range(120)]
    with pytest.raises(UserError, match="120 places"):
        lay_city(many, [], FRAMES["vignette"][0], MapStyle(), widths)


def test_a_map_of_nothing_is_refused(widths: WidthMeasurer) -> None:
    with pytest.raises(UserError, match="no place in the town"):
        lay_city([], [], FRAMES["page"][0], MapStyle(), widths)


def test_a_single_place_is_drawn_at_a_walkers_scale(widths: WidthMeasurer) -> None:
    frame, style = FRAMES["page"]
    laid = lay_city(PLACES[:1], [], frame, style, widths)
    assert 2_400 <= laid.sheet.scale <= 2_600
