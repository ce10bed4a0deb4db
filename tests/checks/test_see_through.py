"""The picture of a page under leaves, against scipy's Gaussian and Kubelka's formula.

P. Kubelka and F. Munk 1931: R = R0 + T^2 Rg / (1 - R0 Rg) of linear light. IEC 61966-2-1 for sRGB.
"""

import io

import numpy as np
import numpy.typing as npt
import pytest
from PIL import Image
from scipy import ndimage

from wayfold.book.see_through import Sheet
from wayfold.checks.see_through import Leaf, blur, see_through

Values = npt.NDArray[np.float64]

R0, T = 0.25, 0.68
PX_PER_MM = 8.0
WIDTH, HEIGHT = 64, 48


def picture(seed: int = 1) -> Image.Image:
    """A page of coloured blocks a little larger than a blur."""
    small = np.random.default_rng(seed).integers(0, 256, (HEIGHT // 8, WIDTH // 8, 3))
    return Image.fromarray(np.kron(small, np.ones((8, 8, 1))).astype(np.uint8))


def light_of(image: Image.Image) -> Values:
    """What a page gives back whose white paper gives 0.9 and whose black ink 0.04."""
    c = np.asarray(image, np.float64) / 255
    shown = np.where(c <= 0.04045, c / 12.92, ((c + 0.055) / 1.055) ** 2.4)
    return 0.04 + 0.86 * shown


def signals_of(light: Values) -> Values:
    shown = np.clip((light - 0.04) / 0.86, 0, 1)
    return 255 * np.where(
        shown <= 0.0031308, 12.92 * shown, 1.055 * np.maximum(shown, 1e-9) ** (1 / 2.4) - 0.055
    )


def under(ground: Values, spread_px: float = 0.0) -> Values:
    if spread_px:
        deviations = (spread_px, spread_px, 0)
        ground = ndimage.gaussian_filter(ground, deviations, mode="nearest", truncate=4.0)
    return R0 + T**2 * ground / (1 - R0 * ground)


def look(page: Image.Image, leaves: list[Leaf], spread: float = 0.0) -> Values:
    data = see_through(page, leaves, Sheet(R0, T, spread), PX_PER_MM)
    return np.asarray(Image.open(io.BytesIO(data)).convert("RGB"), np.float64)


def assert_alike(seen: Values, wanted: Values) -> None:
    # JPEG takes a few of 255 at the edges of blocks.
    assert np.abs(seen - wanted).mean() < 2.5
    assert np.quantile(np.abs(seen - wanted), 0.99) < 10


@pytest.mark.parametrize("deviation", [0.0, 0.4, 1.3, 5.0])
def test_the_blur_is_a_gaussian(deviation: float) -> None:
    light = np.random.default_rng(2).random((40, 30, 3)).astype(np.float32)
    wanted = ndimage.gaussian_filter(
        light.astype(np.float64), (deviation, deviation, 0), mode="nearest", truncate=4.0
    )
    assert np.abs(blur(light, deviation) - wanted).max() < 1e-5


def test_a_blur_keeps_the_light() -> None:
    light = np.zeros((41, 41, 3), np.float32)
    light[20, 20] = 1.0
    assert blur(light, 3.0).sum() == pytest.approx(3.0, abs=1e-4)


@pytest.mark.parametrize("spread", [0.0, 0.08, 0.4])
def test_a_page_under_a_leaf(spread: float) -> None:
    page = picture()
    wanted = signals_of(under(light_of(page), spread * PX_PER_MM))
    assert_alike(look(page, [Leaf(None)], spread), wanted)


def test_white_and_black_show_as_the_theory_has_them() -> None:
    # Reckoned by hand for 0.25 and 0.68: 0.787 over white, 0.269 over black (signals 239 and 141).
    for grey, wanted in ((255, 239), (0, 141)):
        seen = look(Image.new("RGB", (16, 16), (grey,) * 3), [Leaf(None)], 0.1)
        assert seen == pytest.approx(np.full_like(seen, wanted), abs=1.5)


def test_ink_below_shows_mirrored_and_as_dark_as_a_black_page() -> None:
    ink = Image.new("RGB", (WIDTH, HEIGHT), (255, 255, 255))
    ink.paste((0, 0, 0), (0, 0, 16, HEIGHT))
    seen = look(Image.new("RGB", (WIDTH, HEIGHT), (255, 255, 255)), [Leaf(ink)])
    assert seen[:, :40].mean() == pytest.approx(239, abs=2)
    assert seen[:, -8:].mean() == pytest.approx(141, abs=2)


def test_of_two_leaves_the_lower_is_part_of_the_ground() -> None:
    page, ink = picture(3), picture(4)
    first = np.maximum(0.04, under(light_of(page)) * (light_of(ink) - 0.04) / 0.86)
    assert_alike(look(page, [Leaf(None, ink), Leaf(None)]), signals_of(under(first)))


def test_the_same_page_gives_the_same_bytes() -> None:
    sheet = Sheet(R0, T, 0.1)
    one, other = (see_through(picture(), [Leaf(None)], sheet, PX_PER_MM) for _ in range(2))
    assert one == other
