"""EXIF in camera raws: plain TIFF, TIFF under another mark, a JPEG inside, or Canon's CR3 boxes."""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from wayfold.photos.exif import ExifData, read_directories, read_exif

if TYPE_CHECKING:
    from PIL.Image import Exif

_FUJI_MARK, _FUJI_JPEG_AT = b"FUJIFILMCCD-RAW", 84
_PANASONIC_JPEG = 0x002E
_CANON_BOX = bytes.fromhex("85c0b687820f11e08111f4ce462b6a48")
_MAX_MOOV = 64_000_000


def read_raw_exif(path: str) -> ExifData:
    """Give what the raw's EXIF says; damaged or unknown blocks give nothing."""
    try:
        with open(path, "rb") as file:  # noqa: PTH123
            head = file.read(16)
            if head.startswith(_FUJI_MARK):
                return _read_jpeg(_fuji_jpeg(path))
            if head[4:8] == b"ftyp":
                return _read_canon(path)
            return _read_tiff(path, head)
    except Exception:  # Damaged metadata: the picture itself may well be whole.
        return ExifData()


def _read_tiff(path: str, head: bytes) -> ExifData:
    exif = _new_exif()
    if head[:4] in (b"II*\0", b"MM\0*"):
        with open(path, "rb") as file:  # noqa: PTH123
            exif.load_from_fp(file)
            return read_exif(exif)
    # Olympus and Panasonic keep TIFF's layout under a mark of their own.
    mark = b"II*\0" if head[:2] == b"II" else b"MM\0*"
    exif.load_from_fp(io.BytesIO(mark + Path(path).read_bytes()[4:]))
    found = read_exif(exif)
    inside = exif.get(_PANASONIC_JPEG)
    if found.taken is None and isinstance(inside, bytes):
        return _read_jpeg(inside)
    return found


def _read_jpeg(data: bytes) -> ExifData:
    from PIL import Image

    exif = _new_exif()
    with Image.open(io.BytesIO(data), formats=("JPEG", "MPO")) as image:
        exif.load(image.info.get("exif") or b"")
    return read_exif(exif)


def _fuji_jpeg(path: str) -> bytes:
    with open(path, "rb") as file:  # noqa: PTH123
        file.seek(_FUJI_JPEG_AT)
        place, size = (int.from_bytes(file.read(4), "big") for _ in range(2))
        file.seek(place)
        return file.read(size)


def _read_canon(path: str) -> ExifData:
    """Canon's CMT1, CMT2 and CMT4 boxes: one TIFF block for each directory of EXIF."""
    with open(path, "rb") as file:  # noqa: PTH123
        data = file.read(_MAX_MOOV)
    blocks: dict[bytes, Mapping[int, Any]] = {}
    for kind, body in _boxes(data):
        for inner, uuid in _boxes(body) if kind == b"moov" else ():
            if inner == b"uuid" and uuid.startswith(_CANON_BOX):
                for name, block in _boxes(uuid[16:]):
                    if name in (b"CMT1", b"CMT2", b"CMT4"):
                        exif = _new_exif()
                        exif.load(block)
                        blocks[name] = dict(exif)
    nothing: Mapping[int, Any] = {}
    return read_directories(
        blocks.get(b"CMT1", nothing),
        blocks.get(b"CMT2", nothing),
        blocks.get(b"CMT4", nothing),
        nothing,
    )


def _boxes(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    """Give type and body of each box (ISO/IEC 14496-12, 4.2) that lies whole in ``data``."""
    place = 0
    while place + 8 <= len(data):
        size, start = int.from_bytes(data[place : place + 4], "big"), 8
        if size == 1:
            size, start = int.from_bytes(data[place + 8 : place + 16], "big"), 16
        if size < start:
            return
        yield data[place + 4 : place + 8], data[place + start : place + size]
        place += size


def _new_exif() -> Exif:
    from PIL.Image import Exif

    return Exif()
