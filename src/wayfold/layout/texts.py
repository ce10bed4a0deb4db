"""Long texts on text pages: how many pages they take, and which lines stand on which."""

from __future__ import annotations

import math
from collections.abc import Mapping

from wayfold.base.geometry import Rect
from wayfold.book.state import Book
from wayfold.drawing.text import Paragraph, TextBlock, TextMeasurer
from wayfold.layout.colophon import COLOPHON, count_colophon_pages
from wayfold.layout.grid import make_grid
from wayfold.layout.judge import say_too_long
from wayfold.layout.matter import ROOM_FOR_ROUNDING, Laid, Matter, blank_page, on_recto
from wayfold.layout.model import PageLayout, TextFrame

FEWEST_LINES = 8
"""A text page with fewer lines takes some from the pages before it."""
SHORT_TEXT = 0.42
"""A text that covers less than this part of a text page stands narrower, and sunk."""
SUNK_TEXT = 0.6
"""A text that covers less than this part of one text page stands sunk."""


def count_text_pages(
    texts: Mapping[str, tuple[Paragraph, ...]], book: Book, measurer: TextMeasurer
) -> Mapping[str, int]:
    """Give the number of text pages that each styled text fills (at least 1), by its key."""
    grid = make_grid(book)
    height = grid.column_height
    keys = [key for key in texts if texts[key] and key != COLOPHON]
    blocks = [TextBlock(texts[key], grid.measure) for key in keys]
    needs = measurer.measure_heights(blocks)
    counts = dict.fromkeys(texts, 1)
    for key, block, need in zip(keys, blocks, needs, strict=True):
        pages = max(1, math.ceil(need / height - 1e-6))
        # Widows and orphans kept off can push a line or two onto one page more.
        while (
            need > height
            and measurer.split_to_height(block, [height + ROOM_FOR_ROUNDING] * pages)[-1]
        ):
            pages += 1
        counts[key] = pages
    if COLOPHON in texts:
        counts[COLOPHON] = count_colophon_pages(texts[COLOPHON], grid, measurer)
    return counts


def lay_text_pages(
    matter: Matter,
    key: str,
    numbers: tuple[int, ...],
    family: str,
    running: str = "",
    kept_free: float = 0.0,
) -> Laid:
    """Thread the text ``key`` over text pages; ``running`` is the key of their running head.

    ``kept_free`` (mm) stays white at the foot of the last page's column.
    A short text stands narrower, hung where titles hang. Text that finds no page is a
    finding that blocks.
    """
    grid = matter.grid
    paragraphs = matter.words.get(key)
    if not paragraphs:
        return Laid(tuple(blank_page(n) for n in numbers))
    height = grid.column_height
    measure, need = grid.short_measure, matter.height(paragraphs, grid.short_measure)
    if need > SHORT_TEXT * height:
        measure, need = grid.measure, matter.height(paragraphs, grid.measure)
    if need <= SUNK_TEXT * height:
        first, *rest = numbers
        area = grid.text_area(on_recto(first), measure)
        top = min(grid.sunk_text(paragraphs[0].style), area.y + height - need)
        frame = matter.set_text(key, paragraphs, area.x, top, area.width)
        return Laid((PageLayout(first, family, (frame,)), *(blank_page(n) for n in rest)))
    block = TextBlock(paragraphs, grid.measure)
    room = [height + ROOM_FOR_ROUNDING] * len(numbers)
    room[-1] -= kept_free
    *parts, left = _split_evenly(matter, block, room)
    pages: list[PageLayout] = []
    for i, (number, part) in enumerate(zip(numbers, parts, strict=True)):
        if not part and not (i + 1 == len(numbers) and left):
            pages.append(blank_page(number))
            continue
        # What is left over stays on the last page: the typesetter shows it, the finding says it.
        shown = (*part, *left) if i + 1 == len(numbers) else part
        area = grid.text_area(on_recto(number))
        part_key = key if i == 0 else f"{key}#{i + 1}"
        filled = room[i]
        if not left:
            filled = min(filled, matter.height(shown, area.width) + ROOM_FOR_ROUNDING)
        frame = TextFrame(Rect(area.x, area.y, area.width, filled), part_key, shown)
        heads = _running_head(matter, number, running) if i else ()
        pages.append(PageLayout(number, family, (*heads, frame)))
    findings = (say_too_long(key, numbers, left),) if left else ()
    return Laid(tuple(pages), findings=findings)


def _split_evenly(
    matter: Matter, block: TextBlock, room: list[float]
) -> tuple[tuple[Paragraph, ...], ...]:
    """Thread a text so that its last page shows more than a few lines."""
    baseline = matter.grid.baseline
    parts = matter.measurer.split_to_height(block, room)
    filled = [part for part in parts[:-1] if part]
    if parts[-1] or len(filled) < 2:
        return parts
    last = matter.height(filled[-1], block.width)
    lacking = math.ceil(FEWEST_LINES - last / baseline)
    if lacking <= 0:
        return parts
    shorter = math.ceil(lacking / (len(filled) - 1)) * baseline
    again = [h - shorter for h in room[: len(filled) - 1]] + room[len(filled) - 1 :]
    evened = matter.measurer.split_to_height(block, again)
    return parts if evened[-1] else evened


def _running_head(matter: Matter, number: int, key: str) -> tuple[TextFrame, ...]:
    paragraphs = matter.words.get(key) if key else ()
    if not paragraphs:
        return ()
    area = matter.grid.text_area(on_recto(number))
    bottom = area.y - 2 * matter.grid.baseline
    return (matter.set_text(key, paragraphs, area.x, bottom, area.width, stands=True),)
