"""A look as bytes for the cache, and back; bytes that are no such record give nothing."""

from __future__ import annotations

import base64
import json
import math
from collections.abc import Sequence
from typing import Any

from wayfold.base.geometry import Rect
from wayfold.photos.look import Face, Look, Salience, Shares, Tone

NUMBERS = ("edge_px", "noise", "clipped", "lightness")


def pack_look(look: Look) -> bytes:
    """Give a look as JSON bytes."""
    box = [[f.box.x, f.box.y, f.box.width, f.box.height] for f in look.faces]
    fields: dict[str, Any] = {
        "faces": [[*b, f.confidence, f.facing] for b, f in zip(box, look.faces, strict=True)],
        "salience": [look.salience.columns, look.salience.rows, _spell(look.salience.shares)],
        "palette": [[t.share, t.lightness, t.a, t.b] for t in look.palette],
        "noise_px": look.noise_px,
        "likeness": look.likeness,
    }
    return json.dumps(fields | {name: getattr(look, name) for name in NUMBERS}).encode()


def unpack_look(kept: bytes) -> Look | None:
    """Give the look that ``pack_look`` packed, or None for bytes that it did not."""
    try:
        return _read(json.loads(kept))
    except (ValueError, KeyError, TypeError, ArithmeticError, RecursionError):
        return None  # A damaged cache costs time, nothing else.


def _read(fields: dict[str, Any]) -> Look:
    columns, rows, spelt = fields["salience"]
    shares = base64.b64decode(spelt, validate=True)
    if len(shares) != 4 * _whole(columns) * _whole(rows):
        raise ValueError("a grid of another size")
    likeness = fields["likeness"]
    if len(likeness) != 16:
        raise ValueError("a likeness of another length")
    int(likeness, 16)
    return Look(
        faces=tuple(_read_face(*map(_number, row)) for row in fields["faces"]),
        salience=Salience(columns, rows, Shares(shares)),
        palette=tuple(Tone(*map(_number, row)) for row in fields["palette"]),
        noise_px=_whole(fields["noise_px"]),
        likeness=likeness,
        **{name: _number(fields[name]) for name in NUMBERS},
    )


def _spell(shares: Sequence[float]) -> str:
    return base64.b64encode(bytes(Shares.of(shares))).decode()


def _read_face(
    x: float, y: float, width: float, height: float, confidence: float, facing: float
) -> Face:
    return Face(Rect(x, y, width, height), confidence, facing)


def _number(value: Any) -> float:
    if type(value) is float and math.isfinite(value):
        return value
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise TypeError(f"{value!r} is no number")
    return float(value)


def _whole(value: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or value < 1:
        raise TypeError(f"{value!r} is no whole number above zero")
    return value
