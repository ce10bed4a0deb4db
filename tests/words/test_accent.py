"""Accents read on white: contrast as WCAG 2.2 defines it (see tests/drawing/test_contrast.py)."""

from hypothesis import given
from hypothesis import strategies as st

from wayfold.drawing.colour import WHITE, Colour
from wayfold.drawing.contrast import contrast, luminance
from wayfold.words.accent import darken_accent

channel = st.integers(0, 255)


@given(channel, channel, channel)
def test_an_accent_reads_on_white(red, green, blue):
    darker = darken_accent(Colour(red, green, blue))
    assert contrast(luminance(darker), luminance(WHITE)) >= 4.5


def test_a_dark_accent_stays():
    assert darken_accent(Colour.of("#4d3320")) == Colour.of("#4d3320")
