"""How large a picture may be: pixel tables, and what an eye sees of white noise."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.geometry import Rect
from wayfold.book.materials import Surface
from wayfold.photos.largest import (
    EVEN_CYCLES,
    FALL_CYCLES,
    Demand,
    LargestPrint,
    Limit,
    largest_print,
    see_grain,
)
from wayfold.photos.look import Look, Salience
from wayfold.photos.model import Photo, SizePx


def photo(width_px=6000, height_px=4000, edge_px=1.4, noise=0.0, noise_px=3000, seen=True) -> Photo:
    look = Look((), Salience(1, 1, (1.0,)), (), edge_px, noise, noise_px, 0.0, 50.0)
    return Photo("a", "a", "/a.jpg", SizePx(width_px, height_px), look=look if seen else None)


@pytest.mark.parametrize(
    ("demand", "length", "pixels"),
    # Pixel tables of photographic printing (arithmetic, nearest): A4 210 x 297 mm at 240 and 180
    # ppi; 8732 / distance in cm (an eye of one minute of arc) is 249 at 35 cm, 240 is rounder.
    [
        (Demand.GOOD, 210, 1984), (Demand.GOOD, 297, 2806), (Demand.GOOD, 420, 3969),
        (Demand.FAIR, 210, 1488), (Demand.FAIR, 297, 2105), (Demand.FAIR, 420, 2976),
    ],
)  # fmt: skip
def test_sizes_of_the_tables(demand, length, pixels):
    found = largest_print(photo(pixels, pixels), demand=demand)
    assert found.width == pytest.approx(length, abs=0.1)
    assert found.limit is Limit.PIXELS


def test_the_pixels_follow_the_distance_as_the_eye_does():
    # 8732 / d: 20 cm 437, 30 cm 291, 60 cm 146 ppi; here everything keeps 240 to 249 at 35 cm.
    for distance, ppi in ((200.0, 437), (300.0, 291), (600.0, 146)):
        found = largest_print(photo(), distance=distance)
        assert 6000 / (found.width / 25.4) == pytest.approx(ppi * 240 / 249.5, rel=0.01)


def test_half_the_sharpness_is_half_the_size():
    sharp, soft = largest_print(photo()), largest_print(photo(edge_px=2.8))
    assert sharp.limit is Limit.PIXELS
    assert soft == LargestPrint(pytest.approx(sharp.width / 2), Limit.SHARPNESS)
    assert largest_print(photo(edge_px=0.0)) == sharp


def test_uncoated_paper_bears_200_pixels_an_inch():
    found = largest_print(photo(2000), surface=Surface.UNCOATED)
    assert found.width == pytest.approx(254.0)


def test_a_part_bears_its_part():
    half = largest_print(photo(edge_px=2.0), Rect(0.25, 0.0, 0.5, 1.0))
    assert half.width == pytest.approx(largest_print(photo(edge_px=2.0)).width / 2)


def test_a_picture_nobody_has_looked_at_is_limited_by_its_pixels():
    assert largest_print(photo(seen=False)) == largest_print(photo())


def filter_noise(ppi: float, distance: float, side: int = 256) -> float:
    """Give the standard deviation of white noise of 1 after the eye's filter, by Fourier."""
    degree = 2 * distance * math.tan(math.radians(0.5))
    cycles = np.fft.fftfreq(side) * ppi / 25.4 * degree
    radius = np.hypot(cycles[:, None], cycles)
    passes = np.where(radius <= EVEN_CYCLES, 1.0, np.exp(-(radius - EVEN_CYCLES) / FALL_CYCLES))
    noise = np.random.default_rng(1).normal(0, 1, (side, side))
    return float(np.fft.ifft2(np.fft.fft2(noise) * passes).real.std())


@pytest.mark.parametrize("ppi", [60, 100, 150, 240, 300, 600])
@pytest.mark.parametrize("distance", [250.0, 350.0, 600.0])
def test_seen_grain_is_that_of_filtered_noise(ppi, distance):
    assert see_grain(1.0, ppi, distance) == pytest.approx(filter_noise(ppi, distance), rel=0.08)


@pytest.mark.parametrize(("ppi", "seen"), [(150, 3.2), (300, 1.8), (600, 0.9)])
def test_seen_grain_of_the_study_it_was_fitted_to(ppi, seen):
    # White noise of L* 4 at 350 mm, filtered on its own; no outside source.
    assert see_grain(4.0, ppi, 350.0) == pytest.approx(seen, rel=0.1)


def test_grain_limits_where_it_is_as_strong_as_may_be():
    grainy = photo(noise=3.0, noise_px=3000)
    found = largest_print(grainy)
    assert found.limit is Limit.GRAIN
    assert see_grain(3.0, 3000 / (found.width / 25.4), 350.0) == pytest.approx(0.8, abs=1e-3)
    assert largest_print(photo(noise=0.8)).limit is Limit.PIXELS


@given(
    st.floats(1.0, 20.0), st.floats(0.0, 10.0), st.floats(200, 900), st.floats(0.05, 1.0),
    st.sampled_from(Surface),
)  # fmt: skip
def test_more_is_asked_for_less_is_borne(edge, noise, distance, part, surface):
    crop = Rect(0.0, 0.0, part, 1.0)
    of = photo(edge_px=edge, noise=noise)
    widths = [
        largest_print(of, crop, distance=distance, surface=surface, demand=d).width for d in Demand
    ]
    assert 0 < widths[0] <= widths[1] <= widths[2]
    farther = largest_print(of, crop, distance=distance * 1.1, surface=surface)
    assert farther.width >= widths[0] - 1e-6
    sharper = photo(edge_px=edge * 0.9, noise=noise * 0.9)
    assert (
        largest_print(sharper, crop, distance=distance, surface=surface).width >= widths[0] - 1e-6
    )
