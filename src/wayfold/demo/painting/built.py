"""What people have put into the landscape: towers, houses on a slope, boats."""

from __future__ import annotations

import numpy as np
from PIL import Image, ImageDraw

from wayfold.demo.painting.noise import Plane, mix
from wayfold.demo.painting.palette import Hour, colour

WALLS = tuple(colour(c) for c in ("d8c3a0", "c9a27c", "e3d3bd", "b98f70", "cfb8a6", "d9a98a"))
ROOF = colour("a5593c")
LAMP = colour("ffd98a")


def paint_towers(
    rng: np.random.Generator, picture: Plane, hour: Hour, foot: float, count: int, distance: float
) -> Plane:
    """Paint a row of towers standing on ``foot`` (fraction down), with windows lit by the hour.

    The middle of the picture gets only low ones: a book folds there.
    """
    height, width = picture.shape[:2]
    base = colour("5d6673") * hour.warmth * np.float32(hour.light)
    base = mix(base, mix(hour.horizon, hour.zenith, 0.3), hour.haze * distance)
    edges = np.sort(rng.uniform(-0.02, 1.02, count))
    for left in edges:
        wide = int(width * rng.uniform(0.022, 0.06) * (1.2 - 0.5 * distance))
        tall = rng.gamma(2.2, 0.07) + 0.05
        if abs(left + wide / width / 2 - 0.5) < 0.09:
            tall = min(tall, 0.1)
        x0 = int(left * width)
        top, bottom = int((foot - min(tall, 0.42)) * height), int(foot * height)
        _paint_tower(rng, picture[top:bottom, max(x0, 0) : max(x0 + wide, 0)], base, hour, distance)
    return picture


def _paint_tower(
    rng: np.random.Generator, region: Plane, base: Plane, hour: Hour, distance: float
) -> None:
    rows, columns = region.shape[:2]
    if rows < 8 or columns < 8:
        return
    face = base * np.float32(rng.uniform(0.8, 1.2))
    shade = np.linspace(1.06, 0.86, columns, dtype=np.float32)[None, :, None]
    region[:] = np.clip(face[None, None, :] * shade, 0.0, 1.0)
    storey, bay = max(rows // int(rng.integers(14, 34)), 7), max(columns // 7, 6)
    for y in range(storey // 2, rows - storey, storey):
        for x in range(bay // 2, columns - bay // 2, bay):
            lit = rng.random() < hour.windows * 0.75
            pane = LAMP * np.float32(rng.uniform(0.75, 1.0)) if lit else face * 0.72
            strength = (0.95 if lit else 0.6) * (1.0 - 0.4 * distance)
            patch = region[y : y + int(storey * 0.55), x : x + int(bay * 0.6)]
            patch[:] = mix(patch, pane.astype(np.float32), strength)


def paint_houses(
    rng: np.random.Generator, picture: Plane, hour: Hour, top: Plane, foot: float, rows: int
) -> Plane:
    """Paint houses in steps between a slope's crest ``top`` (rows) and ``foot`` (fraction down)."""
    height, width = picture.shape[:2]
    for step in range(rows):
        share = (step + 1) / rows
        size = height * (0.022 + 0.03 * share)
        x = -size * rng.random()
        while x < width:
            wide = size * rng.uniform(0.7, 1.5)
            tall = size * rng.uniform(0.9, 2.0)
            column = int(np.clip(x + wide / 2, 0, width - 1))
            crest = float(top[column]) + height * 0.06
            ground = crest + (foot * height - crest) * share
            if rng.random() < 0.72 and ground - tall > crest:
                box = (int(x), int(ground - tall), int(x + wide), int(ground))
                _paint_house(rng, picture, box, hour)
            x += wide * rng.uniform(0.95, 1.6)
    return picture


def _paint_house(
    rng: np.random.Generator, picture: Plane, box: tuple[int, int, int, int], hour: Hour
) -> None:
    left, top, right, bottom = max(box[0], 0), box[1], box[2], box[3]
    region = picture[top:bottom, left:right]
    if region.shape[0] < 8 or region.shape[1] < 8:
        return
    wall = WALLS[int(rng.integers(len(WALLS)))] * hour.warmth * np.float32(hour.light)
    region[:] = np.clip(wall, 0.0, 1.0)
    region[:, -max(region.shape[1] // 4, 1) :] *= 0.8
    roof = max(region.shape[0] // 7, 3)
    region[:roof] = np.clip(ROOF * hour.warmth * np.float32(hour.light), 0.0, 1.0)
    gap = max(region.shape[1] // 4, 7)
    for y in range(roof + gap // 2, region.shape[0] - gap, gap):
        for x in range(gap // 2, region.shape[1] - gap // 2, gap):
            lit = rng.random() < hour.windows
            patch = region[y : y + gap // 2, x : x + gap // 3]
            patch[:] = LAMP if lit else wall * 0.5


def paint_boats(
    rng: np.random.Generator, picture: Plane, hour: Hour, shore: float, count: int
) -> Plane:
    """Paint sailing boats on the water below ``shore``, each with its reflection."""
    height, width = picture.shape[:2]
    sail_tone = np.clip(colour("f4ede0") * hour.warmth * (hour.light + 0.12), 0.0, 1.0)
    hull_tone = colour("3a3f49") * np.float32(0.4 + 0.5 * hour.light)
    sides = np.where(rng.random(count) < 0.5, rng.uniform(0.06, 0.36, count), 0.0)
    places = np.where(sides > 0, sides, rng.uniform(0.64, 0.94, count))
    for x, near in sorted(
        zip(places, rng.uniform(0.04, 1.0, count) ** 1.6, strict=True), key=_near
    ):
        size = height * (0.03 + 0.15 * near)
        line = (shore + 0.015 + (0.9 - shore) * near * 0.75) * height
        picture = _paint_boat(rng, picture, (x * width, line, size), sail_tone, hull_tone)
    return picture


def _near(boat: tuple[float, float]) -> float:
    return boat[1]


def _paint_boat(
    rng: np.random.Generator,
    picture: Plane,
    at: tuple[float, float, float],
    sail_tone: Plane,
    hull_tone: Plane,
) -> Plane:
    x, line, size = at
    heel, way = rng.uniform(-0.06, 0.1), rng.choice((-1.0, 1.0))
    mast = (x + heel * size * way, line - 1.25 * size)
    sail = [
        mast,
        (x + way * 0.03 * size, line - 0.12 * size),
        (x - way * 0.6 * size, line - 0.14 * size),
    ]
    jib = [
        (mast[0], mast[1] + 0.16 * size),
        (x + way * 0.06 * size, line - 0.12 * size),
        (x + way * 0.5 * size, line - 0.12 * size),
    ]
    hull = [
        (x - 0.55 * size, line - 0.1 * size),
        (x + 0.58 * way * size, line - 0.12 * size),
        (x + 0.4 * size, line),
        (x - 0.42 * size, line),
    ]
    if way < 0:
        hull[0] = (x + 0.55 * size, line - 0.1 * size)
    picture = _fill(picture, hull, hull_tone, 1.0)
    picture = _fill(picture, sail, sail_tone, 0.97)
    picture = _fill(picture, jib, sail_tone * 0.93, 0.95)
    for shape, tone, strength in ((sail, sail_tone, 0.3), (hull, hull_tone, 0.5)):
        below = [(px, line + (line - py) * 0.72) for px, py in shape]
        picture = _fill(picture, below, tone, strength)
    return picture


def _fill(picture: Plane, points: list[tuple[float, float]], tone: Plane, strength: float) -> Plane:
    height, width = picture.shape[:2]
    left = int(np.clip(min(p[0] for p in points) - 2, 0, width))
    right = int(np.clip(max(p[0] for p in points) + 3, 0, width))
    top = int(np.clip(min(p[1] for p in points) - 2, 0, height))
    bottom = int(np.clip(max(p[1] for p in points) + 3, 0, height))
    if right <= left or bottom <= top:
        return picture
    # Drawn four times as large and shrunk, so that the edges are smooth.
    mask = Image.new("L", ((right - left) * 4, (bottom - top) * 4))
    ImageDraw.Draw(mask).polygon([((px - left) * 4, (py - top) * 4) for px, py in points], fill=255)
    cover = np.asarray(mask.resize((right - left, bottom - top), Image.Resampling.BOX)) / 255.0
    region = picture[top:bottom, left:right]
    picture[top:bottom, left:right] = mix(region, tone, (cover * strength).astype(np.float32))
    return picture
