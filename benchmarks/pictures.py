"""Pictures to measure with: 24 megapixels each, of real photographs, with EXIF times and places.

Third-party photographs out of packages (fetched once, never part of the repository) are enlarged
and given grain, as *negatives* a little larger than a picture. Each picture is a part of one that
no other picture shows, turned over or not, at the weight of a camera's own file. They always come
out the same, and are kept outside the checkout.
"""

from __future__ import annotations

import os
import random
import shutil
import struct
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from multiprocessing import get_context
from pathlib import Path

import pyvips
from PIL import ExifTags, Image

from tests.fetching import fetch_member
from tests.labelled_faces import fetch_picture, read_labels

LONG_PX, SHORT_PX = 6000, 4000
SPARE = 1.1
"""How much larger a negative is than a picture."""
LEAST_MEGAPIXELS = 0.5
"""Labelled pictures that are smaller are left out."""
WITHOUT_FACES = (
    "coffee.png",
    "chelsea.png",
    "rocket.jpg",
    "motorcycle_left.png",
    "motorcycle_right.png",
)
"""Photographs among the data of scikit-image (BSD-3-Clause, as the package states)."""
WORKERS = 2
GRAIN = 5.0
QUALITY = 91
FIRST_DAY, DAYS = datetime(2025, 6, 2), 12
TURNED = 6  # EXIF orientation: the camera was held upright, and turned nothing
TOWNS = (  # latitude, longitude: along a coast, so that every town is a chapter
    (38.7223, -9.1393),
    (40.2033, -8.4103),
    (41.1496, -8.6110),
    (42.8782, -8.5448),
    (43.3623, -8.4115),
    (43.3614, -5.8494),
    (43.4623, -3.8100),
    (43.2630, -2.9350),
)


@dataclass(frozen=True, slots=True)
class Work:
    """One picture to make."""

    number: int
    upright: bool
    target: Path
    taken: datetime
    place: tuple[float, float]


def keep_folder() -> Path:
    """Give the folder, outside the checkout, that the pictures are kept in."""
    home = os.environ.get("XDG_CACHE_HOME", "")
    return (Path(home) if home else Path.home() / ".cache") / "wayfold" / "bench"


def make_pictures(count: int) -> Path:
    """Give a folder with ``count`` pictures; those that are there already are not made again."""
    folder = keep_folder() / f"photographs-{count}"
    folder.mkdir(parents=True, exist_ok=True)
    wide, high = _find_photographs()
    works: dict[Path, list[Work]] = defaultdict(list)
    for work in _plan(count, folder):
        if not work.target.is_file():
            sources = high if work.upright else wide
            works[sources[work.number % len(sources)]].append(work)
    if works:
        with get_context("spawn").Pool(WORKERS) as pool:
            pool.map(_take_all, works.items(), chunksize=1)
    return folder


def link_some(pictures: Path, count: int, folder: Path) -> Path:
    """Give ``folder`` with ``count`` of the pictures, evenly chosen, as links to their files."""
    files = sorted(pictures.glob("*.JPG"))
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    for number in range(count):
        file = files[number * len(files) // count]
        (folder / file.name).hardlink_to(file)
    return folder


def read_once(pictures: Path) -> float:
    """Read all files, so that no run finds them cold; gives their megabytes on average."""
    sizes = [len(path.read_bytes()) for path in sorted(pictures.glob("*.JPG"))]
    return sum(sizes) / len(sizes) / 1e6


def _find_photographs() -> tuple[list[Path], list[Path]]:
    """Give the files of third-party photographs, the wide and the high ones."""
    labelled = [
        one
        for one in read_labels()
        if one.size.width_px * one.size.height_px / 1e6 >= LEAST_MEGAPIXELS
    ]
    data = fetch_member("scikit-image", "0.26.0", "skimage/data", "wheel")
    wide = [fetch_picture(one) for one in labelled if one.size.aspect >= 1.0]
    high = [fetch_picture(one) for one in labelled if one.size.aspect < 1.0]
    return [*wide, *(data / name for name in WITHOUT_FACES)], high


def _plan(count: int, folder: Path) -> Iterator[Work]:
    """Spread the pictures over days and towns: each day from nine to seven, at uneven pauses."""
    chance = random.Random(24)
    for i in range(count):
        day, share = divmod(i * DAYS / count, 1.0)
        hour = 9.0 + 10.0 * share + chance.uniform(0.0, 0.4)
        south, west = TOWNS[i * len(TOWNS) // count]
        yield Work(
            number=i,
            upright=i % 4 == 3,
            target=folder / f"P{1000 + i}.JPG",
            taken=FIRST_DAY + timedelta(days=day, hours=hour),
            place=(south + chance.uniform(-0.01, 0.01), west + chance.uniform(-0.01, 0.01)),
        )


def _take_all(asked: tuple[Path, Sequence[Work]]) -> None:
    """Make all the pictures that come from one photograph."""
    source, works = asked
    width, height = (SHORT_PX, LONG_PX) if works[0].upright else (LONG_PX, SHORT_PX)
    across, down = round(SPARE * width), round(SPARE * height)
    image = pyvips.Image.new_from_file(str(source)).colourspace("srgb").flatten()
    scale = max(across / image.width, down / image.height)
    image = image.resize(scale, kernel="cubic").crop(0, 0, across, down)
    tile = pyvips.Image.gaussnoise(
        across // 4 + 1, down // 4 + 1, sigma=GRAIN, mean=0, seed=len(source.name)
    )
    grain = tile.copy_memory().replicate(4, 4).crop(0, 0, across, down)
    negative = (image + grain).cast("uchar").copy(interpretation="srgb").copy_memory()
    for work in works:
        _take(negative, work, (width, height))


def _take(negative: pyvips.Image, work: Work, size: tuple[int, int]) -> None:
    chance = random.Random(work.number)
    left, top = (int(chance.random() * (SPARE - 1.0) * side) for side in size)
    image = negative.crop(left, top, *size)
    if chance.random() < 0.5:
        image = image.fliphor()
    turned = work.number % 8 == 7
    if turned:
        image = image.rot270()
    data = bytes(image.jpegsave_buffer(Q=QUALITY, keep="none"))
    orientation = TURNED if turned else 1
    _place(work.target, add_exif(data, work.taken, work.place, orientation=orientation))


def add_exif(
    data: bytes,
    taken: datetime,
    place: tuple[float, float],
    camera: tuple[str, str] = ("Measure", "M1"),
    orientation: int = 1,
) -> bytes:
    """Give a JPEG file's bytes with the time, the place, and the maker and model of its camera."""
    exif = Image.Exif()
    exif[ExifTags.Base.Make], exif[ExifTags.Base.Model] = camera
    exif[ExifTags.Base.Orientation] = orientation
    stamp = taken.strftime("%Y:%m:%d %H:%M:%S")
    exif.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = stamp
    where = exif.get_ifd(ExifTags.IFD.GPSInfo)
    north, east = place
    where[ExifTags.GPS.GPSLatitudeRef] = "N" if north >= 0 else "S"
    where[ExifTags.GPS.GPSLatitude] = _sexagesimal(abs(north))
    where[ExifTags.GPS.GPSLongitudeRef] = "E" if east >= 0 else "W"
    where[ExifTags.GPS.GPSLongitude] = _sexagesimal(abs(east))
    block: bytes = exif.tobytes()
    return data[:2] + b"\xff\xe1" + struct.pack(">H", len(block) + 2) + block + data[2:]


def _sexagesimal(degrees: float) -> tuple[float, float, float]:
    whole, rest = divmod(degrees, 1.0)
    minutes, rest = divmod(rest * 60.0, 1.0)
    return whole, minutes, round(rest * 60.0, 3)


def _place(target: Path, data: bytes) -> None:
    part = target.with_suffix(".part")
    part.write_bytes(data)
    part.replace(target)
