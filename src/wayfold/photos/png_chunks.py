"""Metadata in a PNG file wherever it stands, even behind the pixels (PNG third edition, 5.3)."""

from __future__ import annotations

import zlib
from dataclasses import dataclass

_SIGNATURE_BYTES = 8
_XMP_KEYWORD = b"XML:com.adobe.xmp\0"
_MAX_METADATA = 16_000_000


@dataclass(frozen=True, slots=True)
class PngMetadata:
    """The EXIF block and the XMP packet of a PNG file, empty where there is none.

    ``is_whole``: the file goes on to its end mark.
    """

    exif: bytes = b""
    xmp: bytes = b""
    is_whole: bool = False


def read_png_metadata(path: str) -> PngMetadata:
    """Walk the chunks without decoding. A file cut short gives what stands before the cut."""
    exif, xmp, is_whole = b"", b"", False
    with open(path, "rb") as file:  # noqa: PTH123
        file.seek(_SIGNATURE_BYTES)
        while len(head := file.read(8)) == 8:
            length, kind = int.from_bytes(head[:4], "big"), head[4:]
            if kind in (b"eXIf", b"iTXt") and length <= _MAX_METADATA:
                data = file.read(length)
                if kind == b"eXIf":
                    exif = exif or data
                else:
                    xmp = xmp or _read_text(data)
                file.seek(4, 1)
            elif kind == b"IEND":
                is_whole = True
                break
            else:
                file.seek(length + 4, 1)
    return PngMetadata(exif, xmp, is_whole)


def _read_text(data: bytes) -> bytes:
    """Give the XMP packet of an iTXt chunk, or nothing if it is another text (11.3.3.4)."""
    if not data.startswith(_XMP_KEYWORD):
        return b""
    rest = data[len(_XMP_KEYWORD) :]
    is_compressed = rest[:1] == b"\1"
    _, _, after_language = rest[2:].partition(b"\0")
    _, _, text = after_language.partition(b"\0")
    if not is_compressed:
        return text
    try:
        return zlib.decompressobj().decompress(text, _MAX_METADATA)
    except zlib.error:
        return b""
