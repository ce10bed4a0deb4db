"""Looking at a photograph: one decoding, and everything of ``Look`` measured on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from wayfold.base.geometry import Rect
from wayfold.photos.averaging import average_down
from wayfold.photos.colour import prepare_for_screen
from wayfold.photos.decode import open_whole
from wayfold.photos.faces import FACES_PX, find_faces
from wayfold.photos.graininess import measure_noise, pick_even_parts, to_lightness
from wayfold.photos.likeness import hash_likeness
from wayfold.photos.look import Face, Look, Salience
from wayfold.photos.model import Photo
from wayfold.photos.palette import pick_palette
from wayfold.photos.raster_pixels import import_vips
from wayfold.photos.refusals import RefusedError
from wayfold.photos.salience import measure_salience
from wayfold.photos.sharpness import SHARP_PX, measure_edges, restore_width
from wayfold.photos.small_copy import make_small_copy

SEEN_PX = 2000
"""The picture is decoded so long at least, and less than twice that where the file is larger: about
the pixels it is printed with across a page."""
PRINT_PX = 3000
"""Longer than this, noise is measured after halving."""
COLOURS_PX = 160
DARKEST, LIGHTEST = 2, 253
"""Of 255; what is beyond is lost to black or white."""
FACES_JUDGED = 4
FACE_MOST_PX = 400
CELLS_JUDGED = 32
MARGIN_PX = 12
LUMA = np.array([0.299, 0.587, 0.114], dtype=np.float32)

Bytes = npt.NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class Seen:
    """What comes of decoding a photograph once: its look, and its small copy (JPEG)."""

    look: Look
    copy: bytes


def see(photo: Photo) -> Seen | None:
    """Look at a photograph; None where its file cannot be read."""
    try:
        whole = open_whole(photo, SEEN_PX)
        if whole.bands not in (1, 3) or whole.interpretation not in ("srgb", "rgb", "b-w"):
            whole = prepare_for_screen(whole, photo.profile).copy_memory()
        scale = min(1.0, FACES_PX / max(whole.width, whole.height))
        # Averaged first as far as that goes: Lanczos of it all takes as long as decoding.
        small = whole.resize(scale, gap=1.0) if scale < 1 else whole
        small = prepare_for_screen(small, photo.profile).copy_memory()
        seen, rgb = _to_array(whole), _to_array(small)
        copy = make_small_copy(small, photo.size)
    except (RefusedError, OSError, MemoryError, import_vips().Error):
        return None
    factor = max(photo.size.width_px, photo.size.height_px) / max(seen.shape[:2])
    rgb = rgb if rgb.shape[2] == 3 else np.repeat(rgb[..., :1], 3, 2)
    return Seen(measure_look(seen, rgb, factor), copy)


def measure_look(seen: Bytes, rgb: Bytes, factor: float = 1.0) -> Look:
    """Measure a picture twice given: large as seen (rows, columns, 1 or 3), and small (sRGB).

    The full picture is ``factor`` times as long as ``seen``.
    """
    faces = find_faces(rgb)
    coarse = _average_blocks(rgb, max(1, max(rgb.shape) // COLOURS_PX))
    salience = measure_salience(coarse, faces)
    luma = np.rint(_grey(rgb)).astype(np.uint8)
    even = [_grey(_cut(seen, part)) for part in pick_even_parts(luma)]
    edge = _judge_edges(seen, faces, salience, measure_noise(even))
    halved = max(seen.shape[:2]) >= PRINT_PX
    return Look(
        faces=faces,
        salience=salience,
        palette=pick_palette(np.rint(coarse).astype(np.uint8)),
        edge_px=round(SHARP_PX if edge is None else restore_width(edge, factor), 2),
        noise=round(measure_noise([_lighten(part, halved) for part in even]), 2),
        noise_px=max(seen.shape[:2]) // (2 if halved else 1),
        clipped=round(_weigh_clipped(luma, salience), 4),
        lightness=round(float(np.median(to_lightness(_grey(coarse)))), 1),
        likeness=hash_likeness(_grey(coarse)),
    )


def _judge_edges(
    seen: Bytes, faces: Sequence[Face], salience: Salience, noise: float
) -> float | None:
    """Give how wide edges are where they must be sharp: in large faces, else where the eye goes.

    Of several faces the sharpest quarter counts: somebody is nearer, somebody moves.
    """
    if not faces:
        return measure_edges(_stack_cells(seen, salience), noise)
    parts = (_grey(_cut(seen, face.box, FACE_MOST_PX)) for face in faces[:FACES_JUDGED])
    widths = sorted(w for part in parts if (w := measure_edges(part[None], noise)) is not None)
    return widths[len(widths) // 4] if widths else None


def _stack_cells(seen: Bytes, salience: Salience) -> npt.NDArray[np.float32]:
    """Give the cells that the eye goes to with a margin, all of one size: part, row, column."""
    order = np.argsort(-np.array(salience.shares), kind="stable")[:CELLS_JUDGED]
    grid, pixels = (salience.rows, salience.columns), seen.shape[:2]
    side = [min(n, -(-n // cells) + 2 * MARGIN_PX) for n, cells in zip(pixels, grid, strict=True)]
    parts = []
    for cell in order:
        at = divmod(int(cell), salience.columns)
        top, left = (
            min(max(0, n * place // cells - MARGIN_PX), n - long)
            for place, n, cells, long in zip(at, pixels, grid, side, strict=True)
        )
        parts.append(_grey(seen[top : top + side[0], left : left + side[1]]))
    return np.stack(parts)


def _cut(seen: Bytes, part: Rect, most_px: int = 0) -> Bytes:
    """Cut out a part; its middle where it is longer than ``most_px`` (0: any)."""
    spans = []
    for start, length, pixels in ((part.y, part.height, seen.shape[0]),
                                  (part.x, part.width, seen.shape[1])):  # fmt: skip
        middle, half = (start + length / 2) * pixels, length / 2 * pixels
        half = min(half, most_px / 2) if most_px else half
        spans.append(slice(max(0, round(middle - half)), min(pixels, round(middle + half))))
    return seen[spans[0], spans[1]]


def _grey(part: npt.NDArray[Any]) -> npt.NDArray[np.float32]:
    if part.shape[2] == 1:
        return part[..., 0].astype(np.float32)
    return np.asarray(part.astype(np.float32) @ LUMA)


def _lighten(grey: npt.NDArray[np.float32], halved: bool) -> npt.NDArray[np.float64]:
    lightness = to_lightness(grey)
    if not halved:
        return lightness
    rows, columns = (n // 2 for n in lightness.shape)
    even = lightness[: 2 * rows, : 2 * columns].reshape(rows, 2, columns, 2)
    return np.asarray(even.mean(axis=(1, 3)))


def _weigh_clipped(luma: Bytes, salience: Salience) -> float:
    lost = (luma < DARKEST) | (luma > LIGHTEST)
    if not lost.any():
        return 0.0
    shares = average_down(lost, salience.rows, salience.columns)
    return float(shares.ravel() @ np.array(salience.shares))


def _average_blocks(rgb: Bytes, side: int) -> npt.NDArray[np.float32]:
    """Give the means of square blocks; what is left over at the right and below is dropped."""
    rows, columns = rgb.shape[0] // side, rgb.shape[1] // side
    if side == 1 or not rows or not columns:
        return rgb.astype(np.float32)
    tall = rgb[: rows * side, : columns * side].reshape(rows, side, -1).sum(axis=1, dtype=np.uint16)
    wide = tall.reshape(rows, columns, side, 3).sum(axis=2, dtype=np.uint32)
    return np.asarray(wide / np.float32(side * side), dtype=np.float32)


def _to_array(image: Any) -> Bytes:
    return np.asarray(image.numpy(), dtype=np.uint8).reshape(image.height, image.width, image.bands)
