"""Marks of a photograph by which another camera's picture of the same scene is known again.

Corners by Förstner's measure (determinant over trace; Brown, Szeliski, Winder 2005), spread over
the picture by their adaptive suppression, each with the patch about it, blurred and normalised.
"""

from __future__ import annotations

import io
import zipfile
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from wayfold.base.geometry import Rect
from wayfold.photos.colour import prepare_for_screen
from wayfold.photos.decode import open_part
from wayfold.photos.model import Photo, SizePx
from wayfold.photos.raster_pixels import import_vips
from wayfold.photos.refusals import RefusedError

LONGER_PX = 320
LEVEL = 1.5
"""Each level of the pyramid is so many times smaller than the one before."""
WANTED = (90, 50, 30, 20)
"""Marks a level."""
LEAST_CORNER = 1.0
STRONGEST = 600
ROBUST = 0.9
CELLS = 8
CELL_PX = 3.0
MARGIN_PX = 14
LEAST_LEVEL_PX = 48

Floats = npt.NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class SceneMarks:
    """Marks, a row each in both arrays.

    ``spots``: x and y (px of a picture ``LONGER_PX`` long) and scale. ``patches``: the 64 values
    about it, of mean 0 and length 1.
    """

    spots: Floats
    patches: Floats


def read_scene_marks(photo: Photo) -> SceneMarks | None:
    """Give the marks of a photograph; None where its file cannot be read."""
    longest = max(photo.size.width_px, photo.size.height_px)
    share = min(1.0, LONGER_PX / longest)
    size = SizePx(
        max(1, round(share * photo.size.width_px)), max(1, round(share * photo.size.height_px))
    )
    try:
        image = open_part(photo, Rect(0.0, 0.0, 1.0, 1.0), size)
        # Kept in memory: the file gives its pixels once, and each level asks for them.
        grey = prepare_for_screen(image, photo.profile).colourspace("b-w").copy_memory()
        levels = [_to_floats(grey)]
        for _ in WANTED[1:]:
            grey = grey.resize(1 / LEVEL, kernel="lanczos3")
            levels.append(_to_floats(grey))
    except (RefusedError, OSError, MemoryError, import_vips().Error):
        return None
    return find_marks(levels)


def pack_marks(marks: SceneMarks) -> bytes:
    """Give marks as bytes to be kept, in half precision."""
    file = io.BytesIO()
    np.savez(file, spots=marks.spots, patches=marks.patches.astype(np.float16))
    return file.getvalue()


def unpack_marks(kept: bytes) -> SceneMarks | None:
    """Give the marks that ``pack_marks`` packed, or None for bytes that it did not."""
    try:
        with np.load(io.BytesIO(kept), allow_pickle=False) as rows:
            marks = SceneMarks(rows["spots"], rows["patches"].astype(np.float32))
    except (ValueError, KeyError, TypeError, OSError, zipfile.BadZipFile):
        return None  # A damaged cache costs time, nothing else.
    whole = marks.spots.ndim == 2 and marks.spots.shape[1] == 3
    fits = marks.patches.shape == (len(marks.spots), CELLS * CELLS)
    return marks if whole and fits else None


def find_marks(levels: list[Floats]) -> SceneMarks:
    """Give the marks of a grey picture (0-255) and its smaller copies, each ``LEVEL`` smaller."""
    spots: list[Floats] = [np.zeros((0, 3), np.float32)]
    patches: list[Floats] = [np.zeros((0, CELLS * CELLS), np.float32)]
    for number, (grey, wanted) in enumerate(zip(levels, WANTED, strict=True)):
        if min(grey.shape) < LEAST_LEVEL_PX:
            break
        rows, columns = _find_corners(grey, wanted)
        scale = LEVEL**number
        where = [columns * scale, rows * scale, np.full(len(rows), scale)]
        spots.append(np.stack(where, 1).astype(np.float32))
        patches.append(_cut_patches(grey, rows, columns))
    return SceneMarks(np.concatenate(spots), np.concatenate(patches))


def _find_corners(grey: Floats, wanted: int) -> tuple[npt.NDArray[Any], npt.NDArray[Any]]:
    down, across = (np.asarray(g, np.float32) for g in np.gradient(_blur(grey, 1.0)))
    xx, yy = _blur(across * across, 1.5), _blur(down * down, 1.5)
    xy = _blur(across * down, 1.5)
    strength = (xx * yy - xy * xy) / (xx + yy + 1e-6)
    height, width = grey.shape
    inner = strength[MARGIN_PX : height - MARGIN_PX, MARGIN_PX : width - MARGIN_PX]
    peak = inner > LEAST_CORNER
    for dy in (-1, 0, 1):
        for dx in (-1, 0, 1):
            top, left = MARGIN_PX + dy, MARGIN_PX + dx
            peak &= inner >= strength[top : top + inner.shape[0], left : left + inner.shape[1]]
    rows, columns = np.nonzero(peak)
    value = inner[rows, columns]
    order = np.argsort(-value, kind="stable")[:STRONGEST]
    rows, columns, value = rows[order], columns[order], value[order]
    apart = (rows[:, None] - rows) ** 2 + (columns[:, None] - columns) ** 2
    # How far off the next clearly stronger corner is: the farthest-ruling corners are kept.
    reach = np.where(ROBUST * value[None, :] > value[:, None], apart, 10**9).min(1, initial=10**9)
    kept = np.argsort(-reach, kind="stable")[:wanted]
    return rows[kept] + MARGIN_PX, columns[kept] + MARGIN_PX


def _cut_patches(grey: Floats, rows: npt.NDArray[Any], columns: npt.NDArray[Any]) -> Floats:
    soft = _blur(grey, 2.0)
    offsets = (np.arange(CELLS) - (CELLS - 1) / 2) * CELL_PX
    at_y = np.clip(np.rint(rows[:, None] + offsets), 0, grey.shape[0] - 1).astype(int)
    at_x = np.clip(np.rint(columns[:, None] + offsets), 0, grey.shape[1] - 1).astype(int)
    cut = soft[at_y[:, :, None], at_x[:, None, :]].reshape(len(rows), CELLS * CELLS)
    cut = cut - cut.mean(1, keepdims=True)
    length = np.linalg.norm(cut, axis=1, keepdims=True)
    return np.asarray(cut / np.maximum(length, 1e-6), dtype=np.float32)


def _blur(values: Floats, sigma: float) -> Floats:
    reach = int(3 * sigma + 0.5)
    bell = np.exp(-(np.arange(-reach, reach + 1) ** 2) / (2 * sigma * sigma))
    bell /= bell.sum()
    height, width = values.shape
    tall = np.pad(values, ((reach, reach), (0, 0)), mode="reflect")
    rows = sum(share * tall[i : i + height] for i, share in enumerate(bell))
    wide = np.pad(np.asarray(rows), ((0, 0), (reach, reach)), mode="reflect")
    both = sum(share * wide[:, i : i + width] for i, share in enumerate(bell))
    return np.asarray(both, dtype=np.float32)


def _to_floats(grey: Any) -> Floats:
    return np.asarray(grey.numpy(), dtype=np.float32).reshape(grey.height, grey.width)
