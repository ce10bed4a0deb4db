"""What a JPEG file says of itself (ITU-T T.81), read without decoding it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from wayfold.base.errors import UserError

_ICC_MARK = b"ICC_PROFILE\x00"
_METADATA_MARKS = (b"Exif\x00", b"http://ns.adobe.com/xap/", b"Photoshop 3.0\x00")
_FRAMES = {0xC0: "baseline", 0xC1: "extended", 0xC2: "progressive"}
_OTHER_FRAMES = {0xC3, 0xC5, 0xC6, 0xC7, 0xC9, 0xCA, 0xCB, 0xCD, 0xCE, 0xCF}
_SOS, _APP1, _APP2, _APP13 = 0xDA, 0xE1, 0xE2, 0xED
_COLOUR_SPACES = {1: b"GRAY", 3: b"RGB "}


@dataclass(frozen=True, slots=True)
class JpegFacts:
    """Size in pixels, colour components (1 grey, 3 RGB), bytes in the file, ICC profile."""

    width_px: int
    height_px: int
    components: int
    length: int
    icc: bytes | None


def read_jpeg(path: Path) -> JpegFacts:
    """Read the facts a PDF needs of a JPEG, and refuse one that would not print right.

    Raises UserError for a file that is missing, truncated, no JPEG, CMYK, of more than 8 bits,
    or that still carries the camera's metadata.
    """
    try:
        with path.open("rb") as file:
            return _read(path, file)
    except OSError as error:
        raise _refuse(path, f"the picture cannot be read: {error.strerror}") from error


def _read(path: Path, file: BinaryIO) -> JpegFacts:
    frame: tuple[int, int, int] | None = None
    profile: dict[int, bytes] = {}
    for marker, body in _list_segments(path, file):
        if marker in _FRAMES:
            frame = _read_frame(path, body)
        elif marker in _OTHER_FRAMES:
            raise _refuse(path, "this kind of JPEG (lossless, arithmetic) cannot go into a PDF")
        elif marker == _APP2 and body.startswith(_ICC_MARK) and len(body) > len(_ICC_MARK) + 2:
            profile[body[len(_ICC_MARK)]] = body[len(_ICC_MARK) + 2 :]
        elif marker in (_APP1, _APP13) and body.startswith(_METADATA_MARKS):
            raise _refuse(path, "the picture still carries the camera's metadata")
    if frame is None:
        raise _refuse(path, "the picture has no frame header")
    height, width, components = frame
    icc = b"".join(profile[n] for n in sorted(profile)) or None
    if icc is not None and icc[16:20] != _COLOUR_SPACES[components]:
        raise _refuse(path, "the picture's colour profile is for another kind of colour")
    return JpegFacts(width, height, components, _find_length(path, file), icc)


def _list_segments(path: Path, file: BinaryIO) -> Iterator[tuple[int, bytes]]:
    if file.read(2) != b"\xff\xd8":
        raise _refuse(path, "this is no JPEG")
    while True:
        head = file.read(2)
        while head == b"\xff\xff":  # Fill bytes may stand before any marker.
            head = b"\xff" + file.read(1)
        if len(head) < 2 or head[0] != 0xFF:
            raise _refuse(path, "the picture is cut off or damaged")
        size = int.from_bytes(file.read(2), "big") - 2
        body = file.read(size) if size >= 0 else b""
        if size < 0 or len(body) < size:
            raise _refuse(path, "the picture is cut off or damaged")
        yield head[1], body
        if head[1] == _SOS:
            return


def _read_frame(path: Path, body: bytes) -> tuple[int, int, int]:
    if len(body) < 6 or body[0] != 8:
        raise _refuse(path, "the picture has more than 8 bits a channel")
    height, width, components = (
        int.from_bytes(body[1:3], "big"),
        int.from_bytes(body[3:5], "big"),
        body[5],
    )
    if components not in _COLOUR_SPACES:
        raise _refuse(path, "the picture is neither grey nor RGB (CMYK must be converted first)")
    if width == 0 or height == 0:
        raise _refuse(path, "the picture has no size")
    return height, width, components


def _find_length(path: Path, file: BinaryIO) -> int:
    length = file.seek(0, 2)
    file.seek(max(0, length - 2))
    if file.read(2) != b"\xff\xd9":
        raise _refuse(path, "the picture is cut off: its end is missing")
    return length


def _refuse(path: Path, what: str) -> UserError:
    return UserError(what, where=str(path), remedy="Have the picture made again from its original.")
