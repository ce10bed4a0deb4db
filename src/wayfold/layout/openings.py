"""Pages that begin something: half-title, title, contents, chapter openers; and those that end."""

from __future__ import annotations

from dataclasses import replace

from wayfold.base.geometry import Rect
from wayfold.drawing.text import Align, VerticalAlign
from wayfold.layout.captions import place_caption
from wayfold.layout.colophon import lay_colophon_pages
from wayfold.layout.composed import arrange_all, compose_page, hang_pages
from wayfold.layout.day_openers import open_day
from wayfold.layout.grid import COLUMNS
from wayfold.layout.matter import Laid, Matter, blank_page, on_recto
from wayfold.layout.model import Frame, PageLayout, TextFrame
from wayfold.layout.texts import lay_text_pages, set_under_title
from wayfold.story.model import BlockKind

SMALL_PICTURE_AREA = 0.14
"""Room of a small picture on an opening page, as a part of the picture area."""
AIR = 14.0
LINES_UNDER_TITLE = 2.5
"""White between a chapter's title and a text under it, in lines of the text."""
LEAST_ROOM = 0.25
"""Part of the picture area's height that a small picture and its caption need."""


def lay_half_title(matter: Matter) -> Laid:
    """The book's name in small capitals where the title will hang, and nothing else."""
    laid = _lay_hung(matter, [("half-title", 0.0)], "half-title", folio=False)
    return _with_photos(matter, laid)


def lay_title(matter: Matter) -> Laid:
    """Title and subtitle sunk, the author at the foot of the text area."""
    laid = _lay_hung(matter, [("title", 0.0), ("subtitle", 3.0)], "title", folio=False)
    author, number = matter.words.get("author"), _title_page(matter)
    area = matter.grid.text_area(on_recto(number))
    if author:
        frame = matter.set_text("author", author, area.x, area.bottom, area.width, stands=True)
        pages = (_add(p, frame) if p.number == number else p for p in laid.pages)
        laid = replace(laid, pages=tuple(pages))
    return _with_photos(matter, laid)


def lay_opener(matter: Matter) -> Laid:
    """A chapter's title, sunk; below it a text of few lines or a small picture, if any."""
    laid = _lay_hung(matter, [(f"opener:{matter.block.chapter}", 0.0)], "opener", folio=True)
    number = _title_page(matter)
    pages = []
    for page in laid.pages:
        if page.number == number and page.frames:
            top = page.frames[-1].box.bottom + LINES_UNDER_TITLE * matter.grid.baseline
            below = set_under_title(matter, f"text:{matter.block.id}", number, top)
            page = _add(page, *below)
        pages.append(page)
    return _with_photos(matter, replace(laid, pages=tuple(pages)))


def lay_contents(matter: Matter) -> Laid:
    """The contents, hung a little lower than running text; further pages as text pages."""
    grid, (number, *rest) = matter.grid, matter.numbers
    paragraphs = matter.words.get("contents")
    area = grid.text_area(on_recto(number))
    height = matter.height(paragraphs, area.width)
    top = grid.sunk_text(paragraphs[0].style) if paragraphs else grid.sunk
    if rest or top + height > area.bottom:
        return _lay_text_and_photos(matter, "contents", "contents")
    frame = matter.set_text("contents", paragraphs, area.x, top, area.width)
    return _with_photos(matter, Laid((PageLayout(number, "contents", (frame,)),)))


def lay_matter_text(matter: Matter) -> Laid:
    """Foreword and closing: text pages without a running head."""
    key = "foreword" if matter.block.kind is BlockKind.FOREWORD else "closing"
    return _lay_text_and_photos(matter, key, key)


def lay_colophon(matter: Matter) -> Laid:
    """The colophon, small, standing on the foot of the text area."""
    return _with_photos(matter, lay_colophon_pages(matter))


def lay_chapter_text(matter: Matter) -> Laid:
    """A chapter's story or a day's, the chapter's name as running head from the second page on."""
    running = f"running:{matter.block.chapter}"
    laid = _lay_text_and_photos(matter, f"text:{matter.block.id}", "text", running)
    return open_day(matter, laid)


def _lay_text_and_photos(matter: Matter, key: str, family: str, running: str = "") -> Laid:
    """Thread a text; where it leaves no room for the block's pictures, it has to make some."""
    laid = lay_text_pages(matter, key, matter.numbers, family, running)
    needed = LEAST_ROOM * matter.grid.picture_area(True).height
    if (
        matter.block.photos
        and all(page.frames for page in laid.pages)
        and max(_white_below(matter, page).height for page in laid.pages) < needed
    ):
        kept_free = needed + AIR
        laid = lay_text_pages(matter, key, matter.numbers, family, running, kept_free)
    return _with_photos(matter, laid)


def _lay_hung(matter: Matter, keys: list[tuple[str, float]], family: str, folio: bool) -> Laid:
    """Hang texts below each other, each ``air`` mm below the one above, on the title page."""
    number = _title_page(matter)
    area = matter.grid.text_area(on_recto(number))
    frames: list[TextFrame] = []
    for key, air in keys:
        paragraphs = matter.words.get(key)
        if not paragraphs:
            continue
        # Only titles may run wider than text does.
        room = matter.grid.picture_area(on_recto(number)).right - area.x
        width = matter.balance(paragraphs, min(room, matter.grid.measure) if frames else room)
        centred = paragraphs[0].style.align is Align.CENTER
        x = area.x + (area.width - width) / 2 if centred else area.x
        hung = matter.grid.sunk_text(paragraphs[0].style)
        y = frames[-1].box.bottom + air if frames else hung
        frames.append(matter.set_text(key, paragraphs, x, y, width))
    page = PageLayout(number, family, tuple(frames), folio=folio and bool(frames))
    return Laid(tuple(page if n == number else blank_page(n) for n in matter.numbers))


def _title_page(matter: Matter) -> int:
    """The page of the title: the last recto of the block, so that pictures face it."""
    return next((n for n in reversed(matter.numbers) if on_recto(n)), matter.numbers[-1])


def _add(page: PageLayout, *frames: Frame) -> PageLayout:
    return replace(page, frames=(*page.frames, *frames))


def _with_photos(matter: Matter, laid: Laid) -> Laid:
    """Place the block's pictures: on its first empty page, else small below its text."""
    photos = matter.block.photos
    if not photos:
        return laid
    pages = list(laid.pages)
    for i, page in enumerate(pages):
        if not page.frames:
            composed = compose_page(matter, photos, on_recto(page.number))
            (pages[i],) = hang_pages(matter, [(page.number, composed)], "picture-facing")
            return replace(laid, pages=tuple(pages))
    index = max(range(len(pages)), key=lambda i: _white_below(matter, pages[i]).height)
    pages[index] = _put_small(matter, pages[index])
    return replace(laid, pages=tuple(pages))


def _white_below(matter: Matter, page: PageLayout) -> Rect:
    """The white between the lowest hanging text of a page and the foot of the picture area."""
    grid, recto = matter.grid, on_recto(page.number)
    texts = [f.box for f in page.frames if isinstance(f, TextFrame)]
    hanging = [
        f.box.bottom
        for f in page.frames
        if isinstance(f, TextFrame) and f.vertical is VerticalAlign.TOP
    ]
    standing = [
        f.box.y
        for f in page.frames
        if isinstance(f, TextFrame) and f.vertical is VerticalAlign.BOTTOM
    ]
    area = grid.picture_area(recto)
    x = texts[0].x if texts else area.x
    top = max(hanging, default=area.y - AIR) + AIR
    bottom = min([area.bottom, *(y - AIR for y in standing)])
    return Rect(x, top, grid.column(0, COLUMNS, recto).right - x, bottom - top)


def _put_small(matter: Matter, page: PageLayout) -> PageLayout:
    room = _white_below(matter, page)
    below = AIR
    area = matter.grid.picture_area(True)
    side = (SMALL_PICTURE_AREA * area.area) ** 0.5
    aspects = [matter.aspect(p) for p in matter.block.photos]
    width = min(room.width, max(side * max(1.0, min(aspects[0], 2.5)) ** 0.5, side))
    height = max(10.0, min(room.height - below, side * 1.25))
    arrangement = arrange_all(matter, matter.block.photos, Rect(0.0, 0.0, width, height))
    bounds = arrangement.bounds
    moved = arrangement.moved(room.x - bounds.x, room.bottom - below - bounds.height - bounds.y)
    placed = list(zip(matter.block.photos, moved.rects, strict=True))
    frames = [matter.whole(photo, rect) for photo, rect in placed]
    return _add(page, *frames, *place_caption(matter, placed, moved.bounds))
