"""Pictures nearly alike told from others: precision and recall on simulated hand-held repeats.

``python -m benchmarks.likeness FOLDER…`` takes every JPEG in the folders as a scene of its own. Of
each, repeats are made as by hand: up to 6 % nearer or farther, 1 % aside, 1 degree turned, 15 %
lighter or darker, grain of sigma 4; one to three of them, half within 8 s and half within 8
minutes. Between scenes, 4 to 200 s pass, so that only likeness tells them apart.
"""

from __future__ import annotations

import random
import statistics
import sys
from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import combinations
from pathlib import Path

import numpy as np
from PIL import Image, ImageEnhance, ImageOps

from wayfold.photos.likeness import count_unlike, hash_likeness
from wayfold.photos.model import Camera, CaptureTime, Photo, SizePx
from wayfold.photos.sets import find_sets

SIDE_PX = 640


def simulate_repeat(picture: Image.Image, rng: random.Random) -> Image.Image:
    """Give the picture as taken again by hand a moment later."""
    width, height = picture.size
    zoom, turn = rng.uniform(0.94, 1.06), rng.uniform(-1.0, 1.0)
    turned = picture.rotate(turn, Image.Resampling.BICUBIC)
    # Both are cut by a margin, so that no edge of turning or moving is seen.
    share = 0.88 / zoom
    left = (1 - share) / 2 + rng.uniform(-0.01, 0.01)
    top = (1 - share) / 2 + rng.uniform(-0.01, 0.01)
    box = (left * width, top * height, (left + share) * width, (top + share) * height)
    cut = turned.resize(picture.size, Image.Resampling.BICUBIC, box=box)
    light = ImageEnhance.Brightness(cut).enhance(rng.uniform(0.85, 1.15))
    grain = np.random.default_rng(rng.randrange(2**32)).normal(0, 4, (height, width))
    return Image.fromarray(np.clip(np.asarray(light) + grain, 0, 255).astype(np.uint8))


def cut_original(picture: Image.Image) -> Image.Image:
    """Give the picture cut by the same margin as its repeats."""
    width, height = picture.size
    box = (0.06 * width, 0.06 * height, 0.94 * width, 0.94 * height)
    return picture.resize(picture.size, Image.Resampling.BICUBIC, box=box)


def measure(folders: Sequence[Path], seed: int = 1) -> dict[str, float]:
    """Give what was found, over all pairs of pictures taken within ten minutes."""
    rng = random.Random(seed)
    photos: list[Photo] = []
    likeness: dict[str, str] = {}
    scene: dict[str, int] = {}
    when = datetime(2025, 6, 2, 9)
    scenes = [p for f in folders for p in sorted(f.iterdir()) if p.suffix.lower() == ".jpg"]
    rng.shuffle(scenes)
    for number, path in enumerate(scenes):
        with Image.open(path) as image:
            image.draft("L", (SIDE_PX, SIDE_PX))
            picture = ImageOps.exif_transpose(image).convert("L")
            picture.thumbnail((SIDE_PX, SIDE_PX))
        when += timedelta(seconds=rng.uniform(4, 200))
        views = [cut_original(picture)]
        views += [simulate_repeat(picture, rng) for _ in range(rng.randint(1, 3))]
        reach = 8.0 if number % 2 else 480.0 / len(views)
        for view in views:
            name = f"{number:04}-{len(photos)}"
            likeness[name] = hash_likeness(np.asarray(view))
            scene[name] = number
            size = SizePx(view.width * 8, view.height * 8)
            taken = CaptureTime(when.replace(microsecond=0))
            photos.append(Photo(name, name, f"/{name}", size, taken=taken, camera=Camera("C")))
            when += timedelta(seconds=rng.uniform(1, reach))
    pairs = [
        (one, other)
        for one, other in combinations(photos, 2)
        if one.taken and other.taken
        and abs((one.taken.local - other.taken.local).total_seconds()) <= 600
    ]  # fmt: skip
    true = {(a.id, b.id) for a, b in pairs if scene[a.id] == scene[b.id]}
    found = {pair for group in find_sets(photos, likeness).alike for pair in combinations(group, 2)}
    same = [count_unlike(likeness[a], likeness[b]) for a, b in true]
    other = [
        count_unlike(likeness[a.id], likeness[b.id]) for a, b in pairs if scene[a.id] != scene[b.id]
    ]
    return {
        "scenes": len(scenes),
        "pictures": len(photos),
        "pairs alike": len(true),
        "pairs unlike": len(other),
        "bits alike, median": statistics.median(same),
        "bits alike, 95 %": float(np.quantile(same, 0.95)),
        "bits unlike, least": min(other),
        "bits unlike, 1 %": float(np.quantile(other, 0.01)),
        "precision": len(found & true) / max(1, len(found)),
        "recall": len(found & true) / len(true),
    }


if __name__ == "__main__":
    for what, value in measure([Path(a) for a in sys.argv[1:]]).items():
        print(f"| {what} | {value:.3g} |")
