"""Contrast as WCAG 2.2 defines it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.drawing.colour import BLACK, WHITE, Colour
from wayfold.words.accent import contrast_of, darken_accent

channel = st.integers(0, 255)


@pytest.mark.parametrize(
    ("colour", "ratio"),
    [
        # Black on white is 21:1 by definition; #767676 is the lightest grey that reaches 4.5:1
        # on white (W3C, Understanding SC 1.4.3); pure red reaches 4.0:1 (same formula).
        (BLACK, 21.0),
        (Colour.of("#767676"), 4.54),
        (Colour.of("#777777"), 4.48),
        (Colour.of("#ff0000"), 4.0),
    ],
)
def test_contrast(colour, ratio):
    assert contrast_of(colour, WHITE) == pytest.approx(ratio, abs=0.005)


@given(channel, channel, channel)
def test_an_accent_reads_on_white(red, green, blue):
    darker = darken_accent(Colour(red, green, blue))
    assert contrast_of(darker, WHITE) >= 4.5


def test_a_dark_accent_stays():
    assert darken_accent(Colour.of("#4d3320")) == Colour.of("#4d3320")
