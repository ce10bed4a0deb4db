"""Frames become drawings: pictures, texts, hairlines and page numbers, one drawing a page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from wayfold.base.geometry import Affine, Point, Rect
from wayfold.base.units import mm_from_pt
from wayfold.book.state import Book
from wayfold.drawing.colour import Colour
from wayfold.drawing.items import Contour, Drawing, Item, Picture, Placed, Shape, Stroke, Text
from wayfold.drawing.text import Align, Paragraph, Run
from wayfold.layout.grid import Grid, make_grid
from wayfold.layout.model import BookLayout, DrawnFrame, Frame, PageLayout, PictureFrame, RuleFrame
from wayfold.plan.model import Plan
from wayfold.plan.paper import is_recto
from wayfold.story.model import Story
from wayfold.words.styles import style_folio

FOLIO_HEIGHT = 0.5
"""How high the folio stands over the trim, as a part of the picture area's foot margin."""
FOLIO_WIDTH = 20.0


def compose_pages(
    book: Book,
    story: Story,  # noqa: ARG001 - part of the signature all stages of this kind share
    plan: Plan,
    layout: BookLayout,
    maps: Mapping[str, Drawing] | None = None,
) -> tuple[Drawing, ...]:
    """Give a drawing for every page of the plan, in order, labelled "page 12".

    ``maps`` are the drawings that frames ask for by key. A page without frames is an empty
    drawing: no folio stands on white paper alone.
    """
    grid = make_grid(book)
    laid = {page.number: page for page in layout.pages}
    return tuple(
        _compose_page(book, grid, page.number, laid.get(page.number), maps or {})
        for page in plan.pages
    )


def _compose_page(
    book: Book, grid: Grid, number: int, page: PageLayout | None, maps: Mapping[str, Drawing]
) -> Drawing:
    items: list[Item] = []
    if page is not None and page.frames:
        items += [_draw_frame(book, frame, maps) for frame in page.frames]
        if page.folio:
            items.append(_draw_folio(book, grid, number))
    return Drawing(f"page {number}", book.trim, book.bleed, tuple(items))


def _draw_frame(book: Book, frame: Frame, maps: Mapping[str, Drawing]) -> Item:
    if isinstance(frame, DrawnFrame):
        place = Affine.shift(frame.box.x, frame.box.y)
        return Placed(maps[frame.key], place, frame.clip)
    if isinstance(frame, PictureFrame):
        alt = book.choice(frame.photo).caption or ""
        return Picture(frame.box, frame.photo, frame.crop, frame.clip, alt)
    if isinstance(frame, RuleFrame):
        box = frame.box
        line = Contour((Point(box.x, box.y), Point(box.right, box.bottom)))
        return Shape((line,), stroke=Stroke(Colour.of(frame.colour), frame.width))
    return Text(frame.box, frame.paragraphs, frame.key, frame.vertical)


def _draw_folio(book: Book, grid: Grid, number: int) -> Text:
    recto = is_recto(number)
    style = replace(style_folio(book), align=Align.RIGHT if recto else Align.LEFT)
    height = mm_from_pt(style.leading_pt)
    x = grid.outer_x(recto) - (FOLIO_WIDTH if recto else 0.0)
    bottom = book.trim.height - FOLIO_HEIGHT * grid.picture_margins.foot
    box = Rect(x, bottom - height, FOLIO_WIDTH, height)
    return Text(box, (Paragraph((Run(str(number)),), style),), f"folio {number}")
