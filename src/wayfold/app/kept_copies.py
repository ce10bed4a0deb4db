"""Copies of photographs for the screen, kept beside the book by the photograph's content."""

from __future__ import annotations

import enum
from pathlib import Path

from wayfold.base.hashing import hash_values
from wayfold.photos.model import Photo
from wayfold.photos.small_copy import SMALL_PX
from wayfold.project.cache import DiskCache

_MAKING_VERSION = 1


class CopySize(enum.Enum):
    """How large a copy is: its longer side in pixels at most."""

    SMALL = SMALL_PX
    LARGE = 1600
    FULL = 65_500
    """Every pixel there is."""


def open_copies(cache: Path) -> DiskCache:
    """Give the copies below ``cache``."""
    return DiskCache(cache, "copies", ".jpg")


def name_copy(photo: Photo, size: CopySize) -> str:
    """Give what a copy is kept under."""
    return hash_values("copy", _MAKING_VERSION, photo.content, size.value)
