"""The pixels of JPEG, PNG, TIFF and WebP files, and the imaging library that decodes them."""

from __future__ import annotations

from typing import Any

from wayfold.photos.kinds import Kind
from wayfold.photos.lab_tiff import is_lab, load_lab
from wayfold.photos.png_chunks import read_png_metadata
from wayfold.photos.refusals import (
    Refusal,
    refuse_corrupt,
    refuse_memory,
    refuse_truncated,
    refuse_unsupported,
)

_CUT = ("truncat", "premature", "end of", "not enough data")
_UNSUPPORTED = ("not supported", "not configured", "unsupported")


def load_stored(path: str, kind: Kind, shrink: int = 1) -> Any:
    """Open the stored pixels of the first frame for one pass from top to bottom.

    ``shrink`` (1, 2, 4 or 8) is for JPEG only, whose decoder gives smaller pictures sooner.
    Raises pyvips.Error.
    """
    image = import_vips().Image
    streaming = {"access": "sequential"}
    match kind:
        case Kind.JPEG:
            # Cameras leave harmless oddities behind; only missing pixels count.
            return image.jpegload(path, shrink=shrink, fail_on="truncated", **streaming)
        case Kind.PNG:
            return image.pngload(path, fail_on="error", unlimited=True, **streaming)
        case Kind.TIFF:
            if is_lab(path):
                return load_lab(path)
            return image.tiffload(path, fail_on="error", **streaming)
        case Kind.WEBP:
            return image.webpload(path, fail_on="error", **streaming)
    raise ValueError(f"{kind} is no raster file")


def import_vips() -> Any:
    """Give the imaging library, told to remember nothing.

    Every result is used once here; and what is kept by file name could show an edited picture as
    it was.
    """
    import pyvips

    pyvips.cache_set_max(0)
    return pyvips


def explain_vips(error: Any, path: str, kind: Kind) -> Refusal:
    """Put into words why the imaging library could not decode a file."""
    lines = [line.strip() for line in str(error.detail or "").splitlines()]
    words = [line.split(": ", 1)[-1] for line in lines if line]
    cut = [word for word in words if any(mark in word.lower() for mark in _CUT)]
    detail = cut[0] if cut else words[-1] if words else f"damaged {kind} data"
    if "out of memory" in " ".join(words):
        return refuse_memory()
    if any(mark in detail for mark in _UNSUPPORTED):
        return refuse_unsupported(detail)
    if cut or (kind is Kind.PNG and not read_png_metadata(path).is_whole):
        return refuse_truncated(detail)
    return refuse_corrupt(detail)
