"""Painted pictures as files: what a wash's words stand on, once it is a JPEG.

Contrast after WCAG 2.2.
"""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from wayfold.base.geometry import Size
from wayfold.drawing.colour import Colour
from wayfold.drawing.contrast import contrast, linearise, luminance
from wayfold.drawing.oklab import make_colour, make_oklch
from wayfold.photos.model import SizePx
from wayfold.photos.painted import write_painted
from wayfold.washes.model import PPI, Edges, Wash
from wayfold.washes.paint import paint_wash

INK = luminance(Colour(0x26, 0x23, 0x20))
NEEDED = 12.0 * (INK + 0.05) - 0.05


@pytest.mark.parametrize("hue", [130, 260])
def test_ink_stands_out_from_a_wash_in_print(tmp_path: Path, hue: int) -> None:
    tint = make_colour(make_oklch(0.94, 0.03, hue))
    wash = Wash(Size(90.0, 60.0), Edges(top=True, right=True), tint, "s", NEEDED + 0.02)
    raster = paint_wash(wash)
    size = SizePx(raster.width_px, raster.height_px)
    for name in "ab":
        write_painted(raster.pixels, size, PPI, tmp_path / name, tmp_path / f"{name}.small")
    assert (tmp_path / "a").read_bytes() == (tmp_path / "b").read_bytes()
    with Image.open(tmp_path / "a") as picture:
        assert picture.size == (raster.width_px, raster.height_px)
        assert picture.info["dpi"] == (150, 150)
        assert picture.info["icc_profile"]
        light = np.array([linearise(v / 255) for v in range(256)])[np.asarray(picture)]
    ground = light @ (0.2126, 0.7152, 0.0722)
    assert contrast(float(ground.min()), INK) >= 11.0
    assert (ground < NEEDED).mean() < 0.01
    with Image.open(tmp_path / "a.small") as small:
        assert max(small.size) == 320
