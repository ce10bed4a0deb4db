"""What HEIC and HEIF files tell. Their decoder stands pictures upright, so orientation is 1."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from wayfold.photos import profiles
from wayfold.photos.exif import ExifData, read_exif
from wayfold.photos.facts import Facts, Remark
from wayfold.photos.heic_pixels import is_grey, open_heic
from wayfold.photos.kinds import Kind
from wayfold.photos.metadata import add_metadata
from wayfold.photos.refusals import RefusedError, check_size, refuse_corrupt, refuse_truncated
from wayfold.photos.xmp import parse_xmp

# Code points of ITU-T H.273.
_P3_PRIMARIES = 12
_HDR_TRANSFERS = (16, 18)

_HDR = Remark(
    "photos.hdr",
    "The picture is coded for high dynamic range screens; its tones may look flat on paper.",
    "Export it as JPEG with the camera or a photo editor if they do.",
)


def read_heic(path: str) -> Facts:
    """Read one file. Raises RefusedError where it is no whole picture, OSError from the disk."""
    _check_boxes(path)
    image = open_heic(path)
    size = check_size(*image.size)
    remarks = (_HDR,) if _transfer(image) in _HDR_TRANSFERS else ()
    return add_metadata(
        Facts(Kind.HEIC.value, size, profile=_name_colour(image), remarks=remarks),
        _read_exif(image),
        parse_xmp(image.info.get("xmp") or b""),
    )


def _check_boxes(path: str) -> None:
    """Refuse a file whose boxes reach past its end: it was cut. No pixel need be decoded for it.

    ISO/IEC 14496-12, 4.2: size and type; size 1 puts the true size behind, 0 means to the end.
    """
    end = Path(path).stat().st_size
    with open(path, "rb") as file:  # noqa: PTH123
        place = 0
        while place + 8 <= end:
            file.seek(place)
            head = file.read(16)
            size = int.from_bytes(head[:4], "big")
            if size == 1:
                size = int.from_bytes(head[8:16], "big")
            if size == 0:
                return
            if size < 8:
                raise RefusedError(refuse_corrupt("its boxes are damaged"))
            place += size
    if place > end:
        raise RefusedError(refuse_truncated(f"bytes missing: {place - end}"))


def _read_exif(image: Any) -> ExifData:
    from PIL.Image import Exif

    exif = Exif()
    try:
        exif.load(image.info.get("exif") or b"")
        return read_exif(exif)
    except Exception:  # Damaged metadata: the picture itself may well be whole.
        return ExifData()


def _transfer(image: Any) -> int:
    return int((image.info.get("nclx_profile") or {}).get("transfer_characteristics", 2))


def _name_colour(image: Any) -> str:
    profile = image.info.get("icc_profile")
    if profile and profiles.read_space(profile) == ("GRAY" if is_grey(image) else "RGB"):
        return profiles.name_profile(profile)
    primaries = (image.info.get("nclx_profile") or {}).get("color_primaries")
    return profiles.DISPLAY_P3 if primaries == _P3_PRIMARIES else profiles.SRGB
