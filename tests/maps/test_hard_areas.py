"""Maps of areas that are hard to draw: no names that overlap, are cut or lie on the fold, no
slivers, no line or letter too fine for print. The places' positions are public geography."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence

import pytest
import shapely

from tests.maps.read_map import letter_boxes, list_items, place
from wayfold.base.errors import UserError
from wayfold.base.geometry import Rect, Size
from wayfold.drawing.colour import Colour
from wayfold.drawing.items import Drawing, Shape, Text
from wayfold.drawing.text import Paragraph
from wayfold.maps.model import DrawnMap, MapFrame, MapLeg, MapPlace, Outline
from wayfold.maps.overview import draw_overview
from wayfold.maps.region import draw_region
from wayfold.maps.shapes import box_of
from wayfold.maps.style import FINEST_LINE, SMALLEST_TYPE_PT, MapStyle, style_interleaf

Widths = Callable[[Sequence[Paragraph]], tuple[float, ...]]

PAGE = MapFrame(Size(210.0, 297.0), bleed=3.0, margin=14.0)
SPREAD = MapFrame(Size(420.0, 297.0), bleed=3.0, margin=14.0, fold=210.0)
INK = Colour.of("#2f3a45")

REGIONS: dict[str, tuple[str, list[MapPlace]]] = {
    "Norway with Lofoten": ("NO", [
        place("Oslo", 59.91, 10.75, "3 July"), place("Bergen", 60.39, 5.32),
        place("Ålesund", 62.47, 6.15), place("Trondheim", 63.43, 10.4),
        place("Bodø", 67.28, 14.4, "9 July"), place("Reine", 67.93, 13.09),
        place("Å", 67.88, 12.98), place("Svolvær", 68.23, 14.57),
        place("Henningsvær", 68.15, 14.20), place("Værøy", 67.66, 12.69),
        place("Røst", 67.52, 12.1), place("Tromsø", 69.65, 18.96),
        place("Nordkapp", 71.17, 25.78),
    ]),
    "Chile": ("CL", [
        place("Arica", -18.48, -70.32), place("San Pedro de Atacama", -22.91, -68.2),
        place("Valparaíso", -33.05, -71.62), place("Santiago", -33.45, -70.66),
        place("Pucón", -39.27, -71.97), place("Castro", -42.48, -73.76),
        place("Puerto Natales", -51.73, -72.5), place("Punta Arenas", -53.16, -70.91),
        place("Hanga Roa", -27.15, -109.43),
    ]),
    "Indonesia": ("ID", [
        place("Jakarta", -6.2, 106.82), place("Yogyakarta", -7.8, 110.36),
        place("Ubud", -8.51, 115.26), place("Labuan Bajo", -8.5, 119.88),
        place("Makassar", -5.13, 119.41), place("Banda Neira", -4.52, 129.9),
        place("Sorong", -0.88, 131.25), place("Bukittinggi", -0.3, 100.37),
        place("Rantepao", -2.97, 119.9),
    ]),
    "New Zealand": ("NZ", [
        place("Auckland", -36.85, 174.76), place("Wellington", -41.29, 174.78),
        place("Queenstown", -45.03, 168.66), place("Kaikōura", -42.4, 173.68),
        place("Oban", -46.9, 168.13), place("Waitangi", -43.95, -176.56),
        place("Rotorua", -38.14, 176.25),
    ]),
    "Fiji over the date line": ("FJ", [
        place("Suva", -18.14, 178.44), place("Nadi", -17.8, 177.42),
        place("Levuka", -17.68, 178.84), place("Savusavu", -16.78, 179.33),
        place("Somosomo", -16.77, -179.97), place("Lakeba", -18.2, -178.8),
    ]),
    "Estonia's islands": ("EE", [
        place("Tallinn", 59.44, 24.75), place("Tartu", 58.38, 26.72),
        place("Kuressaare", 58.25, 22.48), place("Kärdla", 59.0, 22.75),
        place("Kihnu", 58.13, 23.98), place("Ruhnu", 57.78, 23.24),
        place("Vormsi", 59.0, 23.2), place("Virtsu", 58.57, 23.52),
        place("Haapsalu", 58.94, 23.54),
    ]),
}  # fmt: skip

TRAIN = [
    place("Paris", 48.85, 2.35, "2 May"), place("Lyon", 45.76, 4.84, "5 May"),
    place("Torino", 45.07, 7.69, "7 May"), place("Milano", 45.46, 9.19, "8 May"),
    place("Firenze", 43.77, 11.26, "10 May"), place("Roma", 41.9, 12.5, "13 May"),
    place("Napoli", 40.85, 14.27, "15 May"),
]  # fmt: skip


def frame_of(area: str) -> MapFrame:
    return SPREAD if area == "Indonesia" else PAGE


@pytest.fixture(scope="module", params=[(a, s) for a in REGIONS for s in ("page", "leaf")], ids=str)
def region(
    request: pytest.FixtureRequest, outlines: tuple[Outline, ...], widths: Widths
) -> tuple[str, DrawnMap]:
    area, kind = request.param
    code, places = REGIONS[area]
    style = MapStyle() if kind == "page" else style_interleaf(INK)
    return area, draw_region(area, outlines, code, places, frame_of(area), style, widths)


def check_print(
    drawn: DrawnMap, frame: MapFrame, places: Sequence[MapPlace], widths: Widths
) -> None:
    items = list_items(drawn.drawing)
    shapes = [item for item in items if isinstance(item, Shape)]
    texts = [item for item in items if isinstance(item, Text)]
    # Every name is there, whole, once, within the margins, off the fold and off every other.
    set_names = {text.paragraphs[0].plain.replace("\u00a0", " ") for text in texts}
    assert {p.name.replace("-", "\u2011") for p in places} <= set_names
    boxes = letter_boxes(drawn.drawing, widths)
    room = frame.room.grown(0.2)
    for box in boxes.values():
        assert room.contains(box)
        if frame.fold is not None:
            assert box.right < frame.fold - 4 or box.x > frame.fold + 4
    for (one_name, one), (other_name, other) in itertools.combinations(boxes.items(), 2):
        assert one.overlap(other) is None, (one_name, other_name)
    # Nothing is finer than a home printer holds, and land has no slivers.
    for shape in shapes:
        if shape.stroke is not None:
            assert shape.stroke.width >= FINEST_LINE
        if shape.fill is not None and shape.stroke is None:
            for contour in shape.contours:
                ring = shapely.Polygon([(p.x, p.y) for p in contour.points])
                assert ring.area > 0.05
    assert all(t.paragraphs[0].style.size_pt >= SMALLEST_TYPE_PT for t in texts)


def test_regions_print_well(region: tuple[str, DrawnMap], widths: Widths) -> None:
    area, drawn = region
    assert drawn.findings == ()
    check_print(drawn, frame_of(area), REGIONS[area][1], widths)


def test_marks_stand_beside_their_names(region: tuple[str, DrawnMap], widths: Widths) -> None:
    """Each place has its ring, and its name begins within 4 mm of it."""
    area, drawn = region
    rings = [
        shapely.Polygon([(p.x, p.y) for p in item.contours[0].points]).centroid
        for item in list_items(drawn.drawing)
        if isinstance(item, Shape)
        and len(item.contours) == 1
        and len(item.contours[0].points) == 36
    ]
    names = {p.name for p in REGIONS[area][1]}
    assert len(rings) == len(names)
    boxes = letter_boxes(drawn.drawing, widths)
    for (key, _), box in boxes.items():
        if key.removeprefix("map: ") in names:
            assert min(box_of(box).distance(ring) for ring in rings) < 4.0 + 4.0


def test_a_far_archipelago_stands_in_an_inset(
    outlines: tuple[Outline, ...], widths: Widths
) -> None:
    code, places = REGIONS["Chile"]
    drawn = draw_region("Chile", outlines, code, places, PAGE, MapStyle(), widths)
    whole = draw_region("Chile", outlines, code, places[:-1], PAGE, MapStyle(), widths)
    # With Easter Island 3,700 km off, the mainland keeps its scale.
    assert drawn.scale == pytest.approx(whole.scale, rel=0.01)
    frames = [
        item
        for item in list_items(drawn.drawing)
        if isinstance(item, Shape)
        and item.fill is None
        and len(item.contours[0].points) == 4
        and item.contours[0].closed
    ]
    assert len(frames) == 1
    corners = shapely.MultiPoint([(p.x, p.y) for p in frames[0].contours[0].points]).bounds
    inset = Rect(corners[0], corners[1], corners[2] - corners[0], corners[3] - corners[1])
    name = next(b for (k, _), b in letter_boxes(drawn.drawing, widths).items() if "Hanga" in k)
    assert inset.contains(name)


def test_a_train_trip_through_two_countries(outlines: tuple[Outline, ...], widths: Widths) -> None:
    legs = [*(MapLeg(i, i + 1) for i in range(6)), MapLeg(6, 0, dashed=True)]
    drawn = draw_overview(
        "train", outlines, TRAIN, legs, PAGE, MapStyle(), widths,
        visited=["FR", "IT"], country_names={"FR": "France", "IT": "Italy"}, note="2,431 km",
    )  # fmt: skip
    assert drawn.findings == ()
    check_print(drawn, PAGE, TRAIN, widths)
    texts = {t.paragraphs[0].plain for t in list_items(drawn.drawing) if isinstance(t, Text)}
    assert {"France", "Italy", "2,431\u00a0km", "Tyrrhenian\u00a0Sea"} <= texts


def test_a_trip_on_a_spread_keeps_names_off_the_fold(
    outlines: tuple[Outline, ...], widths: Widths
) -> None:
    legs = [MapLeg(i, i + 1) for i in range(6)]
    drawn = draw_overview("train", outlines, TRAIN, legs, SPREAD, MapStyle(), widths)
    check_print(drawn, SPREAD, TRAIN, widths)


def test_a_trip_over_a_pole(outlines: tuple[Outline, ...], widths: Widths) -> None:
    # The way from Svalbard to Alaska passes the pole at less than two degrees.
    places = [place("Longyearbyen", 78.22, 15.65), place("Utqiaġvik", 71.29, -156.79),
              place("Qaanaaq", 77.47, -69.23)]  # fmt: skip
    legs = [MapLeg(0, 1), MapLeg(1, 2)]
    drawn = draw_overview("pole", outlines, places, legs, PAGE, MapStyle(), widths)
    assert "azimuthal" in drawn.projection
    check_print(drawn, PAGE, places, widths)


def test_a_trip_round_the_world_is_cut_open_and_says_so(
    outlines: tuple[Outline, ...], widths: Widths
) -> None:
    places = [place("London", 51.5, -0.12), place("Tokyo", 35.68, 139.76),
              place("Honolulu", 21.3, -157.85), place("Lima", -12.05, -77.04)]  # fmt: skip
    legs = [MapLeg(i, (i + 1) % 4) for i in range(4)]
    drawn = draw_overview("world", outlines, places, legs, SPREAD, MapStyle(), widths)
    assert [f.rule for f in drawn.findings] == ["map-route"]
    check_print(drawn, SPREAD, places, widths)
    land = shapely.union_all(
        [
            shapely.Polygon([(p.x, p.y) for p in contour.points]).buffer(0)
            for item in list_items(drawn.drawing)
            if isinstance(item, Shape) and item.fill is not None and item.stroke is None
            for contour in item.contours
            if len(contour.points) > 8
        ]
    )
    # Land is 29 % of the earth; a seam that folds back would tint the seas.
    assert land.area / box_of(SPREAD.media).area < 0.4


def test_a_country_without_outline_is_a_finding(
    outlines: tuple[Outline, ...], widths: Widths
) -> None:
    places = [place("Pristina", 42.66, 21.17)]
    drawn = draw_region("?", outlines, "ZZ", places, PAGE, MapStyle(), widths)
    assert [f.rule for f in drawn.findings] == ["map-outline"]
    with pytest.raises(UserError, match="no outline"):
        draw_region("?", outlines, "ZZ", [], PAGE, MapStyle(), widths)


def test_a_missing_position_is_left_out_and_said(
    outlines: tuple[Outline, ...], widths: Widths
) -> None:
    places = [TRAIN[0], place("Nowhere", 0.0, 0.0), TRAIN[1]]
    legs = [MapLeg(0, 1), MapLeg(1, 2)]
    drawn = draw_overview("zero", outlines, places, legs, PAGE, MapStyle(), widths)
    assert [(f.rule, f.where) for f in drawn.findings] == [("map-place", "Nowhere")]
    assert drawn.scale < 1e7


def test_swapped_coordinates_are_said(outlines: tuple[Outline, ...], widths: Widths) -> None:
    places = [TRAIN[0], place("Lyon", 4.84, 45.76)]
    drawn = draw_overview("swap", outlines, places, [], PAGE, MapStyle(), widths, visited=["FR"])
    assert [(f.rule, f.where) for f in drawn.findings] == [("map-place", "Lyon")]


@pytest.mark.parametrize("size", [Size(30.0, 30.0), Size(400.0, 20.0)])
def test_a_frame_without_room_is_refused(
    size: Size, outlines: tuple[Outline, ...], widths: Widths
) -> None:
    with pytest.raises(UserError, match="no room"):
        draw_region("NO", outlines, "NO", [], MapFrame(size), MapStyle(), widths)


def test_more_names_than_there_is_room_for_are_findings(
    outlines: tuple[Outline, ...], widths: Widths
) -> None:
    crowd = [place(f"Ulvøysund {n}", 58.2 + n * 0.004, 8.2 + n * 0.003) for n in range(36)]
    drawn = draw_region("NO", outlines, "NO", crowd, PAGE, MapStyle(), widths)
    named = {k for k, _ in letter_boxes(drawn.drawing, widths) if "Ulv" in k}
    lost = {f.where for f in drawn.findings if f.rule == "map-names"}
    assert len(named) + len(lost) == len(crowd) and lost
    boxes = letter_boxes(drawn.drawing, widths)
    assert all(a.overlap(b) is None for a, b in itertools.combinations(boxes.values(), 2))


def test_the_same_map_comes_twice(outlines: tuple[Outline, ...], widths: Widths) -> None:
    code, places = REGIONS["Estonia's islands"]
    one, other = (
        draw_region("EE", outlines, code, places, PAGE, MapStyle(), widths) for _ in range(2)
    )
    assert one == other
    assert isinstance(one.drawing, Drawing)


def test_a_style_too_fine_for_print_is_refused() -> None:
    with pytest.raises(ValueError, match="line"):
        MapStyle(border_width=0.1)
    with pytest.raises(ValueError, match="type"):
        MapStyle(note_pt=5.0)
