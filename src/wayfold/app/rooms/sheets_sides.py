"""The sides of the sheets as they go to the printer: pages, marks, which way up; small."""

from __future__ import annotations

import threading
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from weakref import WeakKeyDictionary

from wayfold.app.session import Session
from wayfold.app.setting import list_faces
from wayfold.app.shown import Shown
from wayfold.base.errors import NotFoundError
from wayfold.base.hashing import hash_values
from wayfold.drawing.items import Drawing, Picture
from wayfold.drawing.pictures import picture_key
from wayfold.photos.derive import make_preview
from wayfold.press.ledger import SheetInk, SideInk, trace_sheets
from wayfold.press.model import InterleafSheet, PressSheet, SideName
from wayfold.press.side_drawing import draw_side
from wayfold.project.cache import DiskCache

SMALL_PX = 420
"""The longer side of a picture on a side that is drawn a hand wide on the screen."""
_HANDS = threading.BoundedSemaphore(2)
"""Pictures decoded at once: more would not be quicker."""


@dataclass(frozen=True, slots=True)
class Inked:
    """A sheet and the ink on it, with the drawings that its sides count."""

    sheet: PressSheet | InterleafSheet
    ink: SheetInk
    drawings: tuple[Drawing, ...]


class Sides:
    """The sheet sides of one state of a book."""

    def __init__(self, shown: Shown) -> None:
        self._results = shown.results

    @cached_property
    def by_name(self) -> Mapping[str, Inked]:
        """The sheets by what they are marked by: "2.1", "i3"."""
        results = self._results
        contents = {photo.id: photo.content for photo in results.catalogue.photos}
        faces = tuple(list_faces(results.interleaf_sheets, results.leaves))
        papers = trace_sheets(results.sheets, results.drawings, contents)
        leaves = trace_sheets(results.interleaf_sheets, faces, contents)
        found = [
            *(Inked(*of, results.drawings) for of in zip(results.sheets, papers, strict=True)),
            *(Inked(*of, faces) for of in zip(results.interleaf_sheets, leaves, strict=True)),
        ]
        return {name_sheet(inked.sheet): inked for inked in found}

    @cached_property
    def keys(self) -> Mapping[tuple[str, SideName], str]:
        """What changes whenever a side may look different."""
        return {
            (name, side): _key(ink)
            for name, inked in self.by_name.items()
            for side, ink in inked.ink.sides
        }

    def find_key(self, name: str, side: str) -> str:
        """Give a side's key. Raises NotFoundError for a sheet that the book has not."""
        if name not in self.by_name:
            raise NotFoundError(f"The book has no sheet {name}.")
        return self.keys[name, SideName(side)]

    def draw(self, name: str, side: str) -> Drawing:
        """Give a side of a sheet that there is."""
        inked = self.by_name[name]
        chosen = inked.sheet.front if side == SideName.FRONT else inked.sheet.back
        return draw_side(chosen, inked.sheet.size, inked.drawings)


_KNOWN: WeakKeyDictionary[Shown, Sides] = WeakKeyDictionary()


def find_sides(session: Session) -> Sides:
    """Give the sides of the open book as it is now."""
    shown = session.shown
    return _KNOWN.setdefault(shown, Sides(shown))


def name_sheet(sheet: PressSheet | InterleafSheet) -> str:
    """Give what a sheet is marked by: "2.1", the outermost of gathering 2; "i3", translucent."""
    if isinstance(sheet, PressSheet):
        return f"{sheet.gathering}.{sheet.index}"
    return f"i{sheet.number}"


def side_svg(session: Session, name: str, side: str) -> str:
    """Draw a side ("front", "back") as SVG; photographs lie below ``/api/sheets/pictures``."""
    washes = session.results.painted

    def address(picture: Picture) -> str:
        key = picture_key(picture)
        return (
            f"/assets/{key}.jpg" if picture.asset in washes else f"/api/sheets/pictures/{key}.jpg"
        )

    return session.shown.draw_svg(find_sides(session).draw(name, side), address)


def small_jpeg(session: Session, key: str) -> bytes:
    """Give a photograph as it lies on a page, small. Raises NotFoundError where none is so named.

    The bytes are empty where its file cannot be read.
    """
    picture = session.shown.picture(key)
    photo = session.results.photos.get(picture.asset)
    if photo is None:
        raise NotFoundError("This picture is no photograph.")
    cache = DiskCache(session.folder.cache, "side-pictures", ".jpg")
    path: Path = cache.path(hash_values(key, photo.content, SMALL_PX))
    if not path.is_file():
        with _HANDS:
            make_preview(photo, picture.crop, SMALL_PX, path)
    return path.read_bytes() if path.is_file() else b""


def _key(ink: SideInk) -> str:
    return hash_values(ink)[:16]
