"""Sky: a gradient, a sun or moon with its glow, clouds, stars."""

from __future__ import annotations

import numpy as np

from wayfold.demo.painting.noise import Plane, make_field, mix, smooth_step
from wayfold.demo.painting.palette import Hour


def paint_sky(
    rng: np.random.Generator, shape: tuple[int, int], hour: Hour, horizon: float, cloudiness: float
) -> Plane:
    """Paint the sky; ``horizon`` is its lower edge as a fraction of the height, from the top.

    ``cloudiness`` runs from 0 (clear) to 1 (covered). Rows below the horizon take its colour.
    """
    height, width = shape
    down = np.linspace(0.0, 1.0, height, dtype=np.float32)[:, None] / horizon
    across = np.linspace(0.0, 1.0, width, dtype=np.float32)[None, :]
    rise = np.clip(down, 0.0, 1.0) ** 1.5
    picture = mix(hour.zenith, hour.horizon, np.broadcast_to(rise, shape))
    aspect = width / height
    distance = np.hypot((across - hour.sun_x) * aspect, down * horizon - hour.sun_y)
    glow = np.exp(-((distance / 0.42) ** 2)) * 0.55 + np.exp(-((distance / 0.13) ** 2)) * 0.4
    picture = mix(picture, hour.sun, glow.astype(np.float32))
    if hour.stars:
        _add_stars(rng, picture, hour.stars, horizon)
    disc = 1.0 - smooth_step(0.021, 0.0235, distance.astype(np.float32))
    picture = mix(picture, np.minimum(hour.sun * 1.05, 1.0).astype(np.float32), disc)
    return _add_clouds(rng, picture, hour, down, glow.astype(np.float32), cloudiness)


def _add_clouds(
    rng: np.random.Generator, picture: Plane, hour: Hour, down: Plane, glow: Plane, amount: float
) -> Plane:
    shape = (picture.shape[0], picture.shape[1])
    field = make_field(rng, shape, (7.0, 3.0), octaves=7, roughness=0.55)
    # The same field a little higher tells which side of a cloud faces the light.
    lit = np.clip(0.5 + (field - np.roll(field, -max(shape[0] // 60, 1), axis=0)) * 2.2, 0.0, 1.0)
    cover = smooth_step(0.34 - 0.5 * amount, 0.66 - 0.3 * amount, field)
    cover = cover * np.clip(1.2 - down, 0.0, 1.0) * min(0.35 + amount, 0.92)
    shade = mix(hour.zenith * 0.86 + 0.08, hour.cloud, lit)
    shade = mix(shade, hour.sun, np.clip(glow * 0.7, 0.0, 0.6))
    return mix(picture, shade, cover.astype(np.float32))


def _add_stars(rng: np.random.Generator, picture: Plane, count: int, horizon: float) -> None:
    height, width = picture.shape[:2]
    rows = (rng.power(1.6, count) * -height * horizon * 0.8 + height * horizon * 0.8).astype(int)
    columns = rng.integers(2, width - 3, count)
    for row, column, strength in zip(rows, columns, rng.uniform(0.25, 0.95, count), strict=True):
        size = 1 + int(strength > 0.8)
        patch = picture[max(row, 0) : row + 1 + size, column : column + 1 + size]
        patch += np.float32(strength) * (1.0 - patch)
