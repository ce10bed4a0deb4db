"""Pictures that were painted here: their pixels as files for print and for drawings of pages."""

from __future__ import annotations

from pathlib import Path

from wayfold.disk.placing import write_whole
from wayfold.photos import profiles
from wayfold.photos.colour import prepare_for_print
from wayfold.photos.derive import shrink_to_miniature
from wayfold.photos.encode import PALE_QUALITY, encode_for_print, encode_for_screen
from wayfold.photos.model import SizePx
from wayfold.photos.raster_pixels import import_vips


def write_painted(pixels: bytes, size: SizePx, ppi: float, target: Path, miniature: Path) -> None:
    """Write pixels of sRGB (rows from the top, three bytes each) as a print JPEG and a miniature.

    Raises UserError where a file cannot be written.
    """
    pyvips = import_vips()
    image = pyvips.Image.new_from_memory(pixels, size.width_px, size.height_px, 3, "uchar")
    image = prepare_for_print(image.copy(interpretation="srgb"), profiles.SRGB)
    write_whole(miniature, encode_for_screen(shrink_to_miniature(image)), lasting=False)
    write_whole(target, encode_for_print(image, ppi, PALE_QUALITY), lasting=False)
