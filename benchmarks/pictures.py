"""Pictures to measure with: 24 megapixels, detail at every scale, EXIF times and places."""

from __future__ import annotations

import io
import struct
from datetime import datetime, timedelta
from pathlib import Path

import pyvips
from PIL import Image

WIDTH_PX, HEIGHT_PX = 6000, 4000
GROUNDS = 20
TOWNS = (
    (38.7223, -9.1393),
    (40.2033, -8.4103),
    (41.1496, -8.6110),
    (42.8782, -8.5448),
    (43.3623, -8.4115),
    (43.5293, -5.6773),
    (43.4623, -3.8100),
    (43.2630, -2.9350),
    (43.3183, -1.9812),
    (44.8378, -0.5792),
)


def paint_ground(seed: int) -> bytes:
    """Give a JPEG whose detail falls off like a photograph's, with a camera's grain over it."""
    bands = []
    for band in range(3):
        image = pyvips.Image.gaussnoise(WIDTH_PX, HEIGHT_PX, sigma=7, mean=0, seed=seed * 7 + band)
        for cell, weight in ((512, 90), (96, 45), (24, 18)):
            cloud = pyvips.Image.perlin(
                WIDTH_PX, HEIGHT_PX, cell_size=cell, seed=seed * 31 + cell + band
            )
            image = image + cloud * weight
        bands.append(image + 118)
    picture = bands[0].bandjoin(bands[1:]).cast("uchar").copy(interpretation="srgb")
    return bytes(picture.jpegsave_buffer(Q=92))


def write_pictures(folder: Path, count: int) -> None:
    """Write ``count`` pictures over ten towns and twenty days; what is there already stays."""
    folder.mkdir(parents=True, exist_ok=True)
    lacking = [i for i in range(count) if not (folder / f"IMG_{i:05}.jpg").is_file()]
    grounds: dict[int, bytes] = {}
    start = datetime(2025, 6, 1, 8, 0)
    for i in lacking:
        seed = i % GROUNDS
        if seed not in grounds:
            grounds[seed] = paint_ground(seed)
        town = TOWNS[i * len(TOWNS) // count]
        exif = _exif(start + timedelta(hours=480 * i / count), town)
        segment = b"\xff\xe1" + struct.pack(">H", len(exif) + 2) + exif
        ground = grounds[seed]
        (folder / f"IMG_{i:05}.jpg").write_bytes(ground[:2] + segment + ground[2:])


def _exif(taken: datetime, place: tuple[float, float]) -> bytes:
    exif = Image.Exif()
    exif[0x010F], exif[0x0110] = "Bench", "B1"
    exif.get_ifd(0x8769)[0x9003] = taken.strftime("%Y:%m:%d %H:%M:%S")
    gps = exif.get_ifd(0x8825)
    gps[1], gps[2] = "N", _sexagesimal(place[0])
    gps[3], gps[4] = "W", _sexagesimal(-place[1])
    small = io.BytesIO()
    Image.new("L", (1, 1)).save(small, "JPEG", exif=exif)
    with Image.open(small) as image:
        return bytes(image.info["exif"])


def _sexagesimal(degrees: float) -> tuple[float, float, float]:
    minutes, seconds = divmod(degrees * 3600, 60)
    whole, minutes = divmod(minutes, 60)
    return (whole, minutes, seconds)
