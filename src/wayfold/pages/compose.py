"""Frames become drawings: pictures, texts, hairlines and page numbers, one drawing a page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from wayfold.base.geometry import Affine, Point
from wayfold.base.memory import Memory
from wayfold.book.state import Book
from wayfold.drawing.colour import Colour
from wayfold.drawing.items import Contour, Drawing, Item, Picture, Placed, Shape, Stroke, Text
from wayfold.layout.grid import Grid, make_grid
from wayfold.layout.model import BookLayout, DrawnFrame, Frame, PageLayout, PictureFrame, RuleFrame
from wayfold.pages.folio import draw_folio, has_room_for_folio, place_folio
from wayfold.pages.washes import PageWash
from wayfold.plan.model import Plan
from wayfold.story.model import Story


def compose_pages(
    book: Book,
    story: Story,  # noqa: ARG001 - part of the signature all stages of this kind share
    plan: Plan,
    layout: BookLayout,
    maps: Mapping[str, Drawing] | None = None,
    washes: Sequence[PageWash] = (),
    memory: Memory | None = None,
) -> tuple[Drawing, ...]:
    """Give a drawing for every page of the plan, in order, labelled "page 12".

    ``maps`` are the drawings that frames ask for by key. Washes lie beneath all else. A page
    without frames is an empty drawing: no folio stands on white paper alone, and none on a
    picture, whatever family laid the page. What is in ``memory`` is not composed again.
    """
    memory = memory or Memory()
    grid = make_grid(book)
    about = Book("", language=book.language, trim=book.trim, bleed=book.bleed, style=book.style)
    laid = {page.number: page for page in layout.pages}
    painted = {wash.page: wash for wash in washes}
    drawings = []
    for number in (page.number for page in plan.pages):
        page = laid.get(number)
        frames = page.frames if page else ()
        keys = [f.key for f in frames if isinstance(f, DrawnFrame)]
        shown = [f.photo for f in frames if isinstance(f, PictureFrame)]
        given = {key: (maps or {})[key] for key in keys}
        said = {photo: book.choice(photo).caption or "" for photo in shown}
        wash = painted.get(number)
        drawings.append(
            memory.recall(_compose_page, about, grid, number, page, given, said, wash, at=number)
        )
    return tuple(drawings)


def _compose_page(
    book: Book,
    grid: Grid,
    number: int,
    page: PageLayout | None,
    maps: Mapping[str, Drawing],
    captions: Mapping[str, str],
    wash: PageWash | None,
) -> Drawing:
    items: list[Item] = []
    if wash is not None:
        items.append(Picture(wash.box, wash.wash.name))
    if page is not None and page.frames:
        items += [_draw_frame(frame, maps, captions) for frame in page.frames]
        if page.folio and has_room_for_folio(page, place_folio(book, grid, number)):
            items.append(draw_folio(book, grid, number))
    return Drawing(f"page {number}", book.trim, book.bleed, tuple(items))


def _draw_frame(frame: Frame, maps: Mapping[str, Drawing], captions: Mapping[str, str]) -> Item:
    if isinstance(frame, DrawnFrame):
        place = Affine.shift(frame.box.x, frame.box.y)
        return Placed(maps[frame.key], place, frame.clip)
    if isinstance(frame, PictureFrame):
        alt = captions[frame.photo]
        return Picture(frame.box, frame.photo, frame.crop, frame.clip, alt)
    if isinstance(frame, RuleFrame):
        box = frame.box
        line = Contour((Point(box.x, box.y), Point(box.right, box.bottom)))
        return Shape((line,), stroke=Stroke(Colour.of(frame.colour), frame.width))
    return Text(frame.box, frame.paragraphs, frame.key, frame.vertical)
