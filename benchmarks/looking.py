"""Reading and looking at photographs, against making thumbnails of them and nothing else.

``python -m benchmarks.looking [FOLDER [TIMES]]`` prints a table (default: 60 photographs of
24 megapixels). The floor is a thumbnail of 512 px of each, written as JPEG, by the imaging library
and by Pillow, which both decode as small as the file allows; the faster counts. Everything goes on
in two processes of one thread, as a book does it, and each figure is the least of several fresh
runs taken by turns: other work on the machine only adds. Of ours the small copies for the screen
are a part, as thumbnails are of the floor. TIMES as many files, of the same pictures in other
bytes, tell whether memory grows.
"""

from __future__ import annotations

import io
import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from multiprocessing import get_context
from pathlib import Path

from benchmarks.measure import Taken, run
from benchmarks.pictures import make_pictures

PICTURES, ROUNDS, THUMBNAIL_PX, WORKERS = 60, 2, 512, 2
GOAL = 1.3
"""Times the floor."""


@dataclass(frozen=True, slots=True)
class Row:
    """What was done with ``count`` pictures, and what it took."""

    what: str
    count: int
    taken: Taken


def measure_looking(folder: Path, rounds: int = ROUNDS) -> tuple[Row, ...]:
    """Give the floor (the faster of the two), then reading alone, then reading and looking."""
    count = len(list_pictures(folder))
    names = {
        "thumbnails-pillow": "floor: thumbnails by Pillow",
        "thumbnails-vips": "floor: thumbnails by the imaging library",
        "read": "reading what the files tell",
        "look": "reading, looking and small copies, as a book does",
    }
    taken: dict[str, list[Taken]] = {what: [] for what in names}
    for _ in range(rounds):
        for what, all_taken in taken.items():
            all_taken.append(run([sys.executable, "-m", "benchmarks.looking", what, str(folder)]))
    rows = [Row(names[what], count, take_least(all_taken)) for what, all_taken in taken.items()]
    floor = min(rows[:2], key=lambda row: row.taken.processor_s)
    return floor, *rows[2:]


def take_least(taken: list[Taken]) -> Taken:
    """Give the least of each figure."""
    return Taken(*(min(getattr(one, name) for one in taken) for name in Taken.__slots__))


@contextmanager
def repeat_pictures(folder: Path, times: int) -> Iterator[Path]:
    """Give a folder of ``times`` as many files: each picture with comments of its own."""
    with tempfile.TemporaryDirectory(prefix="repeated-", dir=folder.parent) as name:
        for file in list_pictures(folder):
            data = file.read_bytes()
            for number in range(times):
                # ITU-T T.81, B.2.4.5: a comment's marker, its length with these two, its text.
                comment = b"\xff\xfe\x00\x06" + number.to_bytes(4, "big")
                Path(name, f"{file.stem}-{number}.jpg").write_bytes(data[:2] + comment + data[2:])
        yield Path(name)


def tell(rows: tuple[Row, ...]) -> list[str]:
    """Give a Markdown table."""
    floor = rows[0].taken
    lines = [
        f"| {rows[0].count} pictures | ms each | × floor | processor ms each | × floor | goal "
        "| peak MB, all |",
        "|---|--:|--:|--:|--:|--:|--:|",
    ]
    for row in rows:
        each = 1000 / row.count
        lines.append(
            f"| {row.what} | {row.taken.wall_s * each:.0f} | {row.taken.wall_s / floor.wall_s:.2f} "
            f"| {row.taken.processor_s * each:.0f} "
            f"| {row.taken.processor_s / floor.processor_s:.2f} "
            f"| {GOAL if row is rows[-1] else ''} | {row.taken.peak_mb:.0f} |"
        )
    return lines


def list_pictures(folder: Path) -> list[Path]:
    return sorted(p for p in folder.rglob("*") if p.suffix.lower() in (".jpg", ".jpeg"))


def make_thumbnails(folder: Path, make: Callable[[Path], int]) -> None:
    os.environ["VIPS_CONCURRENCY"] = "1"
    with ProcessPoolExecutor(WORKERS, mp_context=get_context("spawn")) as pool:
        list(pool.map(make, list_pictures(folder), chunksize=4))


def thumbnail_by_pillow(path: Path) -> int:
    """Make a thumbnail; give its bytes."""
    from PIL import Image

    with Image.open(path) as image:
        image.draft("RGB", (THUMBNAIL_PX, THUMBNAIL_PX))
        image.thumbnail((THUMBNAIL_PX, THUMBNAIL_PX))
        file = io.BytesIO()
        image.convert("RGB").save(file, "JPEG", quality=85)
    return len(file.getvalue())


def thumbnail_by_vips(path: Path) -> int:
    """Make a thumbnail; give its bytes."""
    import pyvips

    image = pyvips.Image.thumbnail(str(path), THUMBNAIL_PX, height=THUMBNAIL_PX)
    return len(image.jpegsave_buffer(Q=85, keep="none"))


def read(folder: Path, look: bool) -> None:
    """Read the photographs of a book that has nothing kept, and look at them where wanted."""
    from wayfold.app.looks import look_at
    from wayfold.base.progress import NoProgress
    from wayfold.photos.crew import Crew
    from wayfold.photos.read import read_photographs
    from wayfold.project.cache import RecordCache
    from wayfold.project.files import BookFolder

    with tempfile.TemporaryDirectory() as scratch, Crew(WORKERS) as crew:
        book = BookFolder(Path(scratch))
        kept = RecordCache(book.cache, "photos")
        catalogue = read_photographs((folder,), {}, kept, NoProgress(), crew)
        if look:
            catalogue = look_at(book, catalogue, NoProgress(), crew)
    if look and any(photo.look is None for photo in catalogue.photos):
        raise SystemExit("Not every picture could be looked at.")


if __name__ == "__main__":
    match sys.argv[1:]:
        case ["thumbnails-pillow", folder]:
            make_thumbnails(Path(folder), thumbnail_by_pillow)
        case ["thumbnails-vips", folder]:
            make_thumbnails(Path(folder), thumbnail_by_vips)
        case ["read", folder]:
            read(Path(folder), look=False)
        case ["look", folder]:
            read(Path(folder), look=True)
        case [folder, times]:
            with repeat_pictures(Path(folder), int(times)) as repeated:
                print("\n".join(tell(measure_looking(repeated))))
        case _:
            here = Path(sys.argv[1]) if sys.argv[1:] else make_pictures(PICTURES)
            print("\n".join(tell(measure_looking(here))))
