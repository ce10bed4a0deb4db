"""The scenes the demo can paint, each put together from sky, land, water and what is built."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from wayfold.demo.painting.built import paint_boats, paint_houses, paint_towers
from wayfold.demo.painting.land import make_crest, paint_dune, paint_ridge, paint_trunks
from wayfold.demo.painting.noise import Plane, make_field, mix
from wayfold.demo.painting.palette import Hour, colour
from wayfold.demo.painting.sky import paint_sky
from wayfold.demo.painting.water import paint_water

Painter = Callable[[np.random.Generator, tuple[int, int], Hour], Plane]

ROCK, PINE, GRASS = colour("7d7f86"), colour("3d5244"), colour("71803f")
RUST, EARTH, SAND = colour("9c6233"), colour("8a6a45"), colour("d99a58")


def _paint_mountains(rng: np.random.Generator, shape: tuple[int, int], hour: Hour) -> Plane:
    picture = paint_sky(rng, shape, hour, 0.72, rng.uniform(0.15, 0.5))
    for level, swing, distance in ((0.5, 0.16, 0.95), (0.5, 0.24, 0.62), (0.58, 0.17, 0.4)):
        crest = make_crest(rng, shape, level, swing, 2.0, sharp=0.75)
        snow = (level - swing * 0.05) * shape[0] if distance < 0.9 else None
        picture = paint_ridge(
            rng, picture, crest, ROCK, hour, distance, grain=0.16, foot_mist=0.5, snow_line=snow
        )
    picture = paint_ridge(
        rng, picture, make_crest(rng, shape, 0.76, 0.07, 2.4), PINE, hour, 0.2, foot_mist=0.2
    )
    return paint_ridge(rng, picture, make_crest(rng, shape, 0.88, 0.06, 1.2), GRASS, hour, 0.0)


def _paint_hills(rng: np.random.Generator, shape: tuple[int, int], hour: Hour) -> Plane:
    picture = paint_sky(rng, shape, hour, 0.66, rng.uniform(0.3, 0.75))
    tones = [PINE, RUST, GRASS, PINE, EARTH, GRASS]
    for i, tone in enumerate(tones):
        share = i / (len(tones) - 1)
        crest = make_crest(rng, shape, 0.52 + 0.37 * share, 0.07 + 0.02 * share, 1.6)
        picture = paint_ridge(rng, picture, crest, tone, hour, 0.95 * (1.0 - share), foot_mist=0.15)
    return picture


def _paint_valley(rng: np.random.Generator, shape: tuple[int, int], hour: Hour) -> Plane:
    picture = paint_sky(rng, shape, hour, 0.62, rng.uniform(0.1, 0.4))
    for i in range(7):
        share = i / 6
        crest = make_crest(rng, shape, 0.45 + 0.46 * share, 0.1 - 0.03 * share, 2.2, sharp=0.25)
        tone = mix(PINE, RUST, float(rng.uniform(0.0, 0.35)))
        picture = paint_ridge(
            rng, picture, crest, tone, hour, 1.0 - share * 0.95, foot_mist=0.85 - 0.3 * share
        )
    return picture


def _paint_forest(rng: np.random.Generator, shape: tuple[int, int], hour: Hour) -> Plane:
    height, width = shape
    pale = mix(hour.horizon, colour("a8bfa0"), 0.45) * np.float32(0.6 + 0.4 * hour.light)
    across = np.linspace(-1.0, 1.0, width, dtype=np.float32)[None, :]
    down = np.linspace(0.0, 1.0, height, dtype=np.float32)[:, None]
    glow = np.exp(-(((across + 0.4) / 0.6) ** 2) - ((down - 0.45) / 0.5) ** 2)
    picture = mix(pale * 0.55, np.clip(pale * 1.15, 0.0, 1.0), np.broadcast_to(glow, shape))
    leaves = make_field(rng, shape, (26.0, 34.0), octaves=6, roughness=0.7)
    crown = np.clip(leaves * 2.4 + 0.3, 0.0, 1.0) * np.clip(1.15 - down * 2.1, 0.0, 1.0)
    foliage = colour("5c6b33") if hour.sun_x < 0.5 else colour("96622c")
    for i in range(6):
        share = i / 5
        dark = mix(pale * 0.8, colour("20231d") * hour.warmth, 0.2 + 0.75 * share)
        foot = 0.66 + 0.3 * share
        crest = make_crest(rng, shape, foot - 0.05, 0.02, 5.0)
        ground = mix(pale * 0.8, mix(PINE, foliage, 0.5) * np.float32(0.7), 0.25 + 0.7 * share)
        rows = np.arange(height, dtype=np.float32)[:, None]
        floor = make_field(rng, shape, (60.0, 40.0), octaves=4) * 0.35 + 1.0
        picture = mix(
            picture, ground * floor[..., None], (rows > crest[None, :]).astype(np.float32)
        )
        picture = paint_trunks(
            rng, picture, 34 - 5 * i, foot, width * (0.0028 + 0.008 * share), dark
        )
    picture = mix(picture, foliage * np.float32(hour.light), (crown * 0.55).astype(np.float32))
    return np.clip(picture, 0.0, 1.0).astype(np.float32)


def _paint_dunes(rng: np.random.Generator, shape: tuple[int, int], hour: Hour) -> Plane:
    picture = paint_sky(rng, shape, hour, 0.6, rng.uniform(0.0, 0.25))
    for level, distance in ((0.56, 0.85), (0.66, 0.5), (0.8, 0.15), (0.98, 0.0)):
        picture = paint_dune(rng, picture, level, SAND, hour, distance)
    return picture


def _paint_sea(rng: np.random.Generator, shape: tuple[int, int], hour: Hour) -> Plane:
    shore = float(rng.uniform(0.52, 0.62))
    picture = paint_sky(rng, shape, hour, shore, rng.uniform(0.3, 0.8))
    return paint_water(rng, picture, hour, shore, 0.85)


def _paint_lake(rng: np.random.Generator, shape: tuple[int, int], hour: Hour) -> Plane:
    shore = 0.6
    picture = paint_sky(rng, shape, hour, shore, rng.uniform(0.2, 0.5))
    back = make_crest(rng, shape, 0.4, 0.16, 1.8, sharp=0.7)
    picture = paint_ridge(
        rng, picture, back, ROCK, hour, 0.6, grain=0.16, foot_mist=0.4, snow_line=0.4 * shape[0]
    )
    for level, distance in ((0.52, 0.4), (0.575, 0.22)):
        crest = make_crest(rng, shape, level, 0.035, 2.5)
        picture = paint_ridge(rng, picture, crest, PINE, hour, distance)
    return paint_water(rng, picture, hour, shore, 0.12)


def _paint_boats_scene(rng: np.random.Generator, shape: tuple[int, int], hour: Hour) -> Plane:
    shore = 0.5
    picture = paint_sky(rng, shape, hour, shore, rng.uniform(0.2, 0.6))
    for level, distance in ((0.44, 0.85), (0.475, 0.6)):
        crest = make_crest(rng, shape, level, 0.03, 2.0)
        picture = paint_ridge(rng, picture, crest, PINE, hour, distance)
    picture = paint_water(rng, picture, hour, shore, 0.4)
    return paint_boats(rng, picture, hour, shore, int(rng.integers(4, 8)))


def _paint_city(rng: np.random.Generator, shape: tuple[int, int], hour: Hour) -> Plane:
    picture = paint_sky(rng, shape, hour, 0.75, rng.uniform(0.1, 0.6))
    hills = make_crest(rng, shape, 0.6, 0.04, 1.5)
    picture = paint_ridge(rng, picture, hills, PINE, hour, 0.9)
    for foot, count, distance in ((0.72, 40, 0.85), (0.82, 34, 0.5), (0.95, 26, 0.15)):
        picture = paint_towers(rng, picture, hour, foot, count, distance)
        crest = make_crest(rng, shape, foot - 0.015, 0.008, 9.0)
        picture = paint_ridge(rng, picture, crest, colour("4b5046"), hour, distance)
    return picture


def _paint_coast(rng: np.random.Generator, shape: tuple[int, int], hour: Hour) -> Plane:
    shore = 0.78
    picture = paint_sky(rng, shape, hour, 0.6, rng.uniform(0.1, 0.4))
    back = make_crest(rng, shape, 0.36, 0.1, 1.6, sharp=0.3)
    picture = paint_ridge(rng, picture, back, ROCK, hour, 0.6, grain=0.14)
    slope = make_crest(rng, shape, 0.46, 0.07, 1.3)
    picture = paint_ridge(rng, picture, slope, PINE, hour, 0.15)
    picture = paint_houses(rng, picture, hour, slope, shore, 9)
    picture = paint_water(rng, picture, hour, shore, 0.35)
    return paint_boats(rng, picture, hour, shore, 4)


SCENES: dict[str, Painter] = {
    "mountains": _paint_mountains,
    "hills": _paint_hills,
    "valley": _paint_valley,
    "forest": _paint_forest,
    "dunes": _paint_dunes,
    "sea": _paint_sea,
    "lake": _paint_lake,
    "boats": _paint_boats_scene,
    "city": _paint_city,
    "coast": _paint_coast,
}
