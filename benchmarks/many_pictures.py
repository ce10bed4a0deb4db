"""A book of thousands of small pictures from two cameras and a telephone, for the desk's figures.

``python -m benchmarks.many_pictures [BOOK]`` opens a book once, which takes minutes if its pictures
were not read and looked at before.

The pictures are soft fields of colour with grain, all different, with EXIF times and places along
a coast; they are small, because the desk never reads a picture whole. They are kept, with the
book and its cache.
"""

from __future__ import annotations

import random
import sys
from datetime import timedelta
from multiprocessing import get_context
from pathlib import Path

import numpy as np

from benchmarks.pictures import FIRST_DAY, TOWNS, add_exif, keep_folder
from wayfold.app.new import begin_book, decide_by_path
from wayfold.app.session import Session
from wayfold.base.progress import NoProgress
from wayfold.book.edits import SetText
from wayfold.book.state import PhotoChoice, Pick
from wayfold.project.files import BookFolder
from wayfold.project.store import write_edit

MANY = 5000
DAYS = 24
CAMERAS = (("Halden", "H7"), ("Orsk", "B20"), ("Kestle", "Pocket 3"))
LONG_PX, SHORT_PX = 960, 640
FIELD = (9, 6)
"""Patches of colour across and down a picture."""
GRAIN = 6.0
WORKERS = 2
FOREWORD = "We followed the coast and kept the sea on one side.\n"


def make_small(count: int = MANY) -> Path:
    """Give the folder of ``count`` small pictures; those that are there are not made again."""
    photographs = keep_folder() / f"many-{count}" / "photographs"
    photographs.mkdir(parents=True, exist_ok=True)
    works = [(n, count, photographs / f"P{10000 + n}.JPG") for n in range(count)]
    missing = [work for work in works if not work[2].is_file()]
    if missing:
        with get_context("spawn").Pool(WORKERS) as pool:
            pool.map(_take, missing, chunksize=50)
    return photographs


def make_book(count: int = MANY) -> Path:
    """Give the folder of a book of ``count`` pictures; what is there is not made again."""
    photographs = make_small(count)
    root = photographs.parent / "book"
    if not (root / "book.toml").is_file():
        begin_book(root, "The Long Coast", [photographs])
        files = sorted(photographs.glob("*.JPG"))
        choices = {path: _choose(number) for number, path in enumerate(files)}
        decide_by_path(root, choices, NoProgress())
        write_edit(BookFolder(root), SetText("foreword", FOREWORD))
    return root


def open_book(root: Path) -> None:
    """Open a book as the desk does, and put it away: what it needs is read, and kept."""
    Session.open(root, NoProgress()).close()


def _take(work: tuple[int, int, Path]) -> None:
    """Write one picture: patches of colour run into each other, and grain over all."""
    import pyvips

    number, count, target = work
    chance = np.random.default_rng(number)
    upright = number % 4 == 3
    columns, rows = FIELD[::-1] if upright else FIELD
    size = (SHORT_PX, LONG_PX) if upright else (LONG_PX, SHORT_PX)
    tone = chance.uniform(60, 200, size=3)
    patches = np.clip(tone + chance.normal(0, 40, size=(rows, columns, 3)), 0, 255)
    field = pyvips.Image.new_from_array(patches.astype(np.uint8), interpretation="srgb")
    image = field.resize(size[0] / columns, vscale=size[1] / rows, kernel="cubic")
    grain = pyvips.Image.gaussnoise(*size, sigma=GRAIN, mean=0, seed=number)
    image = (image + grain).cast("uchar").copy(interpretation="srgb")
    data = bytes(image.jpegsave_buffer(Q=80, keep="none"))
    jitter = random.Random(number)
    day, share = divmod(number * DAYS / count, 1.0)
    taken = FIRST_DAY + timedelta(days=day, hours=9.0 + 10.0 * share + jitter.uniform(0.0, 0.1))
    south, west = TOWNS[number * len(TOWNS) // count]
    place = (south + jitter.uniform(-0.01, 0.01), west + jitter.uniform(-0.01, 0.01))
    part = target.with_suffix(".part")
    part.write_bytes(add_exif(data, taken, place, CAMERAS[number % len(CAMERAS)]))
    part.replace(target)


def _choose(number: int) -> PhotoChoice:
    """Decide on every twentieth picture by hand; of the others the book proposes its share."""
    if number % 20:
        return PhotoChoice()
    pick = Pick.HERO if number % 400 == 0 else Pick.TAKE
    alone, leaf = number % 500 == 140, number % 1000 == 60
    words = f"Picture {number}, on the way"
    return PhotoChoice(pick, caption=words, alone=alone, interleaf=leaf)


if __name__ == "__main__":
    open_book(Path(sys.argv[1]) if len(sys.argv) > 1 else make_book())
