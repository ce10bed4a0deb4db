"""What a translucent sheet shows, against two-flux theory and tables.

P. Kubelka and F. Munk 1931; P. Kubelka, JOSA 1948 and 1954; ISO 22891 (transmittance by reflectance
over white and over black); scipy's Bessel function K1 and its Gaussian filter.
"""

import math

import numpy as np
import pytest
from scipy import ndimage
from scipy.special import k1

from wayfold.book.see_through import (
    DARKEST,
    PAPER,
    Sheet,
    light_of,
    measure_haze,
    measure_sheet,
    sharpness_through,
    spread_of,
    veil_of,
)
from wayfold.drawing.contrast import contrast, encode_light, linearise


def scatter(s: float, k: float) -> Sheet:
    """A layer of scattering s and absorption k times its thickness (Kubelka 1948)."""
    a = 1 + k / s
    b = math.sqrt(a * a - 1)
    below = a * math.sinh(b * s) + b * math.cosh(b * s)
    return Sheet(math.sinh(b * s) / below, b / below)


def test_a_sheet_that_only_scatters_halves_the_light() -> None:
    sheet = scatter(1.0, 1e-9)  # Kubelka: without absorption R0 = SX / (1 + SX), T = 1 / (1 + SX)
    assert (sheet.reflectance, sheet.transmittance) == pytest.approx((0.5, 0.5), abs=1e-4)


def test_two_sheets_are_one_of_twice_the_thickness() -> None:
    for s, k in ((0.6, 0.05), (1.3, 0.2)):
        one, two = scatter(s, k), scatter(2 * s, 2 * k)
        for ground in (0.0, 0.3, 0.9):
            assert two.over(ground) == pytest.approx(one.over(one.over(ground)), abs=1e-9)


@pytest.mark.parametrize(
    ("sheet", "white", "black", "between", "over_white", "over_black"),
    [
        (Sheet(0.20, 0.75), 0.817, 0.223, 3.2, 9.6, 3.0),
        (Sheet(0.25, 0.68), 0.787, 0.269, 2.6, 9.3, 3.5),
        (Sheet(0.30, 0.62), 0.774, 0.316, 2.2, 9.2, 4.1),
        (Sheet(0.40, 0.55), 0.825, 0.412, 1.9, 9.7, 5.1),
    ],
)
def test_what_four_sheets_leave_of_black_on_white(
    sheet: Sheet, white: float, black: float, between: float, over_white: float, over_black: float
) -> None:
    # Reckoned by hand from Kubelka's formula and WCAG's contrast.
    assert sheet.over(0.90) == pytest.approx(white, abs=0.001)
    assert sheet.over(0.04) == pytest.approx(black, abs=0.001)
    assert contrast(sheet.over(0.90), sheet.over(0.04)) == pytest.approx(between, abs=0.06)
    for ground, wanted in ((0.90, over_white), (0.04, over_black)):
        ink = sheet.ink_over(ground, 0.0)
        assert contrast(sheet.over(ground), ink) == pytest.approx(wanted, abs=0.06)


def test_two_patches_measure_a_sheet_exactly() -> None:
    for sheet in (Sheet(0.2, 0.75), Sheet(0.25, 0.68), Sheet(0.4, 0.3)):
        for white, black in ((0.9, 0.04), (0.85, 0.1), (0.7, 0.0)):
            found = measure_sheet(sheet.over(white), sheet.over(black), white, black)
            assert found.reflectance == pytest.approx(sheet.reflectance, abs=1e-12)
            assert found.transmittance == pytest.approx(sheet.transmittance, abs=1e-12)


def test_patches_that_no_sheet_shows_are_refused() -> None:
    for patches in ((0.2, 0.5, 0.9, 0.04), (0.5, 0.2, 0.04, 0.9), (0.99, 0.02, 0.5, 0.04)):
        with pytest.raises(ValueError, match="patch"):
            measure_sheet(*patches)


def test_an_ideal_diffuser_is_met_where_half_the_contrast_is_left() -> None:
    # Its point spread z^2 / (pi (rho^2 + z^2)^2) leaves x K1(x), x = 2 pi f z (Abramowitz and
    # Stegun, 9.6.25): half of it at f = 0.2 / z, and half its light lies within rho = z. A Gaussian
    # with as much light there leaves half at 0.22 / z.
    for gap in (0.1, 0.5, 2.0):
        spread = spread_of(gap, 45.0)
        assert 1.0 - math.exp(-0.5 * (gap / spread) ** 2) == pytest.approx(0.5, abs=1e-12)
        x = 2 * math.pi * 0.2
        assert x * k1(x) == pytest.approx(0.5, abs=0.01)
        assert sharpness_through(0.2 / gap, spread) == pytest.approx(x * k1(x), abs=0.07)


def test_a_pattern_of_lines_keeps_what_a_gaussian_leaves_of_it() -> None:
    # scipy's own filter over a cosine of so many pairs of lines a millimetre.
    px_per_mm, spread = 100, spread_of(0.2, 25.0)
    for per_mm in (0.5, 2.0):
        x = np.arange(2000) / px_per_mm
        lines = np.cos(2 * math.pi * per_mm * x)
        left = ndimage.gaussian_filter1d(lines, spread * px_per_mm, mode="wrap", truncate=8.0)
        assert sharpness_through(per_mm, spread) == pytest.approx(left.max(), abs=1e-4)
    assert sharpness_through(2.0, 0.0) == 1.0


def test_an_edge_measures_the_haze() -> None:
    # A blurred edge is the normal distribution: a tenth at -1.2816 of its deviations (tables).
    for gap, haze in ((0.5, 10.0), (2.0, 25.0), (3.0, 44.0)):
        assert measure_haze(2 * 1.2816 * spread_of(gap, haze), gap) == pytest.approx(haze, abs=0.01)
    for edge, gap in ((0.0, 1.0), (9.0, 1.0)):
        with pytest.raises(ValueError, match="edge"):
            measure_haze(edge, gap)


@pytest.mark.parametrize("sheet", [Sheet(0.2, 0.75), Sheet(0.25, 0.68), Sheet(0.4, 0.55)])
def test_a_grey_laid_over_follows_the_theory(sheet: Sheet) -> None:
    veil = veil_of(sheet)

    def miss(shown: float) -> float:
        wanted = (sheet.over(light_of(linearise(shown))) - DARKEST) / (PAPER - DARKEST)
        signal = veil.green / 255 * veil.opacity + shown * (1 - veil.opacity)
        return signal - encode_light(wanted)

    assert miss(1.0) == pytest.approx(0.0, abs=0.004)  # white paper is met
    assert max(abs(miss(i / 20)) for i in range(21)) < 0.11  # the rest as near as a grey can
