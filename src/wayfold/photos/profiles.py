"""ICC profiles by name: what a profile calls itself, and what that is in plain words."""

from __future__ import annotations

import re
import struct

SRGB, DISPLAY_P3, ADOBE_RGB, PROPHOTO_RGB = "sRGB", "Display P3", "Adobe RGB", "ProPhoto RGB"

# A linear variant of a space is another space, whatever it is called.
_LINEAR = re.compile(r"linear|\bg1\.?0\b|-g10", re.IGNORECASE)
_NAMES = (
    (re.compile(r"(\w+ )?s\s?RGB\b.*|c2|uRGB|IEC\s?61966-2[.-]1\b.*", re.IGNORECASE), SRGB),
    (
        re.compile(
            r"(display|image|apple)\s?p3\b.*|p3[ -]d65\b.*|p3|dci-p3 d65 .*srgb.*", re.IGNORECASE
        ),
        DISPLAY_P3,
    ),
    (re.compile(r"(compatible with )?adobe\s?rgb\b.*|adobergb1998.*", re.IGNORECASE), ADOBE_RGB),
    (re.compile(r"(kodak )?pro\s?photo\b.*|(\w+ )*romm[ -]?rgb\b.*", re.IGNORECASE), PROPHOTO_RGB),
)

_HEADER_BYTES = 128
_MAX_TAGS = 200


def name_profile(profile: bytes) -> str:
    """Give the common name of a profile, else what it calls itself, else its colour space."""
    description = read_description(profile)
    if not _LINEAR.search(description):
        for pattern, name in _NAMES:
            if pattern.fullmatch(description):
                return name
    return description or f"unnamed {read_space(profile)} profile"


def read_space(profile: bytes) -> str:
    """Give the colour space of the device side: "RGB", "CMYK", "GRAY", "Lab"; "" if broken."""
    if len(profile) < _HEADER_BYTES + 4 or profile[36:40] != b"acsp":
        return ""
    return profile[16:20].decode("latin-1").strip()


def read_description(profile: bytes) -> str:
    """Give the 'desc' tag's text: ASCII in version 2, the English of 'mluc' in version 4.

    Tag layouts: ICC.1:2001-04 6.5.17 and ICC.1:2022 10.15.
    """
    tag = _find_tag(profile, b"desc")
    if tag[:4] == b"desc":
        (length,) = struct.unpack_from(">I", tag, 8) if len(tag) >= 12 else (0,)
        return _clean(tag[12 : 12 + length].split(b"\0")[0].decode("latin-1"))
    if tag[:4] == b"mluc":
        return _clean(_read_multilingual(tag))
    return ""


def _find_tag(profile: bytes, signature: bytes) -> bytes:
    if not read_space(profile):
        return b""
    (count,) = struct.unpack_from(">I", profile, _HEADER_BYTES)
    for index in range(min(count, _MAX_TAGS)):
        entry = profile[_HEADER_BYTES + 4 + 12 * index :][:12]
        if len(entry) == 12 and entry[:4] == signature:
            offset, size = struct.unpack(">II", entry[4:])
            return profile[offset : offset + size]
    return b""


def _read_multilingual(tag: bytes) -> str:
    if len(tag) < 16:
        return ""
    count, step = struct.unpack_from(">II", tag, 8)
    texts: dict[str, str] = {}
    for index in range(min(count, _MAX_TAGS)):
        record = tag[16 + step * index :][:12]
        if len(record) < 12:
            break
        length, offset = struct.unpack(">II", record[4:])
        text = tag[offset : offset + length].decode("utf-16-be", "replace")
        texts.setdefault(record[:2].decode("latin-1"), text)
    return texts.get("en") or next(iter(texts.values()), "")


def _clean(text: str) -> str:
    return " ".join(text.replace("\0", " ").split())
