"""JPEG, PNG, TIFF and WebP files: header, metadata, and whether the pixels are all there."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from wayfold.photos import profiles
from wayfold.photos.exif import ExifData, read_exif
from wayfold.photos.facts import Facts
from wayfold.photos.iptc import IptcData, read_iptc
from wayfold.photos.jpeg_file import has_whole_scans
from wayfold.photos.kinds import Kind
from wayfold.photos.metadata import add_metadata
from wayfold.photos.model import SizePx
from wayfold.photos.orientation import stand_upright
from wayfold.photos.png_chunks import read_png_metadata
from wayfold.photos.raster_pixels import explain_vips, import_vips, load_stored
from wayfold.photos.refusals import RefusedError, check_size, refuse_corrupt
from wayfold.photos.xmp import parse_xmp

if TYPE_CHECKING:
    from PIL.ImageFile import ImageFile

_PILLOW_FORMATS = {
    Kind.JPEG: ("JPEG", "MPO"),
    Kind.PNG: ("PNG",),
    Kind.TIFF: ("TIFF",),
    Kind.WEBP: ("WEBP",),
}
_TIFF_WIDTH, _TIFF_HEIGHT, _TIFF_ORIENTATION, _TIFF_XMP = 256, 257, 274, 700
_SHRINKABLE_PX = 64


def read_raster(path: str, kind: Kind) -> Facts:
    """Read one file. Raises RefusedError where it is no whole picture, OSError from the disk."""
    from PIL import Image, UnidentifiedImageError

    Image.MAX_IMAGE_PIXELS = None  # check_size has the say, and says it in words.
    try:
        with Image.open(path, formats=_PILLOW_FORMATS[kind]) as image:
            facts = _read_header(image, path, kind)
    except UnidentifiedImageError:
        raise RefusedError(refuse_corrupt(f"its {kind} header is damaged")) from None
    except (RefusedError, MemoryError):
        raise
    except OSError as error:
        if error.errno is not None:
            raise
        raise RefusedError(refuse_corrupt(str(error))) from None
    except Exception as error:  # A parser over hostile bytes may stumble over anything.
        raise RefusedError(refuse_corrupt(f"{type(error).__name__}: {error}")) from None
    check_pixels(path, kind, facts.size)
    return facts


def check_pixels(path: str, kind: Kind, size: SizePx) -> None:
    """Find out whether all pixels of ``size`` are there. Raises RefusedError, OSError.

    A JPEG tells so by its markers; where they leave a doubt, and for all other kinds, the file is
    decoded once, streaming, and nothing kept (JPEG at an eighth of its size).
    """
    if kind is Kind.JPEG and has_whole_scans(path):
        return
    pyvips = import_vips()
    can_shrink = kind is Kind.JPEG and min(size.width_px, size.height_px) >= _SHRINKABLE_PX
    try:
        load_stored(path, kind, shrink=8 if can_shrink else 1).avg()
    except pyvips.Error as error:
        raise RefusedError(explain_vips(error, path, kind)) from None


def _read_header(image: ImageFile, path: str, kind: Kind) -> Facts:
    tags: Any = getattr(image, "tag_v2", {})
    # Pillow stands TIFF pictures upright by itself; the tags give the stored size.
    width, height = (tags[_TIFF_WIDTH], tags[_TIFF_HEIGHT]) if kind is Kind.TIFF else image.size
    stored = check_size(width, height)
    exif, packet = _read_blocks(image, path, kind)
    if image.mode == "LAB":
        exif, stored = replace(exif, orientation=1), SizePx(*image.size)
    return add_metadata(
        Facts(
            file_format=kind.value,
            size=stand_upright(stored, exif.orientation),
            orientation=exif.orientation,
            profile=_name_colour(image, exif),
        ),
        exif,
        parse_xmp(packet),
        _read_iptc(image),
    )


def _read_blocks(image: ImageFile, path: str, kind: Kind) -> tuple[ExifData, bytes | str]:
    from PIL.Image import Exif

    packet = image.info.get("xmp") or b""
    block = image.info.get("exif") or b""
    exif = Exif()
    try:
        if kind is Kind.TIFF:
            exif = image.getexif()
            if _TIFF_ORIENTATION not in image.tag_v2:  # type: ignore[attr-defined]
                exif.pop(_TIFF_ORIENTATION, None)  # XMP's, which viewers do not heed
            packet = packet or image.tag_v2.get(_TIFF_XMP, b"")  # type: ignore[attr-defined]
        elif kind is Kind.PNG:
            late = read_png_metadata(path)
            block, packet = block or late.exif, packet or late.xmp
            if not block and "Raw profile type exif" in image.info:
                exif = image.getexif()
        if block:
            exif.load(block)
        return read_exif(exif), packet if isinstance(packet, bytes | str) else b""
    except Exception:  # Damaged metadata: the picture itself may well be whole.
        return ExifData(), packet if isinstance(packet, bytes | str) else b""


def _read_iptc(image: ImageFile) -> IptcData:
    from PIL import IptcImagePlugin

    try:
        return read_iptc(IptcImagePlugin.getiptcinfo(image) or {})
    except Exception:  # as above
        return IptcData()


def _name_colour(image: ImageFile, exif: ExifData) -> str:
    profile = image.info.get("icc_profile")
    wanted = {"L": "GRAY", "LA": "GRAY", "I": "GRAY", "F": "GRAY", "1": "GRAY"}
    wanted |= {"CMYK": "CMYK", "LAB": "Lab"}
    space = wanted.get(image.mode.split(";")[0], "RGB")
    if isinstance(profile, bytes) and profiles.read_space(profile) == space:
        return profiles.name_profile(profile)
    return profiles.ADOBE_RGB if exif.is_adobe_rgb else profiles.SRGB
