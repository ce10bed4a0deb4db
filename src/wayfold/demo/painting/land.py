"""Land: ridges one behind another, dunes, woods."""

from __future__ import annotations

import numpy as np

from wayfold.demo.painting.noise import Plane, make_field, make_line, mix, smooth_step
from wayfold.demo.painting.palette import Hour


def paint_ridge(
    rng: np.random.Generator,
    picture: Plane,
    top: Plane,
    colour: Plane,
    hour: Hour,
    distance: float,
    *,
    grain: float = 0.1,
    foot_mist: float = 0.0,
    snow_line: float | None = None,
) -> Plane:
    """Paint everything below ``top`` (row of the crest for each column) as one ridge.

    ``distance`` 0 is at one's feet, 1 at the horizon: the air takes colour accordingly.
    ``snow_line`` is the row above which snow lies; ``foot_mist`` how much mist gathers below.
    """
    height, width = picture.shape[:2]
    first = int(np.clip(top.min() - 3.0, 0, height - 2))
    rows = np.arange(first, height, dtype=np.float32)[:, None]
    region = picture[first:]
    inside = smooth_step(-1.0, 1.0, (rows - top[None, :]))
    depth = np.clip((rows - top[None, :]) / (height * 0.35), 0.0, 1.0)
    cells = (9.0 * (height - first) / height, 9.0)
    relief = make_field(rng, (height - first, width), cells, octaves=7, roughness=0.62)
    slope = relief - np.roll(relief, max(width // 260, 1), axis=1)
    side = np.clip(slope * 5.0 * (1.0 if hour.sun_x < 0.5 else -1.0), -1.0, 1.0)
    body = colour[None, None, :] * (1.0 + (side * 0.42 + relief * 0.5)[..., None] * grain * 4.0)
    if snow_line is not None:
        ragged = rows + relief * height * 0.16 + np.abs(side) * height * 0.05
        snow = 1.0 - smooth_step(snow_line - height * 0.05, snow_line + height * 0.03, ragged)
        bright = np.float32(0.93) + side[..., None] * np.float32(0.1)
        body = mix(body, bright * np.array([0.97, 0.98, 1.0], dtype=np.float32), snow * 0.9)
    body = body * hour.warmth * np.float32(hour.light) * (1.0 - depth[..., None] * 0.22)
    air = hour.haze * distance**0.8
    body = mix(body, mix(hour.horizon, hour.zenith, 0.25), air)
    body = mix(body, hour.horizon, depth * foot_mist)
    picture[first:] = mix(region, np.clip(body, 0.0, 1.0), inside)
    return picture


def make_crest(
    rng: np.random.Generator,
    shape: tuple[int, int],
    level: float,
    swing: float,
    waves: float,
    *,
    sharp: float = 0.0,
    roughness: float = 0.5,
) -> Plane:
    """Give a crest line as rows; ``level`` and ``swing`` in fractions of the height.

    ``sharp`` from 0 (rolling) to 1 (broken rock): ridged noise has its creases upwards.
    """
    height, width = shape
    line = make_line(rng, width, waves, octaves=9 if sharp else 6, roughness=roughness)
    creased = 1.0 - 2.0 * np.abs(make_line(rng, width, waves * 1.7, octaves=9, roughness=0.48))
    line = (1.0 - sharp) * line + sharp * creased.astype(np.float32)
    return np.asarray((level - swing * line) * height, dtype=np.float32)


def paint_dune(
    rng: np.random.Generator,
    picture: Plane,
    level: float,
    colour: Plane,
    hour: Hour,
    distance: float,
) -> Plane:
    """Paint one dune: a smooth crest, a lit and a shaded face, ripples of the wind."""
    height, width = picture.shape[:2]
    top = make_crest(rng, (height, width), level, 0.16, 1.3, roughness=0.22)
    rows = np.arange(height, dtype=np.float32)[:, None]
    columns = np.arange(width, dtype=np.float32)[None, :]
    # The edge between the faces runs down from the crest in a slow curve.
    peak = float(np.argmin(top))
    lean = np.clip((rows - top.min()) / height, 0.0, 1.0)
    bend = peak + (lean**0.75) * width * 0.33 + 40.0 * np.sin(lean * 9.0)
    shaded = smooth_step(-width * 0.004, width * 0.02, (columns - bend).astype(np.float32))
    if hour.sun_x > 0.5:
        shaded = 1.0 - shaded
    wave = make_field(rng, (height, width), (3.0, 3.0), octaves=3)
    ripples = np.sin((rows * 0.11 + columns * 0.015) * (1800 / width) * 1.6 + wave * 14.0)
    body = colour[None, None, :] * (1.0 - 0.5 * shaded[..., None])
    body = body * (1.0 + ripples[..., None] * 0.035 * (1.0 - distance)) * hour.warmth
    body = mix((body * hour.light).astype(np.float32), hour.horizon, hour.haze * distance**1.2)
    inside = smooth_step(-1.2, 1.2, rows - top[None, :])
    return mix(picture, np.clip(body, 0.0, 1.0).astype(np.float32), inside)


def paint_trunks(
    rng: np.random.Generator, picture: Plane, count: int, foot: float, width: float, tone: Plane
) -> Plane:
    """Paint ``count`` tree trunks standing at ``foot`` (fraction down), ``width`` px wide."""
    height, columns = picture.shape[:2]
    at = np.arange(columns, dtype=np.float32)
    rows = np.arange(height, dtype=np.float32)[:, None]
    stems = np.sort((np.arange(count) + rng.uniform(0.1, 0.9, count)) / count) * columns
    for stem in stems:
        girth = width * rng.uniform(0.6, 1.3)
        lean = rng.normal(0.0, 0.012)
        end = (foot + rng.uniform(-0.03, 0.03)) * height
        left = max(int(stem - girth * 3 - abs(lean) * height), 0)
        right = min(int(stem + girth * 3 + abs(lean) * height) + 1, columns)
        if right <= left:
            continue
        axis = stem + lean * (end - rows)
        flare = girth * (1.0 + 0.9 * np.exp(-np.clip(end - rows, 0.0, None) / (girth * 2.2)))
        offset = (at[None, left:right] - axis) / flare
        cover = (1.0 - smooth_step(0.8, 1.0, np.abs(offset))) * (rows < end)
        light = 1.0 - 0.45 * np.clip(offset + 0.2, -1.0, 1.0)
        bark = tone[None, None, :] * light[..., None]
        bark = bark * rng.uniform(0.86, 1.1, (height, 1, 1)).astype(np.float32)
        region = picture[:, left:right]
        picture[:, left:right] = mix(region, bark.astype(np.float32), cover.astype(np.float32))
    return picture
