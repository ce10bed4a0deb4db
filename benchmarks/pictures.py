"""Pictures to measure with: 24 megapixels of painted detail and grain, with EXIF times and places.

They are made from the demo's own paintings, and always come out the same. They are kept: making
them takes some minutes, once.
"""

from __future__ import annotations

import math
import os
import random
import struct
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from multiprocessing import get_context
from pathlib import Path

from PIL import ExifTags, Image

from wayfold.demo.model import Painting
from wayfold.demo.painting.paint import paint_picture
from wayfold.demo.painting.palette import HOURS
from wayfold.demo.painting.scenes import SCENES

LONG_PX, SHORT_PX = 6000, 4000
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
    """One picture to make from a painting."""

    number: int
    ground: Path
    target: Path
    taken: datetime
    place: tuple[float, float]


def keep_folder() -> Path:
    """Give the folder, outside the checkout, that the pictures are kept in."""
    home = os.environ.get("XDG_CACHE_HOME", "")
    return (Path(home) if home else Path.home() / ".cache") / "wayfold" / "bench"


def make_pictures(count: int) -> Path:
    """Give a folder with ``count`` pictures; those that are there already are not made again."""
    folder = keep_folder() / f"pictures-{count}"
    grounds = keep_folder() / "grounds"
    for place in (folder, grounds):
        place.mkdir(parents=True, exist_ok=True)
    paintings = [
        (Painting(scene, hour, seed), grounds / f"{scene}-{hour}.jpg")
        for seed, (scene, hour) in enumerate(_vary())
    ]
    works = [w for w in _plan(count, [p for _, p in paintings], folder) if not w.target.is_file()]
    if works:
        with get_context("spawn").Pool(WORKERS) as pool:
            pool.map(_paint, [p for p in paintings if not p[1].is_file()], chunksize=1)
            pool.map(_take, works, chunksize=1)
    return folder


def _vary() -> Iterator[tuple[str, str]]:
    hours = list(HOURS)
    for i, scene in enumerate(SCENES):
        for j in (0, 1):
            yield scene, hours[(i + j) % len(hours)]


def _plan(count: int, grounds: list[Path], folder: Path) -> Iterator[Work]:
    """Spread the pictures over days and towns: each day from nine to seven, at uneven pauses."""
    chance = random.Random(24)
    for i in range(count):
        day, share = divmod(i * DAYS / count, 1.0)
        hour = 9.0 + 10.0 * share + chance.uniform(0.0, 0.4)
        south, west = TOWNS[i * len(TOWNS) // count]
        yield Work(
            number=i,
            ground=grounds[i % len(grounds)],
            target=folder / f"P{1000 + i}.JPG",
            taken=FIRST_DAY + timedelta(days=day, hours=hour),
            place=(south + chance.uniform(-0.01, 0.01), west + chance.uniform(-0.01, 0.01)),
        )


def _paint(work: tuple[Painting, Path]) -> None:
    paint_picture(*work, (LONG_PX, SHORT_PX))


def _take(work: Work) -> None:
    """Show a part of a painting that no other picture shows, with a grain of its own."""
    import pyvips

    chance = random.Random(work.number)
    upright = work.number % 4 == 3
    turned = upright and work.number % 8 == 7
    width, height = (SHORT_PX, LONG_PX) if upright else (LONG_PX, SHORT_PX)
    image = pyvips.Image.new_from_file(str(work.ground), access="random")
    scale = max(width / image.width, height / image.height) * chance.uniform(1.0, 1.25)
    part = (math.floor(width / scale), math.floor(height / scale))
    left, top = (
        math.floor(chance.random() * room)
        for room in (image.width - part[0], image.height - part[1])
    )
    image = image.crop(left, top, *part)
    image = image.resize(width / part[0], vscale=height / part[1], kernel="cubic")
    if work.number // 20 % 2:
        image = image.fliphor()
    grain = pyvips.Image.gaussnoise(width, height, sigma=GRAIN, mean=0, seed=work.number)
    image = (image + grain).cast("uchar").copy(interpretation="srgb")
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
