"""What camera raws tell, through the optional reader. It stands them upright: orientation is 1."""

from __future__ import annotations

from types import ModuleType
from typing import Any

from wayfold.photos.facts import Facts
from wayfold.photos.kinds import Kind
from wayfold.photos.metadata import add_metadata
from wayfold.photos.raw_exif import read_raw_exif
from wayfold.photos.raw_pixels import explain_libraw, import_reader, open_raw
from wayfold.photos.refusals import RefusedError, check_size

_SIDEWAYS_FLIPS = (5, 6)  # LibRaw: 5 is 90° to the left, 6 is 90° to the right


def read_raw(path: str) -> Facts:
    """Read one file. Raises RefusedError; also where the raw reader is not installed."""
    rawpy = import_reader()
    with open_raw(rawpy, path) as raw:
        sizes = raw.sizes
        check_size(sizes.raw_width, sizes.raw_height)
        width, height = sizes.iwidth, sizes.iheight
        if sizes.flip in _SIDEWAYS_FLIPS:
            width, height = height, width
        size = check_size(width, height)
        _unpack(rawpy, raw)
    return add_metadata(Facts(Kind.RAW.value, size), read_raw_exif(path))


def _unpack(rawpy: ModuleType, raw: Any) -> None:
    """Read the sensor's data, undeveloped, to see that it is all there."""
    try:
        raw.unpack()
    except rawpy.LibRawError as error:
        raise RefusedError(explain_libraw(error)) from None
