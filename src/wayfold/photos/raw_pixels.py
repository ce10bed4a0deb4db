"""The pixels of camera raws, upright, through the optional reader."""

from __future__ import annotations

from types import ModuleType
from typing import Any

from wayfold.photos.raster_pixels import import_vips
from wayfold.photos.refusals import (
    Refusal,
    RefusedError,
    check_size,
    refuse_corrupt,
    refuse_raw,
    refuse_truncated,
)


def load_raw(path: str, may_halve: bool = False) -> Any:
    """Develop the raw to upright 8-bit sRGB pixels with the camera's white balance.

    ``may_halve`` takes each 2 x 2 cell of the sensor as one pixel, four times as fast.
    Raises RefusedError.
    """
    rawpy = import_reader()
    with open_raw(rawpy, path) as raw:
        check_size(raw.sizes.raw_width, raw.sizes.raw_height)
        try:
            pixels = raw.postprocess(
                use_camera_wb=True,
                half_size=may_halve,
                output_bps=8,
                output_color=rawpy.ColorSpace.sRGB,
            )
        except rawpy.LibRawError as error:
            raise RefusedError(explain_libraw(error)) from None
    return import_vips().Image.new_from_array(pixels, interpretation="srgb")


def name_reader() -> str:
    """Give the name of what reads raws, with its version. Raises RefusedError without one."""
    return f"LibRaw {'.'.join(str(part) for part in import_reader().libraw_version)}"


def import_reader() -> ModuleType:
    """Give the reader. Raises RefusedError where it is not installed."""
    try:
        import rawpy
    except ImportError:
        raise RefusedError(refuse_raw()) from None
    return rawpy


def open_raw(rawpy: ModuleType, path: str) -> Any:
    """Open a raw by the reader. Raises RefusedError where it cannot."""
    try:
        return rawpy.imread(path)
    except rawpy.LibRawError as error:
        raise RefusedError(explain_libraw(error)) from None


def explain_libraw(error: Exception) -> Refusal:
    """Put into words why the reader could not decode a raw."""
    text = error.args[0] if error.args else ""
    words = text.decode() if isinstance(text, bytes) else str(text)
    cut = "Input/output" in words or "IOError" in type(error).__name__ or "end of file" in words
    return refuse_truncated(words) if cut else refuse_corrupt(words)
