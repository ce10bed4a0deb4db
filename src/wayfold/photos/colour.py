"""Colour on the way to paper and screen: which pixels are kept in their space, which converted."""

from __future__ import annotations

import functools
import io
from typing import Any

from wayfold.photos import profiles
from wayfold.photos.make_profile import SPACES, make_profile
from wayfold.photos.raster_pixels import import_vips

_PROFILE = "icc-profile-data"
_INTENT = {"intent": "relative", "black_point_compensation": True}


def lay_on_white(image: Any) -> Any:
    """Give the picture without transparency, as it looks on white paper."""
    if not image.hasalpha():
        return image
    white = 65535 if image.format == "ushort" else 255
    return image.flatten(background=[white] * (image.bands - 1)).cast(image.format)


def prepare_for_print(image: Any, profile_name: str) -> Any:
    """Give 8-bit RGB pixels with a profile.

    RGB pictures stay in their own space: a printer's gamut is no sRGB, and what a camera saw
    beyond it may well be printable. Those without a profile are in the space that
    ``profile_name`` tells (sRGB where it is none of the common ones). CMYK, Lab and grey become
    sRGB.
    """
    if not _is_rgb(image):
        return _attach(_convert_to_srgb(image), make_profile(profiles.SRGB))
    image, profile = _settle_rgb(image, profile_name)
    return _attach(image, profile)


def prepare_for_screen(image: Any, profile_name: str) -> Any:
    """Give 8-bit sRGB pixels, relative colorimetric with black-point compensation."""
    if not _is_rgb(image):
        return _convert_to_srgb(image)
    image, profile = _settle_rgb(image, profile_name)
    if profile == make_profile(profiles.SRGB) or profiles.name_profile(profile) == profiles.SRGB:
        return image
    converted = _transform(_attach(image, profile))
    return image if converted is None else converted


def _is_rgb(image: Any) -> bool:
    return bool(image.bands == 3 and image.interpretation in ("srgb", "rgb16", "rgb", "scrgb"))


def _settle_rgb(image: Any, profile_name: str) -> tuple[Any, bytes]:
    """Give 8-bit RGB pixels and the profile they are in."""
    image = image.colourspace("srgb") if image.interpretation != "rgb" else image.cast("uchar")
    profile = _embedded(image)
    if profiles.read_space(profile) == "RGB" and _is_usable(profile):
        return image, profile
    return image, make_profile(profile_name if profile_name in SPACES else profiles.SRGB)


def _convert_to_srgb(image: Any) -> Any:
    if image.interpretation == "cmyk":
        converted = _transform(image, input_profile="cmyk")  # for pictures without a profile
        return image.colourspace("srgb") if converted is None else converted
    if profiles.read_space(_embedded(image)) == "GRAY" and image.bands == 1:
        converted = _transform(image)
        if converted is not None:
            return converted
    if image.interpretation not in ("b-w", "grey16", "lab", "labs", "lch", "xyz", "scrgb"):
        # Pixels of unknown meaning: one band is grey, three or more begin with red, green, blue.
        image = image.extract_band(0, n=3 if image.bands >= 3 else 1)
        deep = image.format == "ushort"
        names = ("rgb16", "grey16") if deep else ("srgb", "b-w")
        image = image.copy(interpretation=names[0] if image.bands == 3 else names[1])
    return image.colourspace("srgb")


def _transform(image: Any, **options: Any) -> Any | None:
    """Convert by the embedded profile to 8-bit sRGB; None where the profile is unusable."""
    pyvips = import_vips()
    try:
        return image.icc_transform("srgb", embedded=True, **_INTENT, **options)
    except pyvips.Error:
        return None


@functools.lru_cache(maxsize=64)
def _is_usable(profile: bytes) -> bool:
    """Whether colours can be converted by a profile; a broken one would spoil the print file."""
    from PIL import ImageCms

    try:
        source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        ImageCms.buildTransform(source, ImageCms.createProfile("sRGB"), "RGB", "RGB")
    except (ImageCms.PyCMSError, OSError):
        return False
    return True


def _embedded(image: Any) -> bytes:
    return bytes(image.get(_PROFILE)) if image.get_typeof(_PROFILE) else b""


def _attach(image: Any, profile: bytes) -> Any:
    pyvips = import_vips()
    image = image.copy()
    image.set_type(pyvips.GValue.blob_type, _PROFILE, profile)
    return image
