"""The sets among a book's photographs; how like they are is read once and kept."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from wayfold.app.identity import code_key
from wayfold.base.hashing import hash_values
from wayfold.photos.crew import Crew
from wayfold.photos.likeness import read_likeness
from wayfold.photos.model import Photo
from wayfold.photos.sets import PhotoSets, find_sets, list_candidates
from wayfold.project.cache import DiskCache
from wayfold.project.files import BookFolder

FEW = 4
"""So many are read sooner here than two processes start."""


def read_sets(folder: BookFolder, photos: Sequence[Photo]) -> PhotoSets:
    """Give the sets; only pictures taken soon after each other are looked at, the first time."""
    return find_sets(photos, _read_likeness(folder, list_candidates(photos)))


def _read_likeness(folder: BookFolder, photos: Sequence[Photo]) -> Mapping[str, str]:
    cache = DiskCache(folder.cache, "likeness")
    code = code_key("photos")
    likeness: dict[str, str] = {}
    unread = []
    for photo in photos:
        kept = cache.get(hash_values(photo.content, code))
        if kept is None:
            unread.append(photo)
        else:
            likeness[photo.id] = kept.decode()
    with Crew(2 if len(unread) > FEW else 0) as crew:
        for outcome in crew.run(read_likeness, unread):
            if isinstance(outcome.result, str):
                likeness[outcome.item.id] = outcome.result
                cache.put(hash_values(outcome.item.content, code), outcome.result.encode())
    return likeness
