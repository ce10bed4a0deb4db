"""The picture of a page as it is seen through translucent leaves: their veil, and their blur."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from PIL import Image

from wayfold.book.see_through import DARKEST, PAPER, Sheet, light_of
from wayfold.drawing.contrast import encode_light, linearise

Light = npt.NDArray[np.float32]
"""Rows of red, green and blue in linear light: 0 gives none back, 1 gives all back."""

REACH = 4.0
"""A Gaussian is followed to so many times its standard deviation; 1/16,000 of it lies beyond."""
FINE = 4096
"""Steps in which light is brought back to signals: finer than the 256 that a screen shows."""
QUALITY = 90

_SIGNALS = np.linspace(0.0, 1.0, 256)
_SHOWN = np.array([linearise(float(v)) for v in _SIGNALS], np.float32)
_LIGHT = np.array([light_of(float(v)) for v in _SHOWN], np.float32)
_BACK = np.array([round(255 * encode_light(i / FINE)) for i in range(FINE + 1)], np.uint8)


@dataclass(frozen=True, slots=True)
class Leaf:
    """A leaf over what lies beneath it: pictures of the ink on its faces, None where it is bare.

    ``lower`` is the face turned down, as it is read: through the leaf left and right are changed.
    The uppermost leaf's own upper ink may be left out, to be drawn sharp.
    """

    lower: Image.Image | None
    upper: Image.Image | None = None


def see_through(page: Image.Image, leaves: Sequence[Leaf], sheet: Sheet, px_per_mm: float) -> bytes:
    """Give the JPEG of a page (sRGB) under leaves of one paper, the lowest first.

    Each leaf blurs what it lies on by its gap, takes the light of the ink on its face below twice,
    and shows the rest as two-flux theory has it. Screens show paper as white, so what is seen is
    brought back to signals against ``PAPER`` and ``DARKEST``.
    """
    seen = _LIGHT[np.asarray(page.convert("RGB"))]
    for leaf in leaves:
        ground = blur(seen, sheet.spread * px_per_mm)
        if leaf.lower is not None:
            ground = _ink(ground, leaf.lower.transpose(Image.Transpose.FLIP_LEFT_RIGHT))
        seen = cover(ground, sheet)
        if leaf.upper is not None:
            seen = _ink(seen, leaf.upper)
    shown = (seen - DARKEST) * (FINE / (PAPER - DARKEST))
    signals = _BACK[np.clip(np.rint(shown), 0, FINE).astype(np.int32)]
    file = io.BytesIO()
    Image.fromarray(signals).save(file, "JPEG", quality=QUALITY, subsampling=0)
    return file.getvalue()


def cover(ground: Light, sheet: Sheet) -> Light:
    """Give what is seen of a ground under a sheet that touches it; ``Sheet.over`` of every part."""
    reflected, through = np.float32(sheet.reflectance), np.float32(sheet.transmittance)
    seen: Light = reflected + through**2 * ground / (1 - reflected * ground)
    return seen


def blur(light: Light, deviation_px: float) -> Light:
    """Blur by a Gaussian; beyond its edge a page goes on as it ends."""
    reach = int(REACH * deviation_px + 0.5)
    if reach < 1:
        return light
    steps = np.arange(-reach, reach + 1)
    kernel = np.exp(-0.5 * (steps / deviation_px) ** 2)
    kernel = (kernel / kernel.sum()).astype(np.float32)
    for axis in (0, 1):
        beyond = [(reach, reach) if axis == n else (0, 0) for n in range(light.ndim)]
        padded = np.moveaxis(np.pad(light, beyond, mode="edge"), axis, 0)
        blurred = np.zeros_like(light)
        total = np.moveaxis(blurred, axis, 0)
        for start, weight in enumerate(kernel):
            total += weight * padded[start : start + light.shape[axis]]
        light = blurred
    return light


def _ink(light: Light, ink: Image.Image) -> Light:
    """Light that goes through ink and back; no ink is darker than ``DARKEST``."""
    let_through = _SHOWN[np.asarray(ink.convert("RGB"))]
    left: Light = np.maximum(np.float32(DARKEST), light * let_through)
    return left
