"""OKLab against published values.

B. Ottosson, "A perceptual color space for image processing" (2020): the primaries of sRGB and
white; W3C, web-platform-tests, css-color/oklab-009: #008000 is oklab(51.975% -35.075% 26.92%),
where 100 % of a and b is 0.4.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.drawing.colour import BLACK, Colour
from wayfold.drawing.oklab import Oklab, make_colour, make_oklch, read_oklab, turn_between

channel = st.integers(0, 255)


@pytest.mark.parametrize(
    ("colour", "lightness", "a", "b"),
    [
        ("#ffffff", 1.0, 0.0, 0.0),
        ("#ff0000", 0.628, 0.2249, 0.1258),
        ("#0000ff", 0.452, -0.0325, -0.3115),
        ("#008000", 0.51975, -0.35075 * 0.4, 0.2692 * 0.4),
    ],
)
def test_published_values(colour: str, lightness: float, a: float, b: float) -> None:
    seen = read_oklab(Colour.of(colour))
    assert (seen.lightness, seen.a, seen.b) == pytest.approx((lightness, a, b), abs=1e-4)


@given(channel, channel, channel)
def test_every_colour_comes_back(red: int, green: int, blue: int) -> None:
    colour = Colour(red, green, blue)
    assert make_colour(read_oklab(colour)) == colour


@given(st.floats(0.2, 0.98), st.floats(0.0, 0.4), st.floats(0.0, 360.0))
def test_what_srgb_lacks_keeps_lightness_and_hue(
    lightness: float, chroma: float, hue: float
) -> None:
    seen = read_oklab(make_colour(make_oklch(lightness, chroma, hue)))
    assert seen.chroma <= chroma + 0.006
    assert seen.lightness == pytest.approx(lightness, abs=0.006)
    kept = make_oklch(lightness, seen.chroma, hue)
    assert seen.distance(kept) < 0.008  # what rounding to 8 bits may do


def test_a_pastel_in_gamut_is_kept() -> None:
    wanted = make_oklch(0.94, 0.03, 240.0)
    assert read_oklab(make_colour(wanted)).distance(wanted) < 0.003


def test_black_is_black() -> None:
    assert make_colour(Oklab(0.0, 0.0, 0.0)) == BLACK


@pytest.mark.parametrize(
    ("start", "end", "turn"), [(350.0, 10.0, 20.0), (10.0, 350.0, -20.0), (90.0, 200.0, 110.0)]
)
def test_turns_take_the_shorter_way(start: float, end: float, turn: float) -> None:
    assert turn_between(start, end) == pytest.approx(turn)
