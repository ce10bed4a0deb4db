"""The sets among a book's photographs; how like they are is read once and kept."""

from __future__ import annotations

from collections.abc import Sequence

from wayfold.app.kept_reading import read_kept
from wayfold.photos.likeness import read_likeness
from wayfold.photos.model import Photo
from wayfold.photos.sets import PhotoSets, find_sets, list_candidates
from wayfold.project.cache import DiskCache
from wayfold.project.files import BookFolder


def read_sets(folder: BookFolder, photos: Sequence[Photo]) -> PhotoSets:
    """Give the sets; only pictures taken soon after each other are looked at, the first time."""
    cache = DiskCache(folder.cache, "likeness")
    likeness = read_kept(cache, list_candidates(photos), read_likeness, str.encode, bytes.decode)
    return find_sets(photos, likeness)
