"""Small ICC profiles of the common RGB spaces, made from their published definitions.

For pictures that name their space and carry no profile: untagged files (sRGB), HEIC files with a
coded colour space, camera files marked Adobe RGB. Version 2 of the format, which every print
driver reads.
"""

from __future__ import annotations

import functools
import struct
from collections.abc import Callable
from dataclasses import dataclass

from wayfold.photos.profiles import ADOBE_RGB, DISPLAY_P3, PROPHOTO_RGB, SRGB

Matrix = tuple[tuple[float, float, float], ...]
Vector = tuple[float, float, float]

_D65 = (0.3127, 0.3290)
_D50 = (0.3457, 0.3585)
_PCS_WHITE = (0.9642, 1.0, 0.8249)  # ICC.1:2001-04, 3.1: the white of the connection space
_BRADFORD: Matrix = (
    (0.8951, 0.2664, -0.1614),
    (-0.7502, 1.7135, 0.0367),
    (0.0389, -0.0685, 1.0296),
)
_CURVE_POINTS = 1024


def _decode_srgb(value: float) -> float:
    """IEC 61966-2-1: from code to linear light, both 0..1."""
    return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4


@dataclass(frozen=True, slots=True)
class RgbSpace:
    """Chromaticities of the primaries and the white; a gamma, or a curve from code to light."""

    primaries: tuple[tuple[float, float], tuple[float, float], tuple[float, float]]
    white: tuple[float, float]
    curve: float | Callable[[float], float]


SPACES = {
    # ITU-R BT.709 primaries, IEC 61966-2-1 curve.
    SRGB: RgbSpace(((0.64, 0.33), (0.30, 0.60), (0.15, 0.06)), _D65, _decode_srgb),
    # SMPTE EG 432-1 primaries with D65 and the sRGB curve.
    DISPLAY_P3: RgbSpace(((0.680, 0.320), (0.265, 0.690), (0.150, 0.060)), _D65, _decode_srgb),
    # Adobe RGB (1998) Color Image Encoding, version 2005-05: gamma 2 51/256.
    ADOBE_RGB: RgbSpace(((0.64, 0.33), (0.21, 0.71), (0.15, 0.06)), _D65, 2 + 51 / 256),
    # ISO 22028-2 (ROMM RGB); as in common profiles, pure gamma 1.8 without the linear toe.
    PROPHOTO_RGB: RgbSpace(((0.7347, 0.2653), (0.1596, 0.8404), (0.0366, 0.0001)), _D50, 1.8),
}


@functools.cache
def make_profile(name: str) -> bytes:
    """Give an ICC profile of a space in ``SPACES``: the same bytes every time.

    Raises KeyError for a space that has none here.
    """
    space = SPACES[name]
    red, green, blue = colorants(space)
    curve = _curve_tag(space.curve)
    tags = {
        b"desc": _description_tag(name),
        b"cprt": b"text\0\0\0\0No copyright (CC0)\0",
        b"wtpt": _xyz_tag(_xyz(space.white)),
        b"rXYZ": _xyz_tag(red),
        b"gXYZ": _xyz_tag(green),
        b"bXYZ": _xyz_tag(blue),
        b"rTRC": curve,
        b"gTRC": curve,
        b"bTRC": curve,
    }
    return _pack(tags)


def colorants(space: RgbSpace) -> tuple[Vector, Vector, Vector]:
    """Give the XYZ of red, green and blue, adapted to the connection space (Bradford)."""
    columns = [_xyz(p) for p in space.primaries]
    primaries: Matrix = tuple(
        (columns[0][row], columns[1][row], columns[2][row]) for row in range(3)
    )
    white = _xyz(space.white)
    gains = _apply(_invert(primaries), white)
    adapt = _adaptation(white, _PCS_WHITE)
    red, green, blue = (
        _apply(adapt, (x * gain, y * gain, z * gain))
        for (x, y, z), gain in zip(columns, gains, strict=True)
    )
    return red, green, blue


def _adaptation(source: Vector, target: Vector) -> Matrix:
    cone_source, cone_target = _apply(_BRADFORD, source), _apply(_BRADFORD, target)
    scaled: Matrix = tuple(
        tuple(v * t / s for v in row)  # type: ignore[misc]
        for row, s, t in zip(_BRADFORD, cone_source, cone_target, strict=True)
    )
    back = _invert(_BRADFORD)
    columns = [_apply(back, (scaled[0][c], scaled[1][c], scaled[2][c])) for c in range(3)]
    return tuple((columns[0][r], columns[1][r], columns[2][r]) for r in range(3))


def _xyz(chromaticity: tuple[float, float]) -> Vector:
    x, y = chromaticity
    return x / y, 1.0, (1 - x - y) / y


def _apply(m: Matrix, v: Vector) -> Vector:
    a, b, c = (row[0] * v[0] + row[1] * v[1] + row[2] * v[2] for row in m)
    return a, b, c


def _invert(m: Matrix) -> Matrix:
    (a, b, c), (d, e, f), (g, h, i) = m
    det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
    return (
        ((e * i - f * h) / det, (c * h - b * i) / det, (b * f - c * e) / det),
        ((f * g - d * i) / det, (a * i - c * g) / det, (c * d - a * f) / det),
        ((d * h - e * g) / det, (b * g - a * h) / det, (a * e - b * d) / det),
    )


def _xyz_tag(value: Vector) -> bytes:
    return b"XYZ \0\0\0\0" + struct.pack(">3i", *(round(v * 65536) for v in value))


def _curve_tag(curve: float | Callable[[float], float]) -> bytes:
    if isinstance(curve, float):
        return b"curv\0\0\0\0" + struct.pack(">IH", 1, round(curve * 256))
    points = [round(curve(i / (_CURVE_POINTS - 1)) * 65535) for i in range(_CURVE_POINTS)]
    return b"curv\0\0\0\0" + struct.pack(f">I{_CURVE_POINTS}H", _CURVE_POINTS, *points)


def _description_tag(text: str) -> bytes:
    name = text.encode("ascii") + b"\0"
    # ASCII, then empty Unicode and Macintosh names, as version 2 wants them.
    return b"desc\0\0\0\0" + struct.pack(">I", len(name)) + name + bytes(4 + 4 + 2 + 1 + 67)


def _pack(tags: dict[bytes, bytes]) -> bytes:
    start = 128 + 4 + 12 * len(tags)
    body, table, places = b"", b"", dict[bytes, int]()
    for signature, data in tags.items():
        if data not in places:  # The three curves are one block.
            places[data] = start + len(body)
            body += data + bytes(-len(data) % 4)
        table += signature + struct.pack(">II", places[data], len(data))
    size = start + len(body)
    header = struct.pack(">I4sI4s4s4s", size, b"\0\0\0\0", 0x02100000, b"mntr", b"RGB ", b"XYZ ")
    header += struct.pack(">6H4s", 2026, 1, 1, 0, 0, 0, b"acsp")
    header += bytes(28) + struct.pack(">3i", *(round(v * 65536) for v in _PCS_WHITE))
    return header.ljust(128, b"\0") + struct.pack(">I", len(tags)) + table + body
