"""Files made of others, left as they lie while what they are made of stays the same."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from wayfold.app.identity import list_key
from wayfold.base.hashing import hash_values
from wayfold.project.cache import DiskCache
from wayfold.project.files import BookFolder


def write_unless_there(
    folder: BookFolder, target: Path, content: object, write: Callable[[], None]
) -> None:
    """Write a file unless it lies there as it was written for the same content."""
    cache = DiskCache(folder.cache, "aids")
    key = hash_values(target.name, content)
    if cache.get(key) != list_key([target]).encode():
        write()
        cache.put(key, list_key([target]).encode())
