"""Water: what stands above it, mirrored and broken by ripples."""

from __future__ import annotations

import numpy as np

from wayfold.demo.painting.noise import Plane, make_field, mix, smooth_step
from wayfold.demo.painting.palette import Hour


def paint_water(
    rng: np.random.Generator, picture: Plane, hour: Hour, shore: float, roughness: float
) -> Plane:
    """Fill everything below ``shore`` (fraction of the height) with water.

    ``roughness`` 0 is a mirror, 1 an open sea, which takes the colour of the sky above instead of
    the things behind it and carries lines of light.
    """
    height, width = picture.shape[:2]
    first = int(shore * height)
    count = height - first
    depth = np.linspace(0.0, 1.0, count, dtype=np.float32)[:, None]
    swell = make_field(rng, (count, width), (34.0, 3.0), octaves=5, roughness=0.6)
    swell = swell * (0.25 + depth)
    up = first - 1 - (np.arange(count)[:, None] * (first / max(count, 1)) * 0.9)
    up = up + swell * height * (0.01 + 0.05 * roughness)
    rows = np.clip(up, 0, first - 1).astype(np.int32)
    mirrored = picture[rows, np.arange(width)[None, :]]
    deep = hour.zenith * np.float32(0.62) + np.array([0.0, 0.03, 0.05], dtype=np.float32)
    share = np.broadcast_to(0.16 + 0.3 * depth + 0.34 * roughness, (count, width))
    water = mix(mirrored, deep.astype(np.float32), share.astype(np.float32))
    crest = smooth_step(0.18, 0.5, swell - np.roll(swell, max(count // 260, 1), axis=0) * 0.55)
    water = mix(water, np.minimum(hour.horizon * 1.05, 1.0).astype(np.float32), crest * 0.4)
    water = _add_sun_path(water, hour, swell, depth)
    # A thin bright line where the water meets the land.
    line = np.exp(-(np.arange(count, dtype=np.float32) / (height * 0.0025)))[:, None]
    water = mix(water, hour.horizon, np.broadcast_to(line * 0.35, (count, width)))
    done = picture.copy()
    done[first:] = np.clip(water, 0.0, 1.0)
    return done


def _add_sun_path(water: Plane, hour: Hour, swell: Plane, depth: Plane) -> Plane:
    if not 0.0 <= hour.sun_y < 0.7:
        return water
    width = water.shape[1]
    across = np.linspace(0.0, 1.0, width, dtype=np.float32)[None, :]
    spread = 0.02 + 0.07 * depth
    beam = np.exp(-(((across - hour.sun_x) / spread) ** 2))
    glints = smooth_step(0.02, 0.3, swell) * beam * 0.85
    return mix(water, hour.sun, glints.astype(np.float32))
