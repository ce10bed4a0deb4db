"""TIFF pictures in 8-bit L*a*b*, which the imaging library (8.18) does not open.

Pillow does, and stands them upright by itself, so their orientation counts as 1.
"""

from __future__ import annotations

from typing import Any

from wayfold.photos.refusals import RefusedError, check_size, refuse_corrupt


def is_lab(path: str) -> bool:
    """Whether a TIFF file holds 8-bit L*a*b*, by its header."""
    from PIL import Image

    try:
        with Image.open(path, formats=("TIFF",)) as image:
            return image.mode == "LAB"
    except (OSError, ValueError, SyntaxError):
        return False


def load_lab(path: str) -> Any:
    """Give the upright pixels as sRGB. Raises RefusedError where they cannot be decoded."""
    import numpy as np
    import pyvips
    from PIL import Image, ImageCms

    try:
        with Image.open(path, formats=("TIFF",)) as image:
            check_size(*image.size)
            lab, srgb = ImageCms.createProfile("LAB"), ImageCms.createProfile("sRGB")
            pixels = ImageCms.profileToProfile(image, lab, srgb, outputMode="RGB")
    except (MemoryError, RefusedError):
        raise
    except Exception as error:  # A parser over hostile bytes may stumble over anything.
        raise RefusedError(refuse_corrupt(str(error))) from None
    if pixels is None:
        raise RefusedError(refuse_corrupt("its colours cannot be converted"))
    return pyvips.Image.new_from_array(np.asarray(pixels), interpretation="srgb")
