"""Pictures for these tests: painted here, or taken from packages that other people made.

Packages (fetched once with pip, kept in ``~/.cache/wayfold-tests``):
- pillow 13.0.0 source package, ``Tests/images`` (MIT-CMU): orientation 1-8, CMYK, MPO, broken files
- pillow-heif 1.8.1 source package, ``tests/images`` (BSD-3): HEIC from telephones and cameras
"""

from __future__ import annotations

import contextlib
import os
import shutil
import struct
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from tests.fetching import fetch_sample
from wayfold.base.cache import NoCache
from wayfold.base.progress import NoProgress
from wayfold.photos.catalogue import Catalogue
from wayfold.photos.crew import Crew
from wayfold.photos.model import Photo
from wayfold.photos.read import read_photographs


@pytest.fixture(scope="session")
def pillow_images() -> Path:
    return fetch_sample("pillow", "13.0.0", "Tests/images")


@pytest.fixture(scope="session")
def heif_images() -> Path:
    return fetch_sample("pillow-heif", "1.8.1", "tests/images")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "photographs"
    made.mkdir()
    return made


Read = Callable[..., Catalogue]


@pytest.fixture
def read() -> Read:
    """Read folders with no cache and no helpers; ``workers=2`` where the processes matter."""

    def run(
        *folders: Path,
        known: Any = None,
        cache: Any = None,
        progress: Any = None,
        workers: int = 0,
    ) -> Catalogue:
        with Crew(workers) as crew:
            return read_photographs(
                folders, known or {}, cache or NoCache(), progress or NoProgress(), crew
            )

    return run


@pytest.fixture
def read_one(read: Read, folder: Path) -> Callable[[Path], Photo]:
    """Copy one file into a folder of its own and give its record."""

    def run(source: Path) -> Photo:
        inside = folder / f"one-{source.name}"
        inside.mkdir()
        shutil.copy(source, inside / source.name)
        catalogue = read(inside)
        assert len(catalogue.photos) == 1, catalogue.findings
        return catalogue.photos[0]

    return run


def paint(width: int = 240, height: int = 160, seed: int = 1) -> Image.Image:
    """Paint a picture with texture: red top left, green top right, blue below left, grey last."""
    colours = np.array([[(200, 40, 40), (40, 170, 60)], [(50, 60, 190), (128, 128, 128)]])
    rows = (np.arange(height) * 2 // height).clip(0, 1)
    columns = (np.arange(width) * 2 // width).clip(0, 1)
    pixels = colours[rows][:, columns].astype(float)
    pixels += np.random.default_rng(seed).normal(0, 6, (height, width, 1))
    return Image.fromarray(pixels.clip(0, 255).astype("uint8"))


@pytest.fixture(name="paint")
def paint_fixture() -> Callable[..., Image.Image]:
    return paint


@contextlib.contextmanager
def lose_rights() -> Iterator[None]:
    """Go on without the right to read and write everything, if the tests run as root."""
    if os.name != "posix" or os.geteuid() != 0:
        yield
        return
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.fixture(name="lose_rights")
def lose_rights_fixture() -> Callable[[], contextlib.AbstractContextManager[None]]:
    return lose_rights


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that others than the owner may walk through, unlike pytest's own."""
    with tempfile.TemporaryDirectory(prefix="wayfold-open-") as name:
        made = Path(name)
        made.chmod(0o777)
        yield made


Tag = tuple[int, int, Any]
_TYPES = {1: "B", 2: "s", 3: "H", 4: "I", 5: "II", 7: "s", 10: "ii"}


def build_tiff(
    tags: list[Tag], data: bytes = b"", inner: dict[int, list[Tag]] | None = None
) -> bytes:
    """Build a little-endian TIFF of one directory (tags: number, type, value), then ``data``.

    ``inner``: directories by the number of the tag that points to them. A value "DATA" is
    replaced by the place of ``data``. Layout: TIFF 6.0, section 2.
    """
    inner = inner or {}
    size = 8 + _directory_size(tags) + 12 * len(inner)
    place = size
    blocks, pointers = b"", []
    for number, entries in inner.items():
        pointers.append((number, 4, place))
        block = _directory(entries, place)
        blocks += block
        place += len(block)
    entries = [(n, t, place if v == "DATA" else v) for n, t, v in tags] + pointers
    return struct.pack("<2sHI", b"II", 42, 8) + _directory(entries, 8) + blocks + data


def _directory_size(tags: list[Tag]) -> int:
    return len(_directory([(n, t, 0 if v == "DATA" else v) for n, t, v in tags], 0))


def _directory(tags: list[Tag], place: int) -> bytes:
    entries, extra = b"", b""
    after = place + 2 + 12 * len(tags) + 4
    for number, kind, value in sorted(tags, key=lambda t: t[0]):
        packed, count = _pack_value(kind, value)
        if len(packed) <= 4:
            field = packed.ljust(4, b"\0")
        else:
            field = struct.pack("<I", after + len(extra))
            extra += packed + bytes(len(packed) % 2)
        entries += struct.pack("<HHI", number, kind, count) + field
    return struct.pack("<H", len(tags)) + entries + bytes(4) + extra


def _pack_value(kind: int, value: Any) -> tuple[bytes, int]:
    if kind in (2, 7):
        raw = value if isinstance(value, bytes) else value.encode() + b"\0"
        return raw, len(raw)
    values = value if isinstance(value, list) else [value]
    if kind in (5, 10):
        return b"".join(struct.pack(f"<{_TYPES[kind]}", *v) for v in values), len(values)
    return struct.pack(f"<{len(values)}{_TYPES[kind]}", *values), len(values)


@pytest.fixture(name="build_tiff")
def build_tiff_fixture() -> Callable[..., bytes]:
    return build_tiff


def build_dng(width: int = 64, height: int = 48, orientation: int = 1) -> bytes:
    """Build a linear sensor picture, its left half red, its right half green (DNG 1.4)."""
    sensor = np.full((height, width), 200, dtype="<u2")
    sensor[0::2, 0 : width // 2 : 2] = 9000  # red cells
    for row, column in ((0, 1), (1, 0)):  # green cells of the right half
        sensor[row::2, width // 2 + column :: 2] = 9000
    data = sensor.tobytes()
    identity = [(v, 1) for v in (1, 0, 0, 0, 1, 0, 0, 0, 1)]
    tags: list[Tag] = [
        (254, 4, 0), (256, 4, width), (257, 4, height), (258, 3, 16), (259, 3, 1),
        (262, 3, 32803), (271, 2, "Wayfold"), (272, 2, "Test Body"), (273, 4, "DATA"),
        (274, 3, orientation), (277, 3, 1), (278, 4, height), (279, 4, len(data)), (284, 3, 1),
        (33421, 3, [2, 2]), (33422, 1, [0, 1, 1, 2]), (50706, 1, [1, 4, 0, 0]),
        (50707, 1, [1, 1, 0, 0]), (50708, 2, "Wayfold Test Body"), (50714, 3, 0),
        (50717, 4, 10000), (50721, 10, identity), (50728, 5, [(1, 1), (1, 1), (1, 1)]),
        (50735, 2, "SN-7"), (50778, 3, 21),
    ]  # fmt: skip
    exif: list[Tag] = [(0x9003, 2, "2024:06:01 09:30:15"), (0x9011, 2, "+02:00")]
    return build_tiff(tags, data, {0x8769: exif})


@pytest.fixture(name="build_dng")
def build_dng_fixture() -> Callable[..., bytes]:
    return build_dng
