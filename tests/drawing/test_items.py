"""Colours, boxes and paragraphs of a drawing."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.geometry import Rect, Size
from wayfold.drawing.colour import BLACK, WHITE, Colour
from wayfold.drawing.items import Drawing
from wayfold.drawing.text import Paragraph, Run, TextStyle

channels = st.integers(0, 255)


@pytest.mark.parametrize(
    # CSS Color Module Level 4, 6.1: named colours and their hexadecimal notation.
    ("code", "channels"),
    [
        ("#000000", (0, 0, 0)),
        ("#ffffff", (255, 255, 255)),
        ("#663399", (102, 51, 153)),
        ("#FF6347", (255, 99, 71)),
        ("4682b4", (70, 130, 180)),
    ],
    ids=["black", "white", "rebeccapurple", "tomato", "steelblue"],
)
def test_colours_from_hexadecimal(code, channels):
    colour = Colour.of(code)
    assert (colour.red, colour.green, colour.blue, colour.opacity) == (*channels, 1.0)


@given(channels, channels, channels)
def test_hexadecimal_and_back(red, green, blue):
    assert Colour.of(Colour(red, green, blue).hex) == Colour(red, green, blue)


def test_black_and_white():
    assert (BLACK.hex, WHITE.hex) == ("#000000", "#ffffff")


@pytest.mark.parametrize(
    "code",
    [
        "",
        "#fff",
        "#12345",
        "#1234567",
        "#12345g",
        "red",
        "#-12345",
        "#+1+2+3",
        "# 1 2 3",
        "#1_2_3_",
    ],
)
def test_what_is_no_colour(code):
    with pytest.raises(ValueError):
        Colour.of(code)


def test_boxes_of_a_page():
    # ISO 32000-2, 14.11.2: the media box holds the bleed, the trim box the finished page.
    page = Drawing("page 1", Size(210, 297), 3.0, ())
    assert page.trim_box == Rect(0, 0, 210, 297)
    assert page.media_box == Rect(-3, -3, 216, 303)
    assert page.media_box.contains(page.trim_box)


def test_the_letters_of_a_paragraph():
    style = TextStyle("EB Garamond", 10.5, 15.0, BLACK)
    runs = (Run("One "), Run("two", italic=True, line_break=True), Run(leader=True), Run("12"))
    assert Paragraph(runs, style).plain == "One two\n12"
