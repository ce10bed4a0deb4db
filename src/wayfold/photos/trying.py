"""Trying the kinds of picture: a small one of each is made, and read as a photograph would be."""

from __future__ import annotations

from pathlib import Path

from wayfold.photos.kinds import Kind
from wayfold.photos.raster_pixels import import_vips, load_stored
from wayfold.photos.read_file import read_file
from wayfold.photos.refusals import Refusal
from wayfold.photos.scan import FoundFile

TRIED_KINDS = (Kind.JPEG, Kind.PNG, Kind.TIFF, Kind.WEBP)
"""The kinds that can be made here as well as read."""
_SIZE = (96, 64)
_COLOUR = (60, 120, 200)
_OFF = 4.0
"""A channel's mean may differ by so much (of 255) after lossy coding."""


def try_kind(kind: Kind, scratch: Path) -> str:
    """Make a picture of ``kind`` in ``scratch`` and read it. Raises whatever goes wrong."""
    from PIL import Image

    path = scratch / f"tried.{kind.value.lower()}"
    Image.new("RGB", _SIZE, _COLOUR).save(path, kind.value.upper())
    status = path.stat()
    facts = read_file(FoundFile(path.as_posix(), status.st_size, status.st_mtime_ns))
    if isinstance(facts, Refusal):
        raise RuntimeError(facts.message)
    pixels = load_stored(path.as_posix(), kind)
    means = [band.avg() for band in pixels.copy_memory().bandsplit()[:3]]
    if any(abs(mean - meant) > _OFF for mean, meant in zip(means, _COLOUR, strict=True)):
        raise RuntimeError("its colours come back as others")
    return f"Opens (libvips {'.'.join(str(import_vips().version(n)) for n in range(3))})."


def try_heic() -> str:
    """Say what decodes HEIC; none can be made here. Raises where nothing does."""
    import pi_heif

    known = pi_heif.libheif_info()
    decoders = [words for words in known["decoders"].values() if "HEVC" in words]
    if not decoders:
        raise RuntimeError("the reader of HEIC has no decoder for HEVC")
    return f"Opens (libheif {known['libheif']}, {decoders[0]})."
