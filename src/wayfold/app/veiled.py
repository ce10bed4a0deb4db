"""How light the photographs are that lie under translucent leaves, read once and kept."""

from __future__ import annotations

import itertools
import json
from collections.abc import Callable, Mapping

from wayfold.app.code_reach import function_key
from wayfold.base.hashing import hash_values
from wayfold.book.state import Book
from wayfold.layout.model import BookLayout, PictureFrame
from wayfold.photos.lightness import Lightness, measure_lightness
from wayfold.photos.model import Photo
from wayfold.plan.model import Plan
from wayfold.project.cache import DiskCache
from wayfold.project.files import BookFolder
from wayfold.story.model import BlockKind, Story
from wayfold.story.openings import list_bearing
from wayfold.words.leaves import list_ends

OFFERED = 3


def read_lightness(folder: BookFolder) -> Callable[[Photo], Lightness | None]:
    """Give what reads how light a photograph is, keeping it; None for one that cannot be read.

    It reads none twice. That a photograph cannot be read is told where its print picture is made.
    """
    cache = DiskCache(folder.cache, "lightness")
    code = function_key(measure_lightness)
    known: dict[str, Lightness | None] = {}

    def read(photo: Photo) -> Lightness | None:
        if photo.content not in known:
            known[photo.content] = read_first(photo)
        return known[photo.content]

    def read_first(photo: Photo) -> Lightness | None:
        key = hash_values(photo.content, code)
        kept = cache.get(key)
        if kept is not None:
            return _read(kept)
        measured = measure_lightness(photo)
        if measured is not None:
            fields = {"columns": measured.columns, "values": measured.values}
            cache.put(key, json.dumps(fields).encode())
        return measured

    return read


def measure_veiled(
    read: Callable[[Photo], Lightness | None],
    layout: BookLayout,
    plan: Plan,
    photos: Mapping[str, Photo],
) -> dict[str, Lightness]:
    """Give the lightness of every photograph under a leaf by its id, those that ``read`` gives."""
    ends = tuple(list_ends(plan))
    under = {end.after_page for end in ends} | {end.after_page + 1 for end in ends}
    shown = {
        frame.photo
        for page in layout.pages
        if page.number in under
        for frame in page.frames
        if isinstance(frame, PictureFrame)
    }
    found = {name: read(photos[name]) for name in sorted(shown & set(photos))}
    return {name: light for name, light in found.items() if light is not None}


def list_other_openings(
    read: Callable[[Photo], Lightness | None],
    book: Book,
    story: Story,
    plan: Plan,
    photos: Mapping[str, Photo],
    page: int,
) -> tuple[str, ...]:
    """Name up to ``OFFERED`` other pictures of a page's chapter that would bear its title.

    Nothing for a page that opens no chapter.
    """
    here = {p.block for p in plan.pages if p.number == page}
    opener = next((b for b in story.blocks if b.id in here), None)
    if opener is None or opener.kind is not BlockKind.OPENER or opener.chapter is None:
        return ()
    mapped = story.chapters[opener.chapter].mapped is not None
    others = [
        photos[name]
        for block in story.blocks
        if block.chapter == opener.chapter and block.kind in (BlockKind.SINGLE, BlockKind.GROUP)
        for name in block.photos
        if name in photos
    ]
    others.sort(key=lambda photo: -(photo.rating or 0))
    bearing = list_bearing(others, book, read, mapped)
    return tuple(photo.path.rsplit("/", 1)[-1] for photo in itertools.islice(bearing, OFFERED))


def _read(kept: bytes) -> Lightness:
    fields = json.loads(kept)
    return Lightness(fields["columns"], tuple(fields["values"]))
