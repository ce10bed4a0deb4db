"""Edge widths on edges of known blur; noise on noise of known strength."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image
from scipy.ndimage import gaussian_filter, uniform_filter1d
from scipy.special import erf
from scipy.stats import norm

from wayfold.photos.graininess import measure_noise, pick_even_parts, to_lightness
from wayfold.photos.raster_pixels import import_vips
from wayfold.photos.sharpness import SHARP_PX, measure_edges, restore_width

# The 10-90 % rise of a Gaussian edge, by SciPy's normal distribution: 2.563 standard deviations.
RISE = float(norm.ppf(0.9) - norm.ppf(0.1))


def draw_edges(sigma: float, lean: float = 0.1, size: int = 240, noise: float = 0.0):
    """Give a square of grey with a straight edge of a known blur (px)."""
    down, across = np.mgrid[:size, :size] - size / 2 + 0.3
    far = across * np.cos(lean) + down * np.sin(lean)
    grey = 60 + 60 * (1 + erf(far / (sigma * np.sqrt(2))))
    return grey + np.random.default_rng(1).normal(0, noise, grey.shape)


@pytest.mark.parametrize("lean", [0.02, 0.2, 0.3, 1.5])
@pytest.mark.parametrize("sigma", [0.55, 0.8, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0])
def test_a_gaussian_edge_is_as_wide_as_its_rise(sigma, lean):
    assert measure_edges(draw_edges(sigma, lean)[None]) == pytest.approx(RISE * sigma, rel=0.08)


def test_a_hand_that_moved_is_seen_though_edges_along_its_way_stay_sharp():
    cross = draw_edges(0.8, 0.05)
    both = np.where(np.arange(240)[:, None] < 120, cross, cross.T)
    still = measure_edges(both[None])
    # Drawn out by 9 px: 7.2 px from 10 to 90 % in one direction, and half of it in the mean square.
    moved = measure_edges(uniform_filter1d(both, 9, axis=1)[None])
    assert moved == pytest.approx(np.sqrt((RISE * 0.8) ** 2 / 2 + 7.2**2 / 2), rel=0.15)
    assert still == pytest.approx(RISE * 0.8, rel=0.08)


@pytest.mark.parametrize("sigma", [0.8, 1.0, 1.5, 2.0, 3.0])
def test_grain_hardly_changes_it(sigma):
    width = measure_edges(draw_edges(sigma, noise=3.0)[None], noise=3.0)
    assert width == pytest.approx(RISE * sigma, rel=0.1)


@pytest.mark.parametrize("turn", [0, 1, 2, 3])
def test_it_does_not_matter_how_the_picture_lies(turn):
    upright = measure_edges(draw_edges(1.5)[None])
    assert measure_edges(np.rot90(draw_edges(1.5), turn)[None]) == pytest.approx(upright, abs=0.02)


@pytest.mark.parametrize("sigma", [0.55, 1.0, 1.5, 2.0, 3.0, 4.0])
def test_the_full_width_is_known_from_a_jpeg_decoded_at_half_its_size(sigma):
    file = io.BytesIO()
    Image.fromarray(draw_edges(sigma, size=800).astype(np.uint8)).save(file, "JPEG", quality=92)
    half = import_vips().Image.jpegload_buffer(file.getvalue(), shrink=2)
    seen = measure_edges(half.numpy().reshape(1, 400, 400))
    assert restore_width(seen, 2.0) == pytest.approx(RISE * sigma, rel=0.15)


def test_what_shrinking_hides_is_taken_for_sharp():
    assert restore_width(1.0, 2.0) == SHARP_PX
    assert restore_width(1.3, 1.0) == 1.3
    assert restore_width(5.0, 3.0) == pytest.approx(15.0)


def test_a_picture_blurred_further_has_edges_as_much_wider():
    # Blur upon blur adds in squares (convolution of Gaussians).
    once = draw_edges(1.0)
    twice = gaussian_filter(once, np.sqrt(3.0), mode="nearest")
    assert measure_edges(twice[None]) == pytest.approx(RISE * 2.0, rel=0.05)


@pytest.mark.parametrize("parts", [
    np.full((3, 100, 100), 80), np.zeros((1, 4, 4)), np.zeros((2, 20, 300)),
    np.random.default_rng(2).normal(128, 2, (2, 100, 100)),
])  # fmt: skip
def test_nothing_is_said_where_there_are_no_edges(parts):
    assert measure_edges(parts, noise=2.0) is None


@pytest.mark.parametrize("sigma", [1, 3, 10, 20])
def test_white_noise_is_measured_as_strong_as_it_is(sigma):
    # The paper's own trial: added white noise comes out at its standard deviation.
    plane = np.random.default_rng(3).normal(128, sigma, (300, 300))
    slope = np.add.outer(np.arange(300.0), 0.5 * np.arange(300.0))
    assert measure_noise([plane]) == pytest.approx(sigma, rel=0.02)
    assert measure_noise([plane + slope]) == pytest.approx(sigma, rel=0.02)
    assert measure_noise([plane[:150], plane[150:]]) == pytest.approx(sigma, rel=0.02)


def test_small_and_missing_patches_have_no_noise():
    assert measure_noise([]) == 0.0
    assert measure_noise([np.ones((2, 9))]) == 0.0


def test_even_parts_lie_in_the_even_half_and_not_in_the_black():
    grey = np.random.default_rng(4).normal(120, 40, (80, 160)).clip(0, 255)
    grey[:, :40] = 0
    grey[:, 40:80] = 100
    parts = pick_even_parts(grey.astype(np.uint8))
    assert parts
    assert all(p.x >= 0.25 and p.right <= 0.5 for p in parts)
    assert pick_even_parts(np.zeros((80, 80), np.uint8)) == ()
    assert pick_even_parts(np.full((4, 4), 90, np.uint8)) == ()


def test_lightness_of_greys():
    # CIE 15: L* of Y = 1, 0.184 (L* 50) and 0; sRGB 119 is the grey of L* 50 (IEC 61966-2-1).
    black, middle, white = to_lightness(np.array([0, 119, 255]))
    assert (black, white) == (pytest.approx(0.0), pytest.approx(100.0))
    assert middle == pytest.approx(50.0, abs=0.3)
