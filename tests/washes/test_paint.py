"""Painted washes: bytes, colours and borders first; how they look is for the eye.

The formula of pigment: A. Bousseau et al., NPAR 2006 (d = 1 leaves a colour, d = 2 squares it).
The limits of a wash's colours are our own (docs/colour.md).
"""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from wayfold.base.geometry import Size
from wayfold.drawing.colour import BLACK, Colour
from wayfold.drawing.contrast import contrast, linearise, luminance
from wayfold.drawing.oklab import make_colour, make_oklch, read_oklab
from wayfold.washes.model import Edges, Wash
from wayfold.washes.paint import find_densest, lay_pigment, paint_wash

BLUE = make_colour(make_oklch(0.94, 0.03, 240.0))
CORNER = Wash(Size(70.0, 50.0), Edges(top=True, right=True), BLUE, "a")

sides = st.booleans()
washes = st.builds(
    Wash,
    st.builds(Size, st.floats(20.0, 45.0), st.floats(20.0, 45.0)),
    st.builds(Edges, sides, sides, sides, sides),
    st.builds(
        make_oklch, st.floats(0.925, 0.955), st.floats(0.02, 0.045), st.floats(0.0, 360.0)
    ).map(make_colour),
    st.text(max_size=8),
    st.floats(0.55, 0.78),
)


def paint(wash: Wash) -> NDArray[np.uint8]:
    raster = paint_wash(wash)
    rows = (raster.height_px, raster.width_px, 3)
    return np.frombuffer(raster.pixels, dtype=np.uint8).reshape(rows)


def see_oklab(pixels: NDArray[np.uint8]) -> NDArray[np.float64]:
    """OKLab of pixels, by way of the colours that occur."""
    kinds, where = np.unique(pixels.reshape(-1, 3), axis=0, return_inverse=True)
    seen = [read_oklab(Colour(*(int(v) for v in kind))) for kind in kinds]
    values = np.array([(s.lightness, s.a, s.b) for s in seen])
    return values[where.reshape(-1)].reshape(*pixels.shape[:2], 3)


def test_the_same_seed_gives_the_same_bytes() -> None:
    assert paint_wash(CORNER) == paint_wash(replace(CORNER))
    assert paint_wash(CORNER).pixels != paint_wash(replace(CORNER, seed="b")).pixels
    assert CORNER.name == replace(CORNER).name != replace(CORNER, seed="b").name


def test_it_is_painted_at_150_ppi() -> None:
    raster = paint_wash(CORNER)
    assert (raster.width_px, raster.height_px) == (413, 295)  # 70 and 50 mm / 25.4 x 150
    assert len(raster.pixels) == 413 * 295 * 3


@settings(max_examples=15, deadline=None)
@given(washes)
def test_colours_stay_within_their_limits(wash: Wash) -> None:
    pixels = paint(wash)
    seen = see_oklab(pixels)
    assert seen[..., 0].min() >= 0.80
    light = np.array([linearise(v / 255) for v in range(256)])[pixels]
    # Rounding moves every channel by one at most, which moves luminance by up to 0.008.
    assert (light @ (0.2126, 0.7152, 0.0722)).min() >= wash.darkest - 0.009
    painted = seen[seen[..., 0] < 0.985]
    tint = read_oklab(wash.tint)
    mean = painted.mean(axis=0)
    assert np.linalg.norm(mean - (tint.lightness, tint.a, tint.b)) < 0.02


@settings(max_examples=15, deadline=None)
@given(washes)
def test_it_ends_before_the_sides_that_it_does_not_run_over(wash: Wash) -> None:
    pixels, edges = paint(wash), wash.edges
    borders = {
        "left": pixels[:, 0],
        "top": pixels[0],
        "right": pixels[:, -1],
        "bottom": pixels[-1],
    }
    for name, border in borders.items():
        if getattr(edges, name):
            assert (border < 252).any(), name
        else:
            assert (border == 255).all(), name


@settings(max_examples=10, deadline=None)
@given(st.text(max_size=8))
def test_it_is_no_rectangle(seed: str) -> None:
    for edges in (Edges(), Edges(right=True), Edges(top=True, right=True)):
        painted = paint(replace(CORNER, seed=seed, edges=edges)).min(axis=2) < 250
        rows = painted[painted.any(axis=1)]
        begins = rows.argmax(axis=1)
        assert begins.max() - begins.min() > 0.08 * painted.shape[1]
        assert 0.35 < painted.mean() < 0.92


@given(st.floats(0.0, 1.0))
def test_pigment_lies_as_in_the_paper(colour: float) -> None:
    assert lay_pigment(colour, 1.0) == pytest.approx(colour)
    assert lay_pigment(colour, 2.0) == pytest.approx(colour**2)


def test_black_reads_on_every_tint_and_ink_on_washes_made_for_it() -> None:
    # WCAG 2.2 contrast; 12:1 is our own floor for words on a wash.
    for hue in range(0, 360, 10):
        tint = make_colour(make_oklch(0.925, 0.045, hue))
        assert contrast(luminance(BLACK), luminance(tint)) >= 12.0
    light = np.array([linearise(v / 255) for v in range(256)])
    pixels = paint(replace(CORNER, darkest=0.771))
    darkest = (light[pixels] @ (0.2126, 0.7152, 0.0722)).min()
    assert contrast(darkest, luminance(Colour(0x26, 0x23, 0x20))) >= 12.0


def test_the_densest_pigment_is_that_of_the_luminance_asked_for() -> None:
    for darkest in (0.55, 0.64, 0.78):
        density = find_densest(BLUE, darkest)
        parts = (BLUE.red, BLUE.green, BLUE.blue)
        red, green, blue = (round(255 * lay_pigment(v / 255, density)) for v in parts)
        assert luminance(Colour(red, green, blue)) == pytest.approx(darkest, abs=0.006)


def test_a_tint_darker_than_asked_for_is_painted_flat() -> None:
    assert find_densest(BLUE, 0.99) == 1.0
