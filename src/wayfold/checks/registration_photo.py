"""Reads the registration sheet off a picture of it held to the light, to a tenth of a millimetre.

The picture may be taken askew: the front's four discs tell how the sheet lies in it (a homography;
Hartley & Zisserman, Multiple View Geometry, 4.1), and the back's discs, shining through, are then
measured on the front.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from wayfold.base.errors import UserError
from wayfold.base.geometry import Point, Size

if TYPE_CHECKING:
    from PIL.Image import Image

Floats = npt.NDArray[np.float64]


SEARCH_MM = 14.0
"""How far from where they should be the front's discs are looked for, in a picture cut to the
sheet."""
BACK_SEARCH_MM = 5.5
LEAST_PX_PER_MM = 3.0
SHOWN_PX = 2400
"""The longer side of the picture that shows what was found."""
FORMATS = ("JPEG", "PNG", "TIFF", "WEBP")
_PASSES = 4


@dataclass(frozen=True, slots=True)
class DiscPlan:
    """Where the discs' middles lie on the sheet (mm, seen from the front); ``diameter`` in mm."""

    sheet: Size
    front: tuple[Point, ...]
    back: tuple[Point, ...]
    diameter: float


@dataclass(frozen=True, slots=True)
class ReadDiscs:
    """What was found.

    ``offsets`` of the back's discs from where they should be (mm); ``front`` and ``back`` are where
    the middles lie in the picture (px).
    """

    offsets: tuple[Point, ...]
    front: tuple[Point, ...]
    back: tuple[Point, ...]


def read_discs(picture: Path, plan: DiscPlan) -> ReadDiscs:
    """Find the discs in a picture that is cut to about the sheet, its head up.

    Raises UserError where the picture cannot be read, is too small, or a disc is not found.
    """
    image = _open_grey(picture)
    grey = np.asarray(image, dtype=np.float64)
    height, width = grey.shape
    scale = Point(width / plan.sheet.width, height / plan.sheet.height)
    if min(scale.x, scale.y) < LEAST_PX_PER_MM:
        raise UserError(
            f"The picture has {min(scale.x, scale.y):.1f} pixels to a millimetre; "
            f"{LEAST_PX_PER_MM:g} are needed.",
            where=str(picture),
            remedy="Photograph the sheet from nearer by, or scan it at 100 ppi or more.",
        )
    radius = plan.diameter / 2 * min(scale.x, scale.y)
    rough = [Point(p.x * scale.x, p.y * scale.y) for p in plan.front]
    front = [
        _find_disc(grey, at, radius, SEARCH_MM * scale.x, picture, f"the front's disc {n + 1}")
        for n, at in enumerate(rough)
    ]
    to_sheet = fit_homography(front, plan.front)
    to_picture: Floats = np.linalg.inv(to_sheet).astype(np.float64)
    back, offsets = [], []
    for n, wanted in enumerate(plan.back):
        at = map_point(to_picture, wanted)
        found = _find_disc(
            grey, at, radius, BACK_SEARCH_MM * scale.x, picture, f"the back's disc {n + 1}"
        )
        lies = map_point(to_sheet, found)
        back.append(found)
        offsets.append(Point(lies.x - wanted.x, lies.y - wanted.y))
    return ReadDiscs(tuple(offsets), tuple(front), tuple(back))


def draw_discs(picture: Path, found: ReadDiscs) -> bytes:
    """Draw what was found over the picture, for the person to check: front red, back blue.

    Gives a PNG.
    """
    from PIL import Image, ImageDraw, ImageOps

    with Image.open(picture, formats=FORMATS) as opened:
        image = ImageOps.exif_transpose(opened).convert("RGB")
    pen = ImageDraw.Draw(image)
    arm, line = max(image.size) / 80, max(2, round(max(image.size) / 1200))
    for points, colour in ((found.front, (190, 30, 30)), (found.back, (30, 60, 190))):
        for p in points:
            pen.line([(p.x - arm, p.y), (p.x + arm, p.y)], fill=colour, width=line)
            pen.line([(p.x, p.y - arm), (p.x, p.y + arm)], fill=colour, width=line)
            pen.ellipse([p.x - arm, p.y - arm, p.x + arm, p.y + arm], outline=colour, width=line)
    image.thumbnail((SHOWN_PX, SHOWN_PX))
    drawn = io.BytesIO()
    image.save(drawn, "PNG")
    return drawn.getvalue()


def fit_homography(points: Sequence[Point], images: Sequence[Point]) -> Floats:
    """Give the 3 x 3 map that takes four points to their images (direct linear transform)."""
    rows = []
    for p, q in zip(points, images, strict=True):
        rows.append([p.x, p.y, 1, 0, 0, 0, -q.x * p.x, -q.x * p.y, -q.x])
        rows.append([0, 0, 0, p.x, p.y, 1, -q.y * p.x, -q.y * p.y, -q.y])
    _, _, turned = np.linalg.svd(np.array(rows, dtype=np.float64))
    found: Floats = turned[-1].reshape(3, 3)
    found /= found[2, 2]
    return found


def map_point(map_: Floats, point: Point) -> Point:
    """Give where a homography takes a point."""
    x, y, w = map_ @ np.array([point.x, point.y, 1.0])
    return Point(float(x / w), float(y / w))


def _open_grey(picture: Path) -> Image:
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        with Image.open(picture, formats=FORMATS) as opened:
            return ImageOps.exif_transpose(opened).convert("L")
    except UnidentifiedImageError as error:
        raise _refuse("it is no picture of a kind that is known here", picture) from error
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError) as error:
        told = getattr(error, "strerror", None) or str(error)
        raise _refuse(told, picture) from error


def _refuse(why: str, picture: Path) -> UserError:
    return UserError(
        f"The picture cannot be read ({why}).",
        where=str(picture),
        remedy="Save it as JPEG, PNG, TIFF or WebP.",
    )


def _find_disc(
    grey: Floats, near: Point, radius: float, reach: float, picture: Path, what: str
) -> Point:
    """Find a disc near a place: by its dark middle and light rim, then by its centroid."""
    size = round(reach + 2.5 * radius)
    top, left = round(near.y) - size, round(near.x) - size
    window = _cut(grey, top, left, 2 * size + 1)
    step = max(1, int(radius / 4))
    best, score = None, 0.0
    disc, rim = _make_masks(radius)
    half = disc.shape[0] // 2
    for y in range(half, window.shape[0] - half, step):
        for x in range(half, window.shape[1] - half, step):
            if np.hypot(y - size, x - size) > reach + radius:
                continue
            part = window[y - half : y + half + 1, x - half : x + half + 1]
            middle, around = part[disc], part[rim]
            contrast = float(np.median(around) - middle.mean()) - 2.0 * float(middle.std())
            if contrast > score:
                best, score = (y, x), contrast
    if best is None or score < 4.0:
        raise UserError(
            f"{what[0].upper()}{what[1:]} is not to be found.",
            where=str(picture),
            remedy="Cut the picture to the edges of the sheet, its front towards you and its head "
            "up, with light behind it; or read the marks yourself.",
        )
    down, across = float(best[0]), float(best[1])
    for _ in range(_PASSES):
        down, across = _centre(window, down, across, radius)
    return Point(left + across, top + down)


def _centre(window: Floats, y: float, x: float, radius: float) -> tuple[float, float]:
    """Give the centroid of what is darker than the paper about a disc, weighed by how much."""
    reach = round(1.5 * radius)
    rows, columns = np.mgrid[
        max(0, round(y) - reach) : min(window.shape[0], round(y) + reach + 1),
        max(0, round(x) - reach) : min(window.shape[1], round(x) + reach + 1),
    ]
    part = window[rows, columns]
    away = np.hypot(rows - y, columns - x)
    paper = float(np.median(part[away > 1.2 * radius]))
    ink = float(np.median(part[away < 0.5 * radius]))
    dark = np.clip((paper - part) / max(paper - ink, 1e-9) - 0.25, 0.0, 0.75)
    dark[away > 1.25 * radius] = 0.0
    total = float(dark.sum())
    if total <= 0.0:
        return y, x
    return float((dark * rows).sum()) / total, float((dark * columns).sum()) / total


def _make_masks(radius: float) -> tuple[npt.NDArray[np.bool_], npt.NDArray[np.bool_]]:
    half = int(np.ceil(1.6 * radius))
    rows, columns = np.mgrid[-half : half + 1, -half : half + 1]
    away = np.hypot(rows, columns)
    return away <= 0.8 * radius, (away >= 1.25 * radius) & (away <= 1.6 * radius)


def _cut(grey: Floats, top: int, left: int, side: int) -> Floats:
    """Give a square of the picture; beyond its edges it goes on as at them."""
    rows = np.clip(np.arange(top, top + side), 0, grey.shape[0] - 1)
    columns = np.clip(np.arange(left, left + side), 0, grey.shape[1] - 1)
    return grey[np.ix_(rows, columns)]
