"""A book's pages as they are at one moment, as screens show them."""

from __future__ import annotations

import itertools
import threading
from collections.abc import Callable, Iterator
from functools import cached_property
from pathlib import Path

from wayfold.app.build import MINIATURES, PICTURES, collect_pictures
from wayfold.app.painting import PaintJob, paint, wash_key
from wayfold.app.seen import show_through
from wayfold.app.stages import Results
from wayfold.app.views import BookView, PageSide, PageView, ReadingView
from wayfold.base.errors import NotFoundError
from wayfold.base.hashing import hash_values
from wayfold.base.memory import Memory
from wayfold.base.progress import NoProgress
from wayfold.book.see_through import sheet_of
from wayfold.drawing.items import Drawing, Picture
from wayfold.drawing.pictures import picture_key
from wayfold.drawing.text import Paragraph
from wayfold.pages.laid_over import Veiled, order_reading
from wayfold.photos.derive import make_preview
from wayfold.plan.paper import is_recto
from wayfold.project.cache import DiskCache
from wayfold.project.files import BookFolder
from wayfold.typeset.engine import Typesetter
from wayfold.washes.model import Wash

PREVIEW_PX = 1400


class Shown:
    """The results of one book at one moment. Safe to ask from several threads."""

    def __init__(
        self,
        folder: BookFolder,
        results: Results,
        typesetter: Typesetter,
        memory: Memory | None = None,
    ) -> None:
        """Hold ``results`` of the book in ``folder``; ``memory`` knows of those before."""
        memory = memory or Memory()
        self.results = results
        self._typesetter = typesetter
        self._setting = threading.Lock()
        self._pictures = {
            key: picture
            for drawing in results.drawings
            for key, picture in memory.recall(_list_pictures, drawing, at=drawing.label).items()
        }
        sheet = sheet_of(results.book.translucent)
        self._reading = order_reading(results.plan, results.drawings, results.leaves, sheet, memory)
        self._veiled = tuple(p.veiled for p in self._reading if p.veiled is not None)
        self._seen = {picture_key(v.picture): v for v in self._veiled}
        drawn = (*results.drawings, *(v.drawing for v in self._veiled))
        self._keys = [memory.recall(hash_values, drawing, at=drawing.label) for drawing in drawn]
        self.revision = hash_values(self._keys)
        """What changes whenever any page may look different."""
        self._folder = folder
        self._previews = DiskCache(folder.cache, "previews", ".jpg")
        self._painted = DiskCache(folder.cache, PICTURES, ".jpg")
        self._miniatures = DiskCache(folder.cache, MINIATURES, ".jpg")

    @property
    def typesetter(self) -> Typesetter:
        """What sets its pages."""
        return self._typesetter

    @property
    def font_key(self) -> str:
        """The identity of the fonts that its pages are set with."""
        return self._typesetter.fonts.key

    def beside(self, results: Results, memory: Memory) -> Shown:
        """Give the pages of other results of the same book, as a trial has them."""
        return Shown(self._folder, results, self._typesetter, memory)

    def view(self) -> BookView:
        """The book in reading order."""
        book, story = self.results.book, self.results.story
        chapters = {
            block.id: story.chapters[block.chapter].title
            for block in story.blocks
            if block.chapter is not None
        }
        folios = {page.number: page.folio for page in self.results.layout.pages}
        pages = tuple(
            PageView(
                number=page.number,
                side="recto" if is_recto(page.number) else "verso",
                chapter=chapters.get(page.block or "", ""),
                label=str(page.number) if folios[page.number] else "",
            )
            for page in self.results.plan.pages
        )
        return BookView(
            title=book.title,
            author=book.author,
            language=book.language,
            revision=self.revision,
            trim_width_mm=book.trim.width,
            trim_height_mm=book.trim.height,
            pages=pages,
            reading=tuple(self._list_reading()),
        )

    def _list_reading(self) -> Iterator[ReadingView]:
        veiled = itertools.count(1)
        for page in self._reading:
            side: PageSide = "recto" if is_recto(page.page) else "verso"
            yield ReadingView(page.page, side, None if page.veiled is None else next(veiled))

    def page_svg(self, number: int) -> str:
        """Give page ``number`` as an SVG whose pictures refer to ``/assets/<key>.jpg``."""
        return self._set(self.results.drawings[self._find_page(number)])

    def page_key(self, number: int) -> str:
        """Give what changes whenever page ``number`` may look different."""
        return hash_values(self._keys[self._find_page(number)], self.font_key)

    def _find_page(self, number: int) -> int:
        if not 1 <= number <= len(self.results.drawings):
            raise NotFoundError(f"The book has no page {number}.")
        return number - 1

    def veiled_svg(self, place: int) -> str:
        """Give the ``place``-th page seen through translucent leaves, as ``page_svg`` does."""
        return self._set(self._veiled[self._find_veiled(place)].drawing)

    def veiled_key(self, place: int) -> str:
        """Give what changes whenever that page may look different."""
        before = len(self.results.drawings)
        return hash_values(self._keys[before + self._find_veiled(place)], self.font_key)

    def _find_veiled(self, place: int) -> int:
        if not 1 <= place <= len(self._veiled):
            raise NotFoundError(f"The book has no page under leaves numbered {place}.")
        return place - 1

    def draw_svg(self, drawing: Drawing, address: Callable[[Picture], str] | None = None) -> str:
        """Give a drawing that is no page, as the measured case, as ``page_svg`` does.

        ``address`` says where its pictures are, where that is elsewhere.
        """
        with self._setting:
            return self._typesetter.page_svg(drawing, address or _address)

    def measure_widths(self, lines: tuple[Paragraph, ...], /) -> tuple[float, ...]:
        """Say how wide each paragraph is on one line, in mm, in the book's own type."""
        with self._setting:
            return self._typesetter.measure_widths(lines)

    def picture(self, asset_id: str) -> Picture:
        """Give the picture on a page for its key. Raises NotFoundError where there is none."""
        picture = self._pictures.get(asset_id) or self._on_cover.get(asset_id)
        if picture is None:
            raise NotFoundError("This picture is on no page of the book.")
        return picture

    def _set(self, drawing: Drawing) -> str:
        return self.draw_svg(drawing)

    def has_asset(self, asset_id: str) -> bool:
        """Whether a picture of that key is on some page."""
        return asset_id in self._seen or asset_id in self._pictures

    def asset_jpeg(self, asset_id: str) -> bytes:
        """Give the screen picture for a picture key."""
        if asset_id in self._seen:
            return self._show_through(self._seen[asset_id])
        path = self._preview(self.picture(asset_id))
        return path.read_bytes() if path.is_file() else b""

    @cached_property
    def _on_cover(self) -> dict[str, Picture]:
        return collect_pictures([piece.drawing for piece in self.results.case.printed.pieces])

    def _preview(self, picture: Picture) -> Path:
        wash = self.results.painted.get(picture.asset)
        if wash is not None:
            return self.paint(wash).target
        photo = self.results.photos[picture.asset]
        key = hash_values(picture_key(picture), photo.content, PREVIEW_PX)
        path = self._previews.path(key)
        if not path.is_file():
            make_preview(photo, picture.crop, PREVIEW_PX, path)
        return path

    def _show_through(self, veiled: Veiled) -> bytes:
        under = collect_pictures([veiled.under] if veiled.under else [])
        pictures = {key: self._preview(picture) for key, picture in under.items()}
        with self._setting:
            shown = show_through(self._folder, [veiled], pictures, self._typesetter, NoProgress())
        return shown[picture_key(veiled.picture)].read_bytes()

    def paint(self, wash: Wash) -> PaintJob:
        """Have a wash painted, as it is printed (no more pixels than a screen needs) and small."""
        key = wash_key(wash)
        job = PaintJob(wash, self._painted.path(key), self._miniatures.path(key))
        if not (job.target.is_file() and job.miniature.is_file()):
            paint(job)
        return job

    def draw_png(self, drawing: Drawing, ppi: float, read: Callable[[Picture], bytes]) -> bytes:
        """Draw a page of pixels; see ``Typesetter.page_png``."""
        with self._setting:
            return self._typesetter.page_png(drawing, ppi, read)


def _list_pictures(drawing: Drawing) -> dict[str, Picture]:
    return collect_pictures([drawing])


def _address(picture: Picture) -> str:
    return f"/assets/{picture_key(picture)}.jpg"
