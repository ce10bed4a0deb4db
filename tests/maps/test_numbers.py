"""Numbers on a map, and its key."""

from __future__ import annotations

import itertools
import math
import random

import pytest
import shapely

from tests.maps.read_map import place
from wayfold.base.geometry import Point, Rect
from wayfold.maps.key import draw_key, lay_key
from wayfold.maps.model import KeyEntry, WidthMeasurer
from wayfold.maps.numbers import place_numbers
from wayfold.maps.style import MapStyle

ROOM = Rect(0.0, 0.0, 150.0, 200.0)
STYLE = MapStyle()
NO_WALK = shapely.MultiLineString()


def test_a_lone_place_has_its_number_upon_it() -> None:
    spot = Point(50.0, 60.0)
    (mark,), findings = place_numbers([spot], [place("Inn", 0, 0)], ROOM, STYLE, NO_WALK)
    assert mark.middle == spot and not mark.is_aside and not findings


@pytest.mark.parametrize("seed", range(5))
def test_crowded_numbers_do_not_touch_and_stay_near(seed: int) -> None:
    chance = random.Random(seed)
    spots = [Point(chance.uniform(60, 90), chance.uniform(60, 90)) for _ in range(15)]
    places = [place(f"Place {n}", 0, 0) for n in range(15)]
    marks, findings = place_numbers(spots, places, ROOM, STYLE, NO_WALK)
    assert len(marks) == 15 and not findings
    assert [mark.number for mark in marks] == list(range(1, 16))
    for one, other in itertools.combinations(marks, 2):
        apart = math.hypot(one.middle.x - other.middle.x, one.middle.y - other.middle.y)
        assert apart >= one.diameter
    for mark in marks:
        away = math.hypot(mark.middle.x - mark.spot.x, mark.middle.y - mark.spot.y)
        assert away <= 3.3 * mark.diameter


def test_two_places_on_one_spot_both_get_their_number() -> None:
    spot = Point(50.0, 60.0)
    marks, findings = place_numbers(
        [spot, spot], [place("Inn", 0, 0), place("Bar", 0, 0)], ROOM, STYLE, NO_WALK
    )
    assert len(marks) == 2 and not findings


def test_a_place_off_the_map_is_a_finding() -> None:
    marks, findings = place_numbers(
        [Point(300.0, 60.0)], [place("Far", 0, 0)], ROOM, STYLE, NO_WALK
    )
    assert not marks
    assert "“Far”, lies off the map" in findings[0].message


def test_no_number_lies_on_the_fold() -> None:
    fold = Rect(70.0, 0.0, 10.0, 200.0)
    spots = [Point(75.0, 20.0 * n + 10.0) for n in range(8)]
    places = [place(f"Place {n}", 0, 0) for n in range(8)]
    marks, findings = place_numbers(spots, places, ROOM, STYLE, NO_WALK, fold)
    assert len(marks) == 8 and not findings
    assert all(mark.box.overlap(fold) is None for mark in marks)


NAMES = ["Åkirkeby", "Þingvellir", "Łódź", "Cathédrale Notre-Dame-Immaculée", "Café Ünal", "Ægir"]


def test_a_key_keeps_order_spelling_and_its_width(widths: WidthMeasurer) -> None:
    entries = [KeyEntry(n, name) for n, name in enumerate(NAMES, start=1)]
    key = lay_key(entries, 150.0, STYLE, widths)
    assert [entry for column in key.columns for entry in column] == entries
    texts = draw_key(key, 10.0, 20.0, STYLE)
    assert [t.paragraphs[0].plain for t in texts[1::2]] == NAMES
    assert all(t.box.x >= 10.0 and t.box.right <= 160.0 + 1e-6 for t in texts)
    assert max(t.box.bottom for t in texts) <= 20.0 + key.height + 1.0
    for one, other in itertools.combinations(texts[1::2], 2):
        assert one.box.overlap(other.box) is None


def test_a_name_wider_than_the_key_takes_more_lines(widths: WidthMeasurer) -> None:
    name = "The house at the corner where the ferryman’s daughter sold us bread and cherries"
    key = lay_key([KeyEntry(1, name), KeyEntry(2, "Inn")], 60.0, STYLE, widths)
    assert key.lines[1] >= 3 and key.lines[2] == 1


def test_no_places_make_an_empty_key(widths: WidthMeasurer) -> None:
    key = lay_key([], 100.0, STYLE, widths)
    assert key.height == 0.0 and not draw_key(key, 0.0, 0.0, STYLE)
