"""A part of a photograph at a wanted number of pixels, upright, whatever kind of file it is in."""

from __future__ import annotations

from typing import Any

from wayfold.base.geometry import Rect
from wayfold.photos.colour import lay_on_white
from wayfold.photos.heic_pixels import load_heic
from wayfold.photos.kinds import Kind
from wayfold.photos.model import Photo, SizePx
from wayfold.photos.orientation import locate_stored, stand_upright
from wayfold.photos.raster_pixels import load_stored
from wayfold.photos.raw_pixels import load_raw
from wayfold.photos.refusals import RefusedError, check_size, refuse_changed


def measure_part(size: SizePx, crop: Rect) -> SizePx:
    """Give the pixels that the file has of ``crop`` (fractions of the upright picture)."""
    part = _whole_pixels(_scaled(crop, size.width_px, size.height_px), size)
    return SizePx(round(part.width), round(part.height))


def open_part(photo: Photo, crop: Rect, wanted: SizePx) -> Any:
    """Give ``crop`` as an upright image of exactly ``wanted`` pixels, Lanczos-scaled, no alpha.

    The colours are still those of the file. ``wanted`` must not be larger than the part has
    pixels. Raises RefusedError, OSError, or the imaging library's error once pixels are asked for.
    """
    upright, stored = photo.size, stand_upright(photo.size, photo.orientation)
    # Whole pixels are chosen upright, so that the eight orientations give the same part.
    part = _whole_pixels(_scaled(crop, upright.width_px, upright.height_px), upright)
    inside = locate_stored(
        _scaled(part, 1 / upright.width_px, 1 / upright.height_px), photo.orientation
    )
    target = stand_upright(wanted, photo.orientation)
    ratio = min(part.width / wanted.width_px, part.height / wanted.height_px)

    image, shrink = _load(photo, stored, ratio)
    loaded = SizePx(image.width, image.height)
    lies = _whole_pixels(
        _scaled(inside, stored.width_px / shrink, stored.height_px / shrink), loaded
    )
    left, top, width, height = (round(v) for v in (lies.x, lies.y, lies.width, lies.height))
    image = lay_on_white(image.extract_area(left, top, width, height))
    if (width, height) != (target.width_px, target.height_px):
        image = image.resize(
            target.width_px / width, vscale=target.height_px / height, kernel="lanczos3"
        )
    return _turn(image, photo.orientation)


def open_whole(photo: Photo, least_px: int) -> Any:
    """Give the whole upright picture in memory, 8 bits, no alpha, in the colours of the file.

    It is made smaller by a whole number, by the decoder where that can, and is still ``least_px``
    on its longer side; smaller pictures come as they are. Raises as ``open_part`` does.
    """
    stored = stand_upright(photo.size, photo.orientation)
    ratio = max(stored.width_px, stored.height_px) / least_px
    image, _ = _load(photo, stored, ratio, spare=1)
    rest = max(image.width, image.height) // least_px
    image = lay_on_white(image)
    if rest > 1:
        image = image.shrink(rest, rest)
    if image.format != "uchar":
        image = image.colourspace("b-w" if image.bands == 1 else "srgb").cast("uchar")
    return _turn(image.copy_memory(), photo.orientation)


def _load(photo: Photo, stored: SizePx, ratio: float, spare: int = 2) -> tuple[Any, float]:
    """Open the pixels, and say how many times smaller than stored they come.

    They may come ``ratio`` times smaller; a factor of ``spare`` of it is left to be done: the
    decoder's own shrinking is coarse, and Lanczos is not.
    """
    kind = Kind(photo.file_format)
    if kind is Kind.HEIC:
        image = load_heic(photo.path)
    elif kind is Kind.RAW:
        image = load_raw(photo.path, may_halve=ratio >= 2)
        if ratio >= 2:
            return image, stored.width_px / image.width
    else:
        image = load_stored(photo.path, kind)
        check_size(image.width, image.height)
    if (image.width, image.height) != (stored.width_px, stored.height_px):
        raise RefusedError(refuse_changed())
    shrink = _choose_shrink(ratio / spare) if kind is Kind.JPEG else 1
    return (load_stored(photo.path, kind, shrink), shrink) if shrink > 1 else (image, 1)


def _choose_shrink(ratio: float) -> int:
    return next((shrink for shrink in (8, 4, 2) if ratio >= shrink), 1)


def _scaled(part: Rect, by_x: float, by_y: float) -> Rect:
    return Rect(part.x * by_x, part.y * by_y, part.width * by_x, part.height * by_y)


def _whole_pixels(part: Rect, limit: SizePx) -> Rect:
    """Round the edges to whole pixels: at least one pixel, inside the picture."""
    left = min(max(round(part.x), 0), limit.width_px - 1)
    top = min(max(round(part.y), 0), limit.height_px - 1)
    right = min(max(round(part.right), left + 1), limit.width_px)
    bottom = min(max(round(part.bottom), top + 1), limit.height_px)
    return Rect(left, top, right - left, bottom - top)


def _turn(image: Any, orientation: int) -> Any:
    """Stand the pixels upright: mirror first where it takes a mirror, then turn clockwise."""
    if orientation == 1:
        return image
    # Turning needs all pixels at hand, and the file gives them top to bottom once.
    image = image.copy_memory()
    match orientation:
        case 2:
            return image.fliphor()
        case 3:
            return image.rot180()
        case 4:
            return image.flipver()
        case 5:
            return image.fliphor().rot270()
        case 6:
            return image.rot90()
        case 7:
            return image.fliphor().rot90()
    return image.rot270()
