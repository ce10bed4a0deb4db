"""Paints one picture into a file."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from PIL import Image

from wayfold.demo.model import Painting
from wayfold.demo.painting.noise import Plane, make_field
from wayfold.demo.painting.palette import HOURS
from wayfold.demo.painting.scenes import SCENES

SIZE_PX = (3600, 2400)
"""Width and height: enough for the two pages of an A4 spread at 217 pixels to the inch."""

_STROKE_PX = 2
"""Every stroke of the brush is so many pixels wide; only the grain is finer."""


def paint_picture(painting: Painting, path: Path, size_px: tuple[int, int] = SIZE_PX) -> None:
    """Paint ``painting`` as an sRGB JPEG of ``size_px`` (width, height) into ``path``.

    The same painting gives the same pixels. Raises KeyError for a scene or hour we cannot paint.
    """
    width, height = size_px
    rng = np.random.default_rng(painting.seed)
    canvas = (height // _STROKE_PX, width // _STROKE_PX)
    picture = SCENES[painting.scene](rng, canvas, HOURS[painting.hour])
    # Pigment settles unevenly: a little of it everywhere keeps flat skies from banding in print.
    wash = make_field(rng, canvas, (5.0, 7.0), octaves=4) * np.float32(0.022)
    picture = _enlarge(picture * (1.0 + wash[..., None]), size_px)
    grain = rng.standard_normal((height, width), dtype=np.float32) * np.float32(0.011)
    picture *= 1.0 + grain[..., None]
    pixels = (np.clip(picture, 0.0, 1.0) * 255.0 + 0.5).astype(np.uint8)
    part = path.with_suffix(".part")
    Image.fromarray(pixels).save(part, "JPEG", quality=97, subsampling=0)
    part.replace(path)


def _enlarge(picture: Plane, size_px: tuple[int, int]) -> Plane:
    bands = (Image.fromarray(np.ascontiguousarray(picture[..., i])) for i in range(3))
    return np.stack(
        [np.asarray(b.resize(size_px, Image.Resampling.BICUBIC)) for b in bands], axis=2
    )
