"""Writes the two wide ICC profiles that cameras and phones use, from their published numbers.

Primaries and curve: Display P3 has the DCI-P3 primaries with the D65 white and curve of sRGB
(SMPTE EG 432-1, IEC 61966-2-1); Adobe RGB (1998) is defined in its own specification. The file
form is ICC.1:2022 (version 4.4), a matrix profile; the tags are adapted to D50 by Bradford.
"""

from __future__ import annotations

import struct
from functools import cache

import numpy as np
from numpy.typing import NDArray

_Matrix = NDArray[np.float64]

_D65_XY = (0.3127, 0.3290)
_D50_XYZ = (0.9642, 1.0, 0.8249)
_BRADFORD = np.array(
    [[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]]
)
_PRIMARIES = {
    "display-p3": ((0.680, 0.320), (0.265, 0.690), (0.150, 0.060)),
    "adobe-rgb": ((0.64, 0.33), (0.21, 0.71), (0.15, 0.06)),
}
_NAMES = {"display-p3": "Display P3", "adobe-rgb": "Adobe RGB (1998)"}
# Parametric curves (ICC.1 10.18): type 3 is the piecewise one of sRGB, type 0 a plain power.
_CURVES = {
    "display-p3": (3, (2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045)),
    "adobe-rgb": (0, (563 / 256,)),
}


@cache
def write_profile(name: str) -> bytes:
    """Give the profile "display-p3" or "adobe-rgb" as bytes. Raises KeyError for any other."""
    colorants = _adapted_colorants(name)
    kind, values = _CURVES[name]
    curve = b"para" + struct.pack(">IHH", 0, kind, 0) + b"".join(map(_fixed, values))
    tags = {
        b"desc": _text_tag(_NAMES[name]),
        b"cprt": _text_tag("No copyright, use freely"),
        b"wtpt": _xyz_tag(np.array(_D50_XYZ)),
        b"chad": b"sf32" + bytes(4) + b"".join(_fixed(float(v)) for v in _chad().flat),
        b"rXYZ": _xyz_tag(colorants[:, 0]),
        b"gXYZ": _xyz_tag(colorants[:, 1]),
        b"bXYZ": _xyz_tag(colorants[:, 2]),
        b"rTRC": curve,
        b"gTRC": curve,
        b"bTRC": curve,
    }
    return _assemble(tags)


def _assemble(tags: dict[bytes, bytes]) -> bytes:
    start = 128 + 4 + 12 * len(tags)
    table, body = struct.pack(">I", len(tags)), b""
    placed: dict[bytes, int] = {}
    for name, data in tags.items():
        if data not in placed:
            placed[data] = start + len(body)
            body += data + bytes(-len(data) % 4)
        table += struct.pack(">4sII", name, placed[data], len(data))
    header = struct.pack(
        ">I4sI4s4s4s6H4s4s4s4s4sQI12s",
        start + len(body), bytes(4), 0x04400000, b"mntr", b"RGB ", b"XYZ ",
        2025, 1, 1, 0, 0, 0, b"acsp", bytes(4), bytes(4), bytes(4), bytes(4), 0, 0,
        b"".join(map(_fixed, _D50_XYZ)),
    )  # fmt: skip
    return header + bytes(128 - len(header)) + table + body


def _adapted_colorants(name: str) -> _Matrix:
    """Give the primaries as XYZ columns that add up to white, seen under D50."""
    columns = np.array([_xyz(x, y) for x, y in _PRIMARIES[name]]).T
    strength = np.linalg.solve(columns, _xyz(*_D65_XY))
    return np.asarray(_chad() @ (columns * strength))


def _chad() -> _Matrix:
    source, target = _BRADFORD @ _xyz(*_D65_XY), _BRADFORD @ np.array(_D50_XYZ)
    return np.asarray(np.linalg.inv(_BRADFORD) @ np.diag(target / source) @ _BRADFORD)


def _xyz(x: float, y: float) -> _Matrix:
    return np.array([x / y, 1.0, (1.0 - x - y) / y])


def _xyz_tag(value: _Matrix) -> bytes:
    return b"XYZ " + bytes(4) + b"".join(_fixed(float(v)) for v in value)


def _text_tag(text: str) -> bytes:
    data = text.encode("utf-16-be")
    return b"mluc" + struct.pack(">IIIHHII", 0, 1, 12, 0x656E, 0x5553, len(data), 28) + data


def _fixed(value: float) -> bytes:
    return struct.pack(">i", round(value * 65536))
