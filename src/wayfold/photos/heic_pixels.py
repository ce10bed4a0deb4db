"""The pixels of HEIC and HEIF files, upright as their decoder gives them."""

from __future__ import annotations

from typing import Any

from wayfold.photos.raster_pixels import import_vips
from wayfold.photos.refusals import RefusedError, check_size, refuse_corrupt


def load_heic(path: str) -> Any:
    """Give the upright pixels as an image of the imaging library, with its profile.

    Raises RefusedError where the file cannot be decoded.
    """
    pyvips = import_vips()
    image = open_heic(path)
    check_size(*image.size)
    try:
        width, height = image.size
        # A copy, since the decoder's own pixels are gone as soon as ``image`` is.
        pixels = pyvips.Image.new_from_memory(
            bytes(image.data), width, height, len(image.mode), "uchar"
        )
    except (MemoryError, RefusedError):
        raise
    except Exception as error:  # The decoder's errors are of many kinds.
        raise RefusedError(refuse_corrupt(str(error))) from None
    picture = pixels.copy(interpretation="b-w" if is_grey(image) else "srgb")
    if profile := image.info.get("icc_profile"):
        picture.set_type(pyvips.GValue.blob_type, "icc-profile-data", profile)
    return picture


def open_heic(path: str) -> Any:
    """Open a file by the decoder. Raises RefusedError where it cannot, OSError from the disk."""
    import pi_heif

    try:
        image = pi_heif.open_heif(path, remove_stride=True)
        # Only who asks for its size learns that a file has no main picture.
        _ = image.size
        return image
    except IndexError:
        raise RefusedError(refuse_corrupt("it holds no main picture")) from None
    except OSError as error:
        if error.errno is not None:
            raise
        raise RefusedError(refuse_corrupt(str(error))) from None
    except MemoryError:
        raise
    except Exception as error:
        raise RefusedError(refuse_corrupt(str(error))) from None


def is_grey(image: Any) -> bool:
    """Whether an opened picture has no colours."""
    return bool(image.mode.startswith("L"))
