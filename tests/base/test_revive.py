"""Values come back as they were: a round trip through JSON text, which is the whole contract."""

from __future__ import annotations

import json

import pytest

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Affine, Point, Rect, Size
from wayfold.base.hashing import plain
from wayfold.base.revive import revive
from wayfold.drawing.colour import BLACK
from wayfold.drawing.items import Contour, Drawing, Picture, Placed, Shape, Stroke, Text
from wayfold.drawing.text import Align, Paragraph, Run, TextStyle
from wayfold.maps.model import DrawnMap

STYLE = TextStyle("EB Garamond", 10.0, 13.0, BLACK, align=Align.CENTER)
INNER = Drawing(
    "inner",
    Size(40.0, 30.5),
    0.0,
    (
        Shape((Contour((Point(0.0, 1.0), Point(0.1 + 0.2, 2.0)), closed=True),), fill=BLACK),
        Shape((), stroke=Stroke(BLACK, 0.25, (1.0, 0.5))),
        Text(Rect(0.0, 0.0, 20.0, 8.0), (Paragraph((Run("Shape"), Run("2")), STYLE),), "None"),
    ),
)
MAP = DrawnMap(
    Drawing(
        "overview",
        Size(420.0, 297.0),
        3.0,
        (
            Placed(INNER, Affine.shift(3.0, 4.0), Rect(0.0, 0.0, 9.0, 9.0)),
            Picture(Rect(1.0, 2.0, 3.0, 4.0), "a flag"),
        ),
    ),
    1e6,
    "+proj=lcc",
    (Finding("map.name", Severity.NOTE, "map", "A name has no room."),),
)


def test_a_map_comes_back_as_it_was() -> None:
    back = revive(json.loads(json.dumps(plain(MAP))), DrawnMap)
    assert back == MAP
    assert isinstance(back.findings[0].severity, Severity)
    assert isinstance(back.drawing.size.width, float)


@pytest.mark.parametrize(
    "spoilt",
    [
        None,
        [],
        ["Drawing"],
        ["DrawnMap", 1, 2],
        ["DrawnMap", plain(INNER), "no scale", "", []],
        ["DrawnMap", ["Drawing", "x", ["Size", 1, 2], 0, [["Finding", 1]]], 1, "", []],
        ["DrawnMap", plain(INNER), 1, "", [["Finding", "a", "worst", "b", "c", "d"]]],
    ],
)
def test_what_is_no_such_value_is_refused(spoilt: object) -> None:
    with pytest.raises(ValueError):
        revive(spoilt, DrawnMap)


def test_types_without_a_way_back() -> None:
    with pytest.raises(TypeError):
        revive({}, dict)
