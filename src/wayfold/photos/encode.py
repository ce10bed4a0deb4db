"""JPEG files for paper and screen: pixels, a profile where it is wanted, and nothing else."""

from __future__ import annotations

import struct
from typing import Any

from wayfold.photos.raster_pixels import import_vips

_PRINT_QUALITY, _SCREEN_QUALITY = 92, 85
PALE_QUALITY = 95
"""For tints so pale that the blocks of stronger compression might be seen."""


def encode_for_print(image: Any, ppi: float, quality: int = _PRINT_QUALITY) -> bytes:
    """Give a JPEG with full colour resolution (4:4:4) and the image's profile."""
    data = image.jpegsave_buffer(Q=quality, subsample_mode="off", keep="icc")
    return _name_resolution(bytes(data), ppi)


def encode_for_screen(image: Any) -> bytes:
    """Give a JPEG without a profile, which browsers take for sRGB."""
    return bytes(image.jpegsave_buffer(Q=_SCREEN_QUALITY, keep="none"))


def lay_on_white(png: bytes) -> bytes:
    """Give a JPEG for the screen of a PNG, white where that is clear."""
    image = import_vips().Image.new_from_buffer(png, "")
    return encode_for_screen(image.flatten(background=255) if image.hasalpha() else image)


def _name_resolution(data: bytes, ppi: float) -> bytes:
    """Put a JFIF header (ISO/IEC 10918-5) in front, which the encoder drops with the metadata."""
    density = max(1, round(ppi))
    header = struct.pack(">5sHBHHBB", b"JFIF\0", 0x0102, 1, density, density, 0, 0)
    return data[:2] + b"\xff\xe0" + struct.pack(">H", len(header) + 2) + header + data[2:]
