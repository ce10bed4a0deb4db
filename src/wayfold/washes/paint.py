"""Painting a wash: layers of thin colour, darker rims, the grain of paper.

After A. Bousseau et al., "Interactive watercolor rendering with temporal coherence and abstraction"
(NPAR 2006): a density d of pigment turns a colour C (0-1, as encoded) into C - (C - C²)(d - 1), so
that d = 1 leaves it and d = 2 gives two layers of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

import numpy as np

from wayfold.base.units import px_from_mm
from wayfold.drawing.colour import Colour
from wayfold.drawing.contrast import luminance
from wayfold.washes.chance import make_chance
from wayfold.washes.dither import dither
from wayfold.washes.fill import Plane, fill_polygons
from wayfold.washes.grain import Band, make_noise, soften
from wayfold.washes.model import PPI, Raster, Wash
from wayfold.washes.outline import draw_outline, spread_layer

T = TypeVar("T", float, Plane)

GLAZES = ((1.0, 20, 1.0), (0.84, 12, 0.4), (0.5, 8, 0.15))
"""A wash is painted over itself while it dries: how large each time, in how many layers, and what
it adds to the density of pigment. 40 layers in all."""
RIM = 1.2
"""What a rim adds where it dried sharpest, in what its glaze adds."""
THIN, FULL = 0.04, 0.5
"""The share of layers from which paint begins to be seen, and from which it covers."""
FLOW, GRANULATION = (16.0, 120.0, 0.12), (0.28, 1.6, 0.12)
"""Pigment that drifted while the paper was wet, and the paper's grain: shortest and longest waves
(mm), and what they add to the density (its standard deviation)."""


def paint_wash(wash: Wash) -> Raster:
    """Paint a wash at ``PPI`` on white. Equal washes give equal bytes."""
    rows, columns = (max(1, round(px_from_mm(v, PPI))) for v in (wash.size.height, wash.size.width))
    glazes = [_lay_glaze(wash, n, (rows, columns)) for n in range(len(GLAZES))]
    bare = np.ones((rows, columns), dtype=np.float32)
    for glaze in glazes:
        bare *= 1.0 - _smooth_step(THIN, FULL, glaze)
    cover = 1.0 - bare
    density = _settle_pigment(wash, glazes, cover)
    density = np.minimum(density, np.float32(find_densest(wash.tint, wash.darkest)))
    picture = np.empty((rows, columns, 3), dtype=np.float32)
    for channel, value in enumerate((wash.tint.red, wash.tint.green, wash.tint.blue)):
        picture[..., channel] = 1.0 - (1.0 - lay_pigment(value / 255, density)) * cover
    return Raster(columns, rows, dither(np.clip(picture, 0.0, 1.0, out=picture)).tobytes())


def lay_pigment(colour: float, density: T) -> T:
    """Give what a channel's value (0-1) becomes by a density of pigment."""
    return colour - (colour - colour * colour) * (density - 1.0)


def find_densest(tint: Colour, darkest: float) -> float:
    """Give the density of pigment at which a tint has come down to a luminance; at least 1."""
    low, high = 1.0, 20.0
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if _luminance(tint, middle) >= darkest else (low, middle)
    return low


def _lay_glaze(wash: Wash, number: int, shape: tuple[int, int]) -> Plane:
    """Give the share of a glaze's layers that lies on each pixel."""
    share, layers, _ = GLAZES[number]
    outline = draw_outline(wash.size, wash.edges, make_chance(wash.seed, "outline", number), share)
    drawn = [
        spread_layer(outline, make_chance(wash.seed, "layer", number, layer)) * px_from_mm(1.0, PPI)
        for layer in range(layers)
    ]
    return fill_polygons(drawn, shape)


def _settle_pigment(wash: Wash, glazes: Sequence[Plane], cover: Plane) -> Plane:
    """Give the density of pigment; its mean over the wash is 1."""
    mm = px_from_mm(1.0, PPI)
    bands = [Band(longest * mm, least * mm, adds) for least, longest, adds in (FLOW, GRANULATION)]
    density = make_noise(cover.shape, bands, make_chance(wash.seed, "noise"))
    for glaze, (_, _, adds) in zip(glazes, GLAZES, strict=True):
        soft = soften(glaze, 0.3 * mm)
        slope = np.hypot(*np.gradient(soft)) * (glaze > 0.5)
        density += np.float32(adds) * (soft + RIM * slope / max(float(slope.max()), 1e-6))
    mean = float((density * cover).sum()) / max(float(cover.sum()), 1e-6)
    return np.asarray(density + (1.0 - mean), dtype=np.float32)


def _luminance(tint: Colour, density: float) -> float:
    parts = (max(0.0, lay_pigment(v / 255, density)) for v in (tint.red, tint.green, tint.blue))
    red, green, blue = (round(255 * v) for v in parts)
    return luminance(Colour(red, green, blue))


def _smooth_step(low: float, high: float, values: Plane) -> Plane:
    share = np.clip((values - low) / (high - low), 0.0, 1.0)
    return np.asarray(share * share * (3.0 - 2.0 * share), dtype=np.float32)
