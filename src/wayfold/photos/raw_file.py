"""Camera raws, through the optional reader. It stands the picture upright, so orientation is 1."""

from __future__ import annotations

from types import ModuleType
from typing import Any

from wayfold.photos.facts import Facts, Refusal
from wayfold.photos.kinds import Kind
from wayfold.photos.metadata import add_metadata
from wayfold.photos.raster_file import import_vips
from wayfold.photos.raw_exif import read_raw_exif
from wayfold.photos.refusals import (
    RefusedError,
    check_size,
    refuse_corrupt,
    refuse_raw,
    refuse_truncated,
)

_SIDEWAYS_FLIPS = (5, 6)  # LibRaw: 5 is 90° to the left, 6 is 90° to the right


def read_raw(path: str) -> Facts:
    """Read one file. Raises RefusedError; also where the raw reader is not installed."""
    rawpy = _import_reader()
    with _open(rawpy, path) as raw:
        sizes = raw.sizes
        check_size(sizes.raw_width, sizes.raw_height)
        width, height = sizes.iwidth, sizes.iheight
        if sizes.flip in _SIDEWAYS_FLIPS:
            width, height = height, width
        size = check_size(width, height)
        _unpack(rawpy, raw)
    return add_metadata(Facts(Kind.RAW.value, size), read_raw_exif(path))


def load_raw(path: str, may_halve: bool = False) -> Any:
    """Develop the raw to upright 8-bit sRGB pixels with the camera's white balance.

    ``may_halve`` takes each 2 x 2 cell of the sensor as one pixel, four times as fast.
    Raises RefusedError.
    """
    rawpy = _import_reader()
    with _open(rawpy, path) as raw:
        check_size(raw.sizes.raw_width, raw.sizes.raw_height)
        try:
            pixels = raw.postprocess(
                use_camera_wb=True,
                half_size=may_halve,
                output_bps=8,
                output_color=rawpy.ColorSpace.sRGB,
            )
        except rawpy.LibRawError as error:
            raise RefusedError(_explain(error)) from None
    return import_vips().Image.new_from_array(pixels, interpretation="srgb")


def name_reader() -> str:
    """Give the name of what reads raws, with its version. Raises RefusedError without one."""
    return f"LibRaw {'.'.join(str(part) for part in _import_reader().libraw_version)}"


def _import_reader() -> ModuleType:
    try:
        import rawpy
    except ImportError:
        raise RefusedError(refuse_raw()) from None
    return rawpy


def _open(rawpy: ModuleType, path: str) -> Any:
    try:
        return rawpy.imread(path)
    except rawpy.LibRawError as error:
        raise RefusedError(_explain(error)) from None


def _unpack(rawpy: ModuleType, raw: Any) -> None:
    """Read the sensor's data, undeveloped, to see that it is all there."""
    try:
        raw.unpack()
    except rawpy.LibRawError as error:
        raise RefusedError(_explain(error)) from None


def _explain(error: Exception) -> Refusal:
    text = error.args[0] if error.args else ""
    words = text.decode() if isinstance(text, bytes) else str(text)
    cut = "Input/output" in words or "IOError" in type(error).__name__ or "end of file" in words
    return refuse_truncated(words) if cut else refuse_corrupt(words)
