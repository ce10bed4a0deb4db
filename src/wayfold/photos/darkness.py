"""How dark a printed picture is: the share of ink a printer lays for it, from its miniature."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from wayfold.base.errors import UserError
from wayfold.photos.raster_pixels import import_vips


def measure_darkness(miniature: Path) -> float:
    """Give the mean darkness of a picture file, 0 white to 1 black, by its channels' values.

    Raises UserError where the file cannot be read.
    """
    vips = import_vips()
    try:
        image = vips.Image.new_from_file(str(miniature), access="sequential")
        values = np.asarray(image.numpy(), dtype=np.float64)
    except vips.Error as error:
        raise UserError(
            "The miniature cannot be read.",
            where=str(miniature),
            remedy="Delete .wayfold/cache and make the book again.",
        ) from error
    return float(1.0 - values.mean() / 255.0)
