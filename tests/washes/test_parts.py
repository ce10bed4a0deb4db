"""The parts of painting: filling, noise, softening, dithering.

Areas against Shapely (GEOS); a Gaussian's spread and blue noise's spectrum by their definitions
(R. Ulichney, "Dithering with blue noise", 1988).
"""

import numpy as np
import pytest
from shapely.geometry import Polygon

from wayfold.washes.chance import make_chance
from wayfold.washes.dither import TILE, dither, make_thresholds
from wayfold.washes.fill import fill_polygons
from wayfold.washes.grain import Band, make_noise, soften


def star(points: int, at: tuple[float, float], reach: float) -> np.ndarray:
    turns = np.arange(points) * 2 * np.pi / points
    far = reach * np.where(np.arange(points) % 2, 0.5, 1.0)
    return np.stack([at[0] + far * np.cos(turns), at[1] + far * np.sin(turns)], axis=1)


@pytest.mark.parametrize("points", [3, 10, 24])
def test_a_polygon_covers_its_area(points: int) -> None:
    shape = star(points, (51.3, 48.9), 40.0)
    for turned in (shape, shape[::-1]):
        cover = fill_polygons([turned], (100, 100))
        assert cover.min() >= 0.0 and cover.max() <= 1.0
        assert cover.sum() == pytest.approx(Polygon(shape).area, rel=0.01)


def test_what_lies_outside_the_picture_is_cut() -> None:
    shape = star(8, (0.0, 0.0), 60.0)
    seen = Polygon(shape).intersection(Polygon([(0, 0), (50, 0), (50, 40), (0, 40)]))
    assert fill_polygons([shape], (40, 50)).sum() == pytest.approx(seen.area, rel=0.01)


def test_polygons_are_averaged() -> None:
    small, large = star(4, (20.0, 20.0), 8.0), star(4, (20.0, 20.0), 16.0)
    both = fill_polygons([small, large], (40, 40))
    one, other = fill_polygons([small], (40, 40)), fill_polygons([large], (40, 40))
    assert both == pytest.approx((one + other) / 2, abs=1e-5)


def test_noise_is_as_strong_as_asked_and_within_its_band() -> None:
    noise = make_noise((240, 300), [Band(40.0, 8.0, 0.2)], make_chance("n"))
    assert noise.std() == pytest.approx(0.2, rel=0.15)
    assert abs(noise.mean()) < 0.02
    power = np.abs(np.fft.rfft2(noise)) ** 2
    per_px = np.hypot(np.fft.fftfreq(240)[:, None], np.fft.rfftfreq(300)[None, :])
    assert power[per_px > 1 / 4].sum() < 0.02 * power.sum()


def test_softening_is_gaussian() -> None:
    dot = np.zeros((61, 61), dtype=np.float32)
    dot[30, 30] = 1.0
    soft = soften(dot, 3.0)
    assert soft.sum() == pytest.approx(1.0, abs=1e-4)
    away = np.arange(61) - 30
    assert (soft.sum(axis=0) * away**2).sum() == pytest.approx(9.0, rel=0.05)
    assert soften(np.full((9, 9), 0.4, dtype=np.float32), 2.0) == pytest.approx(0.4, abs=1e-5)


def test_dithering_keeps_the_mean_and_white() -> None:
    flat = np.full((TILE, TILE, 3), 0.9237, dtype=np.float32)
    assert dither(flat).mean() / 255 == pytest.approx(0.9237, abs=1e-4)
    assert set(np.unique(dither(flat))) == {235, 236}
    assert (dither(np.ones((8, 8, 3), dtype=np.float32)) == 255).all()


def test_thresholds_are_even_and_blue() -> None:
    tile = make_thresholds()
    assert np.sort(tile, axis=None) == pytest.approx((np.arange(TILE**2) + 0.5) / TILE**2)
    power = np.abs(np.fft.rfft2(tile - tile.mean())) ** 2
    per_px = np.hypot(np.fft.fftfreq(TILE)[:, None], np.fft.rfftfreq(TILE)[None, :])
    coarse, fine = power[per_px < 0.1].mean(), power[per_px > 0.35].mean()
    assert coarse < 0.02 * fine
