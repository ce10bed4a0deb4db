"""The sets among a book's photographs."""

from __future__ import annotations

from collections.abc import Sequence

from wayfold.photos.model import Photo
from wayfold.photos.sets import PhotoSets, find_sets


def list_sets(photos: Sequence[Photo]) -> PhotoSets:
    """Give the sets among photographs that were looked at."""
    return find_sets(photos, {p.id: p.look.likeness for p in photos if p.look is not None})
