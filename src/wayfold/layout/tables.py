"""Tables on pages: rows kept whole where they can be, the head repeated, hairlines between."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wayfold.base.geometry import Rect
from wayfold.book.state import Book
from wayfold.drawing.text import Paragraph, TextBlock, TextMeasurer
from wayfold.layout.grid import HAIRLINE, Grid, make_grid
from wayfold.layout.matter import ROOM_FOR_ROUNDING, Laid, Matter, blank_page, on_recto
from wayfold.layout.model import Frame, PageLayout, RuleFrame, TextFrame
from wayfold.layout.table_widths import Fitted, fit_columns
from wayfold.words.itinerary import ITINERARY, Itinerary
from wayfold.words.tables import Cell

COLUMN_GAP = 4.5
ROW_AIR = 1.6
"""White (mm) above and below what stands in a row."""
HEAD_AIR = 1.2
TITLE_AIR = 9.0
RULE = 0.25
Rows = tuple[tuple[Cell, ...], ...]


@dataclass(frozen=True, slots=True)
class SetTable:
    """A table divided into pages: the rows of each, and their heights with the air about them."""

    fitted: Fitted
    title_height: float
    pages: tuple[tuple[tuple[tuple[Cell, ...], float], ...], ...]


def count_itinerary_pages(itinerary: Itinerary, book: Book, measurer: TextMeasurer) -> int:
    """Give the number of pages (at least 1) that an itinerary takes."""
    return len(set_itinerary(itinerary, make_grid(book), measurer).pages)


def set_itinerary(itinerary: Itinerary, grid: Grid, measurer: TextMeasurer) -> SetTable:
    """Fit the columns to the page and divide the rows into pages.

    A row stays whole; one that is higher than a whole page is cut between lines.
    """
    area = _table_area(grid, True)
    fitted = fit_columns(itinerary.table, area.width, COLUMN_GAP, measurer)
    (title,) = measurer.measure_heights([TextBlock(itinerary.title, area.width)])
    head = fitted.head_height + 2 * HEAD_AIR
    room, first = area.height - head, area.height - head - title - TITLE_AIR
    rows = [
        piece
        for row, height in zip(fitted.table.rows, fitted.heights, strict=True)
        for piece in _cut(row, height + 2 * ROW_AIR, room, fitted, measurer)
    ]
    pages: list[list[tuple[tuple[Cell, ...], float]]] = [[]]
    left = first
    for row, height in rows:
        if height > left + 1e-6 and (pages[-1] or len(pages) == 1):
            pages.append([])
            left = room
        pages[-1].append((row, height))
        left -= height
    return SetTable(fitted, title, tuple(tuple(page) for page in pages))


def _table_area(grid: Grid, recto: bool) -> Rect:
    """Give the room for a table: as wide as pictures, as high as they and text together."""
    picture, text = grid.picture_area(recto), grid.canon_area(recto)
    return Rect(picture.x, text.y, picture.width, picture.bottom - text.y)


def _cut(
    row: tuple[Cell, ...], height: float, room: float, fitted: Fitted, measurer: TextMeasurer
) -> list[tuple[tuple[Cell, ...], float]]:
    if height <= room:
        return [(row, height)]
    inner = room - 2 * ROW_AIR
    count = int(height / inner) + 2
    parts = [
        measurer.split_to_height(TextBlock(cell, width), [inner] * count) if cell else ()
        for cell, width in zip(row, fitted.widths, strict=True)
    ]
    pieces = []
    for i in range(max(len(part) for part in parts)):
        cells = tuple(part[i] if i < len(part) else () for part in parts)
        if any(cells):
            blocks = [TextBlock(c, w) for c, w in zip(cells, fitted.widths, strict=True) if c]
            pieces.append((cells, max(measurer.measure_heights(blocks)) + 2 * ROW_AIR))
    return pieces


def lay_itinerary(matter: Matter) -> Laid:
    """The itinerary on the block's pages; rows that find none there stay on the last, and show."""
    itinerary = matter.words.itinerary
    if itinerary is None:
        return Laid(tuple(blank_page(n) for n in matter.numbers))
    table = set_itinerary(itinerary, matter.grid, matter.measurer)
    count = len(matter.numbers)
    shares = list(table.pages[:count])
    for late in table.pages[count:]:
        shares[-1] = (*shares[-1], *late)
    drawer = _Drawer(matter, table)
    pages = [
        drawer.draw(number, i, shares[i], itinerary.title if i == 0 else ())
        if i < len(shares)
        else blank_page(number)
        for i, number in enumerate(matter.numbers)
    ]
    return Laid(tuple(pages))


class _Drawer:
    """Puts rows on pages."""

    def __init__(self, matter: Matter, table: SetTable) -> None:
        self._matter, self._table = matter, table
        self._quiet = matter.book.style.quiet_ink.hex

    def draw(
        self,
        number: int,
        index: int,
        rows: Sequence[tuple[tuple[Cell, ...], float]],
        title: tuple[Paragraph, ...],
    ) -> PageLayout:
        area = _table_area(self._matter.grid, on_recto(number))
        frames: list[Frame] = []
        y = area.y
        if title:
            height = self._table.title_height + ROOM_FOR_ROUNDING
            frames.append(TextFrame(Rect(area.x, y, area.width, height), ITINERARY, title))
            y += self._table.title_height + TITLE_AIR
        fitted = self._table.fitted
        head = fitted.head_height
        frames += self._draw_row(fitted.table.head, area.x, y + HEAD_AIR, head, f"head:{index}")
        y += head + 2 * HEAD_AIR
        frames.append(RuleFrame(Rect(area.x, y, area.width, 0.0), RULE, self._quiet))
        for i, (row, height) in enumerate(rows):
            inner = height - 2 * ROW_AIR
            frames += self._draw_row(row, area.x, y + ROW_AIR, inner, f"{index}:{i}")
            y += height
            frames.append(RuleFrame(Rect(area.x, y, area.width, 0.0), HAIRLINE, self._quiet))
        return PageLayout(number, ITINERARY, tuple(frames))

    def _draw_row(
        self, row: tuple[Cell, ...], x: float, y: float, height: float, key: str
    ) -> list[Frame]:
        frames: list[Frame] = []
        for column, (cell, width) in enumerate(zip(row, self._table.fitted.widths, strict=True)):
            if cell:
                box = Rect(x, y, width, height + ROOM_FOR_ROUNDING)
                frames.append(TextFrame(box, f"{ITINERARY}#{key}:{column}", cell))
            x += width + COLUMN_GAP
        return frames
