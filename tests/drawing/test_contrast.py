"""Contrast of ink and ground, against values published for WCAG 2.x.

W3C, Web Content Accessibility Guidelines 2.1, "relative luminance", "contrast ratio" and success
criteria 1.4.3 and 1.4.11; the pairs are those commonly cited for it (4.54, 8.59, 2.15, 1.07), the
opacities and grounds are reckoned from its formula.
"""

import pytest

from wayfold.drawing.colour import Colour
from wayfold.drawing.contrast import (
    contrast,
    encode_light,
    least_contrast,
    linearise,
    luminance,
    worst_ground,
)


@pytest.mark.parametrize(
    ("one", "other", "wanted"),
    [
        ("#000000", "#ffffff", 21.0),
        ("#767676", "#ffffff", 4.542),
        ("#777777", "#ffffff", 4.478),
        ("#595959", "#ffffff", 7.005),
        ("#949494", "#ffffff", 3.033),
        ("#959595", "#ffffff", 2.995),
        ("#0000ff", "#ffffff", 8.592),
        ("#ff0000", "#ffffff", 3.998),
        ("#ffff00", "#ffffff", 1.074),
        ("#808080", "#000000", 5.317),
        ("#ff0000", "#0000ff", 2.149),
    ],
)
def test_published_contrasts(one: str, other: str, wanted: float) -> None:
    lights = luminance(Colour.of(one)), luminance(Colour.of(other))
    assert contrast(*lights) == pytest.approx(wanted, abs=0.001)
    assert contrast(*reversed(lights)) == contrast(*lights)


def test_every_signal_comes_back() -> None:
    for value in range(256):
        assert encode_light(linearise(value / 255)) == pytest.approx(value / 255, abs=1e-6)


def test_large_text_needs_less() -> None:
    # WCAG 1.4.3: 4.5, and 3 from 18 pt on.
    assert [least_contrast(size) for size in (9.0, 17.9, 18.0, 34.0)] == [4.5, 4.5, 3.0, 3.0]


@pytest.mark.parametrize(("wanted", "opacity"), [(4.5, 0.535), (3.0, 0.416), (7.0, 0.651)])
def test_black_laid_over_white_until_white_words_are_read(wanted: float, opacity: float) -> None:
    # The opacities (of sRGB signals) are reckoned from WCAG's formula elsewhere.
    shown = linearise(1.0 - opacity)
    assert contrast(1.0, shown) == pytest.approx(wanted, abs=0.02)
    assert contrast(1.0, linearise(1.0 - opacity + 0.01)) < wanted


@pytest.mark.parametrize(("wanted", "light"), [(4.5, 0.18333), (3.0, 0.3), (7.0, 0.1)])
def test_the_lightest_ground_of_white_words(wanted: float, light: float) -> None:
    assert contrast(1.0, light) == pytest.approx(wanted, abs=1e-3)
    assert contrast(0.0, 0.175) == pytest.approx(4.5)  # and the darkest of black ones


def test_the_worst_patch_decides() -> None:
    ground = [0.9] * 94 + [0.01] * 6
    assert worst_ground(ground, 0.0) == 0.01  # under dark ink the darkest
    assert worst_ground(ground, 1.0) == 0.9  # under white ink the lightest
    assert worst_ground([0.9] * 96 + [0.01] * 4, 0.0) == 0.9  # fewer than one in twenty
    with pytest.raises(ValueError, match="patch"):
        worst_ground([], 0.0)
