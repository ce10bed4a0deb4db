"""Which raster pictures a drawing needs, and the name each goes by."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.hashing import hash_values
from wayfold.drawing.items import Drawing, Picture, Placed


def picture_key(picture: Picture) -> str:
    """Give the identity of what has to be made for ``picture``: asset, part shown and print size.

    Two placements of the same part at the same size (the halves of a picture across the fold)
    share one key, wherever they lie.
    """
    crop = picture.crop
    parts = [round(v, 6) for v in (crop.x, crop.y, crop.width, crop.height)]
    size = [round(v, 3) for v in (picture.box.width, picture.box.height)]
    return hash_values(picture.asset, parts, size)


def list_pictures(drawing: Drawing) -> Iterator[Picture]:
    """Give every picture of a drawing, those of placed drawings included, from bottom to top."""
    for item in drawing.items:
        if isinstance(item, Picture):
            yield item
        elif isinstance(item, Placed):
            yield from list_pictures(item.drawing)
