"""Whether the sharp one of two pictures nearly alike is proposed: a simulation.

``python -m benchmarks.series FOLDER…`` takes every JPEG and PNG in the folders, at most 4000 px
long. Of each, frames are cut up to 1 % apart, as by hand; all but the first are blurred, by a
Gaussian or drawn out along one direction as by a moving hand. All are saved as JPEG and looked at.
"""

from __future__ import annotations

import random
import sys
import tempfile
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import numpy as np
from PIL import Image, ImageFilter

from wayfold.photos.looking import see
from wayfold.photos.model import Photo, SizePx
from wayfold.story.entries import Entry
from wayfold.story.ranking import rank_alike

LONGEST_PX = 4000
WHEN = datetime(2025, 6, 2, 9)


def blur(sigma: float) -> Callable[[Image.Image], Image.Image]:
    return lambda picture: picture.filter(ImageFilter.GaussianBlur(sigma))


def draw_out(length_px: int) -> Callable[[Image.Image], Image.Image]:
    def move(picture: Image.Image) -> Image.Image:
        sums = sum(
            np.roll(np.asarray(picture, dtype=np.float32), i, axis=1) for i in range(length_px)
        )
        return Image.fromarray((np.asarray(sums) / length_px).astype(np.uint8))

    return move


HARMS = {
    "Gaussian, 1 px": blur(1.0),
    "Gaussian, 1.5 px": blur(1.5),
    "Gaussian, 3 px": blur(3.0),
    "drawn out, 5 px": draw_out(5),
    "drawn out, 12 px": draw_out(12),
}


def cut_frame(picture: Image.Image, chance: random.Random) -> Image.Image:
    width, height = picture.size
    left, top = (0.02 + chance.uniform(-0.01, 0.01) for _ in range(2))
    return picture.crop(
        (round(left * width), round(top * height), *(round((s + 0.96) * n) for s, n in
         ((left, width), (top, height))))
    )  # fmt: skip


def look_at(picture: Image.Image, name: str, folder: Path) -> Photo:
    path = folder / f"{name}.jpg"
    picture.save(path, quality=92)
    photo = Photo(name, name, str(path), SizePx(*picture.size))
    seen = see(photo)
    return replace(photo, look=seen.look if seen else None)


def measure(folders: list[Path], seed: int = 1) -> dict[str, tuple[int, int, int]]:
    """Give for each harm: the sharp one proposed for its sharpness, undecided, the other one."""
    chance = random.Random(seed)
    found = {name: [0, 0, 0] for name in HARMS}
    files = [f for d in folders for f in sorted(d.rglob("*")) if f.suffix in (".jpg", ".png")]
    with tempfile.TemporaryDirectory() as scratch:
        for file in files:
            with Image.open(file) as image:
                picture = image.convert("RGB")
            picture.thumbnail((LONGEST_PX, LONGEST_PX))
            sharp = look_at(cut_frame(picture, chance), "sharp", Path(scratch))
            for name, harm in HARMS.items():
                soft = look_at(harm(cut_frame(picture, chance)), "soft", Path(scratch))
                pair = [(Entry(p.id, WHEN, 0, p.size.aspect, 0), p) for p in (sharp, soft)]
                first = rank_alike(pair)[0]
                decided = first.ahead is not None
                found[name][0 if first.entry.photo == "sharp" else 2 if decided else 1] += 1
    return {name: (a, b, c) for name, (a, b, c) in found.items()}


if __name__ == "__main__":
    print("| second frame | the sharp one | undecided | the other |\n|---|--:|--:|--:|")
    for name, counts in measure([Path(a) for a in sys.argv[1:]]).items():
        print(f"| {name} | {' | '.join(map(str, counts))} |")
