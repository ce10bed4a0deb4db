"""Lengths against the standards that define them.

1 inch = 25.4 mm exactly (international yard and pound agreement, 1959; ISO 80000-3 annex).
1 unit of default user space = 1/72 inch (ISO 32000-2, 8.3.2.3). A4 = 210 x 297 mm (ISO 216).
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.units import (
    mm_from_pt,
    mm_from_px,
    mm_from_um,
    ppi_of,
    pt_from_mm,
    px_from_mm,
)

lengths = st.floats(1e-3, 1e5)
resolutions = st.floats(1.0, 5000.0)


def test_an_inch_is_72_points_and_25_4_millimetres():
    assert pt_from_mm(25.4) == 72.0
    assert mm_from_pt(72.0) == 25.4


@pytest.mark.parametrize(
    # ISO 216 in mm; the points as PDF software states them, rounded to 0.001 (common practice).
    ("width", "height", "width_pt", "height_pt"),
    [
        (210, 297, 595.276, 841.890),
        (148, 210, 419.528, 595.276),
        (297, 420, 841.890, 1190.551),
    ],
    ids=["A4", "A5", "A3"],
)
def test_iso_216_sizes_in_points(width, height, width_pt, height_pt):
    assert pt_from_mm(width) == pytest.approx(width_pt, abs=5e-4)
    assert pt_from_mm(height) == pytest.approx(height_pt, abs=5e-4)


def test_letter_is_612_by_792_points():
    # ANSI/ASME Y14.1: size A is 8.5 x 11 inches.
    assert pt_from_mm(8.5 * 25.4) == pytest.approx(612.0)
    assert pt_from_mm(11 * 25.4) == pytest.approx(792.0)


def test_a4_at_300_pixels_an_inch():
    # The figures printers give for A4 at 300 ppi (common practice): 2480 x 3508 pixels.
    assert round(px_from_mm(210, 300)) == 2480
    assert round(px_from_mm(297, 300)) == 3508


def test_micrometres():
    # SI prefixes: 1 µm = 0.001 mm.
    assert mm_from_um(240) == 0.24


@given(lengths)
def test_points_and_back(length):
    assert mm_from_pt(pt_from_mm(length)) == pytest.approx(length, rel=1e-12)


@given(lengths, resolutions)
def test_pixels_and_back(length, ppi):
    pixels = px_from_mm(length, ppi)
    assert mm_from_px(pixels, ppi) == pytest.approx(length, rel=1e-12)
    assert ppi_of(pixels, length) == pytest.approx(ppi, rel=1e-12)
