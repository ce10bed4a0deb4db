"""Camera raws: DNG files built here from the standard, and makers' wrappings round EXIF."""

from __future__ import annotations

import io
import struct
from datetime import datetime
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from wayfold.base.geometry import Rect
from wayfold.base.progress import NoProgress
from wayfold.photos.derive import DerivativeJob, make_derivatives
from wayfold.photos.model import Camera, SizePx
from wayfold.photos.raw_exif import read_raw_exif

# In a worker process these are silenced; here Pillow may say what it thinks of broken files.
pytestmark = pytest.mark.filterwarnings("ignore::UserWarning:PIL")


def test_dng_is_read(folder: Path, build_dng: Any, read: Any) -> None:
    (folder / "a.dng").write_bytes(build_dng(64, 48))
    (photo,) = read(folder).photos
    assert (photo.size, photo.orientation, photo.file_format) == (SizePx(64, 48), 1, "camera raw")
    assert photo.camera == Camera("Wayfold", "Test Body", "SN-7")
    assert photo.taken is not None
    assert photo.taken.local == datetime(2024, 6, 1, 9, 30, 15)
    assert photo.taken.offset_minutes == 120


@pytest.mark.parametrize(
    ("orientation", "size", "red"),
    [(1, (64, 48), "left"), (3, (64, 48), "right"), (6, (48, 64), "top"), (8, (48, 64), "bottom")],
)
@pytest.mark.parametrize("ppi", [300, 20])
def test_dng_stands_upright_with_its_colours(
    folder: Path, build_dng: Any, read: Any, tmp_path: Path,
    orientation: int, size: tuple[int, int], red: str, ppi: float,
) -> None:  # fmt: skip
    (folder / "a.dng").write_bytes(build_dng(64, 48, orientation))
    (photo,) = read(folder).photos
    assert (photo.size.width_px, photo.size.height_px) == size
    job = DerivativeJob(photo, Rect(0, 0, 1, 1), size[0] / 3, size[1] / 3, ppi, tmp_path / "a.jpg")
    assert make_derivatives([job], NoProgress(), workers=0) == ()
    made = Image.open(tmp_path / "a.jpg")
    assert made.size == (size if ppi == 300 else tuple(round(s / 3 * 20 / 25.4) for s in size))
    half = {"left": (0, 0, 0.4, 1), "right": (0.6, 0, 1, 1), "top": (0, 0, 1, 0.4),
            "bottom": (0, 0.6, 1, 1)}[red]  # fmt: skip
    box = tuple(round(v * s) for v, s in zip(half, 2 * made.size, strict=True))
    r, g, _ = np.asarray(made.crop(box)).astype(int).mean(axis=(0, 1))  # type: ignore[arg-type]
    assert r > 2 * g


def jpeg_with_exif(when: str) -> bytes:
    image = Image.new("RGB", (16, 16))
    exif = image.getexif()
    exif[0x010F], exif[0x0110] = "Maker", "Body"
    exif.get_ifd(0x8769)[0x9003] = when
    buffer = io.BytesIO()
    image.save(buffer, "JPEG", exif=exif)
    return buffer.getvalue()


def box(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I4s", 8 + len(body), kind) + body


def test_exif_in_every_wrapping(tmp_path: Path, build_tiff: Any) -> None:
    # Layouts as described in public notes on the makers' formats: Fuji's RAF holds a JPEG at the
    # place told at byte 84; Olympus and Panasonic change TIFF's mark; Canon's CR3 has CMT boxes.
    when = "2024:06:01 09:30:15"
    main = [(0x010F, 2, "Maker"), (0x0110, 2, "Body")]
    inner = [(0x9003, 2, when)]
    gps = [
        (1, 2, "N"),
        (2, 5, [(43, 1), (30, 1), (0, 1)]),
        (3, 2, "E"),
        (4, 5, [(7, 1), (15, 1), (0, 1)]),
    ]
    tiff = build_tiff(main, b"", {0x8769: inner, 0x8825: gps})
    jpeg = jpeg_with_exif(when)
    raf = (b"FUJIFILMCCD-RAW 0201").ljust(84, b"\0") + struct.pack(">II", 100, len(jpeg))
    uuid = bytes.fromhex("85c0b687820f11e08111f4ce462b6a48")
    canon = box(b"uuid", uuid + box(b"CMT1", build_tiff(main)) + box(b"CMT2", build_tiff(inner))
                + box(b"CMT4", build_tiff(gps)))  # fmt: skip
    files = {
        "a.nef": tiff,
        "a.orf": b"IIRO" + tiff[4:],
        "a.rw2": b"IIU\0" + tiff[4:],
        "b.rw2": b"IIU\0" + build_tiff([(0x2E, 7, jpeg)])[4:],
        "a.raf": raf.ljust(100, b"\0") + jpeg,
        "a.cr3": box(b"ftyp", b"crx \0\0\0\1crx isom")
        + box(b"moov", canon)
        + box(b"mdat", b"x" * 99),
    }
    for name, data in files.items():
        path = tmp_path / name
        path.write_bytes(data)
        found = read_raw_exif(str(path))
        assert found.taken is not None, name
        assert found.taken.local == datetime(2024, 6, 1, 9, 30, 15)
        assert found.camera == Camera("Maker", "Body"), name
        if name in ("a.nef", "a.orf", "a.cr3"):
            assert found.place is not None
            assert (found.place.longitude, found.place.latitude) == (7.25, 43.5)
        path.write_bytes(data[: len(data) // 3])  # cut: nothing, and no error
        read_raw_exif(str(path))
