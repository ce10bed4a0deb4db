"""Finding photographs again by their content, whatever their files are called now."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path

from wayfold.base.cache import Cache
from wayfold.base.progress import Progress
from wayfold.photos.crew import Crew
from wayfold.photos.read import content_key
from wayfold.photos.read_file import hash_file
from wayfold.photos.scan import FoundFile, scan_folders

_BATCH = 64


def find_contents(
    folder: Path, wanted: Collection[str], cache: Cache, progress: Progress, workers: int = 2
) -> dict[str, str]:
    """Give the path of a file for each content of ``wanted`` that lies in ``folder`` or below.

    It ends once all are found. ``cache`` is that of reading, so no file is gone through twice.
    Raises CancelledError when the person stops it.
    """
    files = sorted(scan_folders([folder]).pictures.values(), key=lambda f: f.path)
    found: dict[str, str] = {}
    with progress.task("Looking into files", len(files)) as task, Crew(workers) as crew:
        for start in range(0, len(files), _BATCH):
            batch = files[start : start + _BATCH]
            for path, content in _hash_batch(batch, cache, crew).items():
                if content in wanted:
                    found.setdefault(content, path)
            task.advance(len(batch))
            if len(found) == len(wanted):
                break
    return found


def _hash_batch(batch: list[FoundFile], cache: Cache, crew: Crew) -> dict[str, str]:
    """Give the content of each file that can be read, by its path."""
    contents: dict[str, str] = {}
    unknown: list[FoundFile] = []
    for file in batch:
        kept = cache.get(content_key(file))
        if kept is None:
            unknown.append(file)
        else:
            contents[file.path] = kept.decode()
    for outcome in crew.run(hash_file, unknown, portion=8):
        if isinstance(outcome.result, str):
            contents[outcome.item.path] = outcome.result
            cache.put(content_key(outcome.item), outcome.result.encode())
    return contents
