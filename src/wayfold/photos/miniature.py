"""Print pictures at the size of a stamp, for drawings that show whole pages small."""

from __future__ import annotations

from pathlib import Path

from wayfold.photos.encode import encode_for_screen
from wayfold.photos.place_file import place_file
from wayfold.photos.raster_file import import_vips


def make_miniature(source: Path, longest_px: int, target: Path) -> None:
    """Write an sRGB JPEG of a print picture, its longer side at most ``longest_px``.

    The decoder gives it small at once, so this takes a few milliseconds. Raises UserError where
    the target's folder cannot be written to.
    """
    image = import_vips().Image.thumbnail(
        str(source), longest_px, height=longest_px, size="down", output_profile="srgb"
    )
    place_file(target, encode_for_screen(image))
