"""The page's number at the outer foot."""

from __future__ import annotations

from dataclasses import replace

from wayfold.base.geometry import Rect
from wayfold.base.units import mm_from_pt
from wayfold.book.state import Book
from wayfold.drawing.items import Text
from wayfold.drawing.text import Align, Paragraph, Run
from wayfold.layout.grid import Grid
from wayfold.layout.judge import shown_box
from wayfold.layout.model import DrawnFrame, PageLayout, PictureFrame
from wayfold.plan.paper import is_recto
from wayfold.words.styles import style_folio

FOLIO_HEIGHT = 0.5
"""How high the folio stands over the trim, as a part of the picture area's foot margin."""
FOLIO_WIDTH = 20.0


def place_folio(book: Book, grid: Grid, number: int) -> Rect:
    """Give the box of a page's number."""
    recto = is_recto(number)
    height = mm_from_pt(style_folio(book).leading_pt)
    x = grid.outer_x(recto) - (FOLIO_WIDTH if recto else 0.0)
    bottom = book.trim.height - FOLIO_HEIGHT * grid.picture_margins.foot
    return Rect(x, bottom - height, FOLIO_WIDTH, height)


def has_room_for_folio(page: PageLayout, box: Rect) -> bool:
    """Whether no picture or map lies where the page's number would stand."""
    shown = (
        frame.clip if isinstance(frame, DrawnFrame) else shown_box(frame)
        for frame in page.frames
        if isinstance(frame, PictureFrame | DrawnFrame)
    )
    return all(part.overlap(box) is None for part in shown)


def draw_folio(book: Book, grid: Grid, number: int) -> Text:
    """Draw a page's number."""
    align = Align.RIGHT if is_recto(number) else Align.LEFT
    line = Paragraph((Run(str(number)),), replace(style_folio(book), align=align))
    return Text(place_folio(book, grid, number), (line,), f"folio {number}")
