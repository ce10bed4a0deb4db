"""Reading and looking at photographs, against making thumbnails of them and nothing else.

``python -m benchmarks.looking [FOLDER]`` (default: 60 painted ones of 24 megapixels) prints a
table. The floor is a thumbnail of 512 px of each, decoded by Pillow as small as the file allows and
written as JPEG, in one process. Every figure is of the same minutes, each from a fresh process,
and is the least of several: other work on the machine only adds.
"""

from __future__ import annotations

import io
import sys
import tempfile
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path

from PIL import Image

from benchmarks.measure import Taken, run
from benchmarks.pictures import make_pictures
from wayfold.app.looks import look_at
from wayfold.base.cache import NoCache
from wayfold.base.progress import NoProgress
from wayfold.photos.catalogue import Catalogue
from wayfold.photos.read import read_photographs
from wayfold.project.files import BookFolder

PICTURES, ROUNDS, THUMBNAIL_PX = 60, 2, 512


def make_thumbnail(path: Path) -> int:
    """Make a thumbnail; give its bytes."""
    with Image.open(path) as image:
        image.draft("RGB", (THUMBNAIL_PX, THUMBNAIL_PX))
        image.thumbnail((THUMBNAIL_PX, THUMBNAIL_PX))
        file = io.BytesIO()
        image.convert("RGB").save(file, "JPEG", quality=85)
    return len(file.getvalue())


def make_thumbnails(folder: Path, workers: int) -> None:
    files = list_pictures(folder)
    if workers == 1:
        for file in files:
            make_thumbnail(file)
        return
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn")) as pool:
        list(pool.map(make_thumbnail, files, chunksize=4))


def list_pictures(folder: Path) -> list[Path]:
    return sorted(p for p in folder.rglob("*") if p.suffix.lower() in (".jpg", ".jpeg"))


def read(folder: Path) -> Catalogue:
    return read_photographs((folder,), {}, NoCache(), NoProgress())


def look(folder: Path) -> None:
    with tempfile.TemporaryDirectory() as scratch:
        catalogue = look_at(BookFolder(Path(scratch)), read(folder), NoProgress())
    print(sum(p.look is not None for p in catalogue.photos), "looked at")


def measure(what: str, folder: Path) -> Taken:
    taken = [run([sys.executable, "-m", "benchmarks.looking", what, str(folder)])]
    taken += [run([sys.executable, "-m", "benchmarks.looking", what, str(folder)])
              for _ in range(ROUNDS - 1)]  # fmt: skip
    return Taken(*(min(getattr(t, name) for t in taken) for name in Taken.__slots__))


def report(folder: Path) -> None:
    count = len(list_pictures(folder))
    floor = measure("thumbnails", folder)
    print(f"| {count} pictures | ms each | × thumbnails | processor ms each | × |")
    print("|---|--:|--:|--:|--:|")
    for what, name in (
        ("thumbnails", "thumbnails, one process"),
        ("thumbnails-2", "thumbnails, two processes"),
        ("read", "reading what the files tell"),
        ("look", "reading and looking, as a book does"),
    ):
        taken = floor if what == "thumbnails" else measure(what, folder)
        print(
            f"| {name} | {taken.wall_s / count * 1000:.0f} | {taken.wall_s / floor.wall_s:.2f} "
            f"| {taken.processor_s / count * 1000:.0f} "
            f"| {taken.processor_s / floor.processor_s:.2f} |"
        )


if __name__ == "__main__":
    match sys.argv[1:]:
        case ["thumbnails", folder]:
            make_thumbnails(Path(folder), 1)
        case ["thumbnails-2", folder]:
            make_thumbnails(Path(folder), 2)
        case ["read", folder]:
            read(Path(folder))
        case ["look", folder]:
            look(Path(folder))
        case [folder]:
            report(Path(folder))
        case _:
            report(make_pictures(PICTURES))
