"""OKLab and the palette."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.photos.oklab import to_oklab
from wayfold.photos.palette import LEAST_SHARE, MOST, pick_palette


@pytest.mark.parametrize(
    ("rgb", "lab"),
    [
        # Ottosson 2020 and CSS Color 4 (sample conversions): white, red, blue.
        ((1, 1, 1), (1.0, 0.0, 0.0)),
        ((1, 0, 0), (0.628, 0.2249, 0.1258)),
        ((0, 0, 1), (0.452, -0.0325, -0.3115)),
        ((0, 0, 0), (0.0, 0.0, 0.0)),
    ],
)
def test_oklab_of_known_colours(rgb, lab):
    assert to_oklab(np.array(rgb)) == pytest.approx(lab, abs=1e-3)


def test_a_picture_of_three_colours_has_three_tones():
    picture = np.zeros((40, 100, 3), np.uint8)
    picture[:, :60] = (255, 0, 0)
    picture[:, 60:90] = (0, 0, 255)
    picture[:, 90:] = 255
    red, blue, white = pick_palette(picture)
    assert (red.share, blue.share, white.share) == (0.6, 0.3, 0.1)
    assert (red.lightness, red.a, red.b) == pytest.approx((0.628, 0.2249, 0.1258), abs=1e-3)
    assert (blue.lightness, blue.a, blue.b) == pytest.approx((0.452, -0.0325, -0.3115), abs=1e-3)
    assert (white.lightness, white.a, white.b) == pytest.approx((1.0, 0.0, 0.0), abs=1e-3)


def test_specks_are_no_tone():
    picture = np.full((100, 100, 3), 40, np.uint8)
    picture[0, :90] = (250, 240, 10)
    assert [t.share for t in pick_palette(picture)] == [pytest.approx(1.0, abs=0.01)]


@given(st.integers(0, 2**32 - 1), st.integers(1, 30), st.integers(1, 30))
def test_whatever_the_picture_its_tones_are_few_and_the_same_from_all_sides(seed, rows, columns):
    picture = np.random.default_rng(seed).integers(0, 256, (rows, columns, 3), np.uint8)
    tones = pick_palette(picture)
    assert len(tones) <= MOST
    assert all(LEAST_SHARE <= t.share <= 1 for t in tones)
    assert sum(t.share for t in tones) <= 1.001
    assert [t.share for t in tones] == sorted((t.share for t in tones), reverse=True)
    assert pick_palette(picture[::-1, ::-1]) == tones
