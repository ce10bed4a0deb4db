"""Turns a source picture into what a camera would have stored: profile, orientation, file form."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

from PIL import Image, ImageCms, ImageOps, PngImagePlugin

from wayfold.base.errors import UserError
from wayfold.base.geometry import Rect
from wayfold.demo.metadata import make_exif, make_iptc_segment, make_xmp
from wayfold.demo.model import CameraBody, Shot
from wayfold.demo.profiles import write_profile

JPEG_QUALITY = 95
_XMP_TAG = 700  # TIFF tag of the XMP packet (XMP specification, part 3)
# How upright pixels must be turned so that a reader who obeys the orientation stands them up.
_TURNS = {6: Image.Transpose.ROTATE_90, 8: Image.Transpose.ROTATE_270}


def make_copy(source: Path, shot: Shot, body: CameraBody) -> bytes:
    """Give the bytes of the copy of ``source`` that the journey tells of.

    Nothing of the source's own metadata is kept. The same source and shot give the same bytes.
    Raises UserError where the source cannot be read as a picture.
    """
    upright = _read_upright(source)
    if shot.crop is not None:
        upright = upright.crop(_crop_box(shot.crop, upright.size))
    icc = None
    if shot.profile != "none":
        icc = write_profile(shot.profile)
        upright = _convert_profile(upright, _srgb(), icc)
    turn = _TURNS.get(shot.stored_as)
    return _encode(upright if turn is None else upright.transpose(turn), shot, body, icc)


def _read_upright(source: Path) -> Image.Image:
    try:
        with Image.open(source) as opened:
            opened.load()
            profile = opened.info.get("icc_profile")
            picture = ImageOps.exif_transpose(opened).convert("RGB")
    except (OSError, ValueError, SyntaxError) as error:
        raise UserError(
            f"The picture cannot be read: {error}",
            where=str(source),
            remedy="Delete this file; the demo will then fetch it again.",
        ) from error
    if profile:
        picture = _convert_profile(picture, profile, _srgb())
    # A fresh picture, so that no text or profile of the source can slip through when saving.
    return Image.frombytes("RGB", picture.size, picture.tobytes())


def _convert_profile(picture: Image.Image, source: bytes, target: bytes) -> Image.Image:
    converted = ImageCms.profileToProfile(
        picture,
        ImageCms.ImageCmsProfile(io.BytesIO(source)),
        ImageCms.ImageCmsProfile(io.BytesIO(target)),
        renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC,
        outputMode="RGB",
    )
    assert converted is not None
    return converted


def _srgb() -> bytes:
    return ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()


def _crop_box(crop: Rect, size: tuple[int, int]) -> tuple[int, int, int, int]:
    width, height = size
    return (
        round(crop.x * width),
        round(crop.y * height),
        round(crop.right * width),
        round(crop.bottom * height),
    )


def _encode(picture: Image.Image, shot: Shot, body: CameraBody, icc: bytes | None) -> bytes:
    exif = make_exif(shot, body)
    xmp = make_xmp(shot) if shot.caption_in == "xmp" else b""
    settings: dict[str, Any] = {"icc_profile": icc} if icc else {}
    match shot.file_format:
        case "JPEG":
            if xmp:
                settings["xmp"] = xmp
            if shot.caption_in == "iptc":
                settings["extra"] = make_iptc_segment(shot)
            settings |= {"quality": JPEG_QUALITY, "subsampling": 0, "exif": exif}
        case "PNG":
            text = PngImagePlugin.PngInfo()
            if xmp:
                text.add_itxt("XML:com.adobe.xmp", xmp.decode("utf-8"))
            settings |= {"pnginfo": text, "exif": exif, "compress_level": 6}
        case "TIFF":
            if xmp:
                exif[_XMP_TAG] = xmp
            # As bytes and uncompressed: only so does the writer take the EXIF directory along.
            settings |= {"exif": exif.tobytes()}
        case "WebP":
            settings |= {"quality": JPEG_QUALITY, "method": 4, "exif": exif, "xmp": xmp}
        case other:
            raise ValueError(f"the demo writes no {other} files")
    out = io.BytesIO()
    picture.save(out, shot.file_format, **settings)
    return out.getvalue()
