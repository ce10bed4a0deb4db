"""The colophon: one narrow column at the foot of its page, or two even ones where it is long."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wayfold.base.geometry import Rect
from wayfold.base.units import mm_from_pt
from wayfold.drawing.text import Paragraph, TextBlock, TextMeasurer
from wayfold.layout.grid import COLUMNS, Grid
from wayfold.layout.judge import say_too_long
from wayfold.layout.matter import ROOM_FOR_ROUNDING, Laid, Matter, blank_page, on_recto
from wayfold.layout.model import Overset, PageLayout, TextFrame

COLOPHON = "colophon"
HALF = COLUMNS // 2
Parts = tuple[tuple[Paragraph, ...], ...]


def count_colophon_pages(
    paragraphs: tuple[Paragraph, ...], grid: Grid, measurer: TextMeasurer
) -> int:
    """Give the number of pages (at least 1) that a colophon takes."""
    if not paragraphs or _fits_one_column(paragraphs, grid, measurer):
        return 1
    pages = 1
    while _thread(paragraphs, grid, measurer, [grid.column_height] * (2 * pages))[-1]:
        pages += 1
    return pages


def lay_colophon_pages(matter: Matter) -> Laid:
    """Set the colophon on the block's pages; what finds no room there is a finding."""
    grid, (number, *rest) = matter.grid, matter.numbers
    paragraphs = matter.words.get(COLOPHON)
    if not paragraphs:
        return Laid(tuple(blank_page(n) for n in matter.numbers))
    if _fits_one_column(paragraphs, grid, matter.measurer):
        area = grid.text_area(on_recto(number), grid.short_measure)
        frame = matter.set_text(COLOPHON, paragraphs, area.x, area.bottom, area.width, stands=True)
        page = PageLayout(number, COLOPHON, (frame,), folio=False)
        return Laid((page, *(blank_page(n) for n in rest)))
    heights, parts = _even_columns(paragraphs, matter)
    *columns, left = parts
    columns[-1] = (*columns[-1], *left)
    over = matter.count_over(left, grid.column(0, HALF, True).width)
    pages = []
    for i, page_number in enumerate(matter.numbers):
        frames = tuple(_set_columns(matter, page_number, i, columns, heights, over))
        pages.append(
            PageLayout(page_number, COLOPHON, frames) if frames else blank_page(page_number)
        )
    findings = (say_too_long(COLOPHON, matter.numbers, over),) if over else ()
    return Laid(tuple(pages), findings=findings)


def _set_columns(
    matter: Matter,
    number: int,
    index: int,
    columns: list[tuple[Paragraph, ...]],
    heights: list[float],
    over: Overset | None,
) -> Iterator[TextFrame]:
    """Give the two columns of a page, from one line down to the foot of the text area."""
    recto = on_recto(number)
    bottom = matter.grid.canon_area(recto).bottom
    for side in range(2):
        at = 2 * index + side
        if columns[at]:
            column = matter.grid.column(side * HALF, HALF, recto)
            height = heights[at] + ROOM_FOR_ROUNDING
            box = Rect(column.x, bottom - heights[at], column.width, height)
            key = COLOPHON if at == 0 else f"{COLOPHON}#{at + 1}"
            spills = over if at + 1 == len(columns) else None
            yield TextFrame(box, key, columns[at], overset=spills)


def _even_columns(paragraphs: tuple[Paragraph, ...], matter: Matter) -> tuple[list[float], Parts]:
    """Thread over two columns a page, the last page's as low as they can be and still hold it."""
    grid, pages = matter.grid, len(matter.numbers)
    full = grid.column_height
    line = mm_from_pt(paragraphs[0].style.leading_pt)
    before = [full] * (2 * pages - 2)
    for lines in range(2, math.floor(full / line) + 1):
        heights = [*before, lines * line, lines * line]
        rough = matter.height(paragraphs, grid.column(0, HALF, True).width)
        if sum(heights) < rough - line:
            continue
        parts = _thread(paragraphs, grid, matter.measurer, heights)
        if not parts[-1]:
            return heights, parts
    heights = [full] * (2 * pages)
    return heights, _thread(paragraphs, grid, matter.measurer, heights)


def _thread(
    paragraphs: tuple[Paragraph, ...], grid: Grid, measurer: TextMeasurer, heights: list[float]
) -> Parts:
    block = TextBlock(paragraphs, grid.column(0, HALF, True).width)
    return measurer.split_to_height(block, [h + ROOM_FOR_ROUNDING for h in heights])


def _fits_one_column(paragraphs: tuple[Paragraph, ...], grid: Grid, measurer: TextMeasurer) -> bool:
    block = TextBlock(paragraphs, grid.short_measure)
    return measurer.measure_heights((block,))[0] <= grid.column_height
