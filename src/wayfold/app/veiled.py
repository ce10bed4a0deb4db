"""How light the photographs are that lie under translucent leaves, read once and kept."""

from __future__ import annotations

import json
from collections.abc import Mapping

from wayfold.app.identity import code_key
from wayfold.base.hashing import hash_values
from wayfold.layout.model import BookLayout, PictureFrame
from wayfold.photos.lightness import Lightness, measure_lightness
from wayfold.photos.model import Photo
from wayfold.plan.model import Plan
from wayfold.project.cache import DiskCache
from wayfold.project.files import BookFolder
from wayfold.words.leaves import list_ends


def measure_veiled(
    folder: BookFolder, layout: BookLayout, plan: Plan, photos: Mapping[str, Photo]
) -> dict[str, Lightness]:
    """Give the lightness of every photograph under a leaf, by its id; unreadable ones are left out.

    That a photograph cannot be read is told where its print picture is made.
    """
    ends = tuple(list_ends(plan))
    under = {end.after_page for end in ends} | {end.after_page + 1 for end in ends}
    shown = {
        frame.photo
        for page in layout.pages
        if page.number in under
        for frame in page.frames
        if isinstance(frame, PictureFrame)
    }
    cache = DiskCache(folder.cache, "lightness")
    code = code_key("photos")
    known = {}
    for name in sorted(shown & set(photos)):
        key = hash_values(photos[name].content, code)
        kept = cache.get(key)
        if kept is not None:
            known[name] = _read(kept)
            continue
        measured = measure_lightness(photos[name])
        if measured is not None:
            known[name] = measured
            fields = {"columns": measured.columns, "values": measured.values}
            cache.put(key, json.dumps(fields).encode())
    return known


def _read(kept: bytes) -> Lightness:
    fields = json.loads(kept)
    return Lightness(fields["columns"], tuple(fields["values"]))
