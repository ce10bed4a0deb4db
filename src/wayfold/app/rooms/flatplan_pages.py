"""Small true pictures of the pages: drawn when they are first looked at, and kept by content."""

from __future__ import annotations

import threading
from collections import OrderedDict
from weakref import WeakKeyDictionary

from wayfold.app.identity import code_key, library_key
from wayfold.app.kept_copies import CopySize
from wayfold.app.rooms.pictures_small import find_copies
from wayfold.app.session import Session
from wayfold.app.shown import Shown
from wayfold.base.errors import NotFoundError
from wayfold.base.hashing import hash_values
from wayfold.base.memory import Memory
from wayfold.base.units import ppi_of
from wayfold.drawing.items import Drawing
from wayfold.drawing.pictures import list_pictures
from wayfold.photos.encode import lay_on_white
from wayfold.project.cache import DiskCache
from wayfold.typeset.standin import make_standin

PAGE_PX = 330
"""How high a small page is: twice what it takes on the screen, for screens of fine grain."""
REMEMBERED = 4
"""Books whose pages can still be drawn: the one that is open, and what was tried last."""


class SmallPages:
    """Draws pages small, as JPEG. Safe to use from several threads."""

    def __init__(self, session: Session) -> None:
        """Keep the pages of the open book in its cache."""
        self._copies = find_copies(session)
        self._memory = session.memory
        self._kept = DiskCache(session.folder.cache, "small pages", ".jpg")
        self._lock = threading.Lock()
        self._known: OrderedDict[Shown, tuple[str, ...]] = OrderedDict()

    def list_keys(self, shown: Shown) -> tuple[str, ...]:
        """Give the key of each page's picture, in the pages' order."""
        with self._lock:
            keys = self._known.pop(shown, None) or _name_pages(shown, self._memory)
            self._known[shown] = keys
            while len(self._known) > REMEMBERED:
                self._known.popitem(last=False)
        return keys

    def get(self, key: str) -> bytes:
        """Give the picture by its key. Raises NotFoundError for one that no page has any more."""
        kept = self._kept.get(key)
        if kept is not None:
            return kept
        with self._lock:
            found = [(shown, keys.index(key)) for shown, keys in self._known.items() if key in keys]
        if not found:
            raise NotFoundError("No page of the book looks like this any more.", where=key)
        shown, at = found[-1]
        whole, data = self._draw(shown, shown.results.drawings[at])
        if whole:
            self._kept.put(key, data)
        return data

    def _draw(self, shown: Shown, drawing: Drawing) -> tuple[bool, bytes]:
        """Give whether every photograph could be read, and the picture; the others are grey."""
        results = shown.results
        rasters, whole = {}, True
        for picture in list_pictures(drawing):
            wash = results.painted.get(picture.asset)
            if wash is not None:
                rasters[picture.asset] = shown.paint(wash).miniature.read_bytes()
                continue
            try:
                photo = results.photos[picture.asset]
                rasters[picture.asset] = self._copies.get(photo, CopySize.SMALL)
            except NotFoundError:
                rasters[picture.asset], whole = make_standin(picture.asset), False
        ppi = ppi_of(PAGE_PX, drawing.size.height)
        png = shown.draw_png(drawing, ppi, lambda picture: rasters[picture.asset])
        return whole, lay_on_white(png)


def _name_pages(shown: Shown, memory: Memory) -> tuple[str, ...]:
    results = shown.results
    code = hash_values(code_key("typeset", "drawing", "photos"), library_key(), PAGE_PX)
    keys = []
    for drawing in results.drawings:
        photos = (results.photos.get(picture.asset) for picture in list_pictures(drawing))
        contents = [photo.content for photo in photos if photo is not None]
        drawn = memory.recall(hash_values, drawing, at=drawing.label)
        keys.append(hash_values(drawn, contents, shown.font_key, code))
    return tuple(keys)


_SMALL: WeakKeyDictionary[Session, SmallPages] = WeakKeyDictionary()


def find_small_pages(session: Session) -> SmallPages:
    """Give the small pages of the open book, the same ones for all who ask."""
    if session not in _SMALL:
        _SMALL[session] = SmallPages(session)
    return _SMALL[session]
