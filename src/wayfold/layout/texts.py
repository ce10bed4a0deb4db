"""Long texts on text pages: how many pages they take, and which lines stand on which."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from wayfold.base.geometry import Rect
from wayfold.base.units import mm_from_pt
from wayfold.book.state import Book
from wayfold.drawing.text import Align, Paragraph, TextBlock, TextMeasurer
from wayfold.layout.colophon import COLOPHON, count_colophon_pages
from wayfold.layout.grid import HAIRLINE, Grid, make_grid
from wayfold.layout.judge import say_too_long
from wayfold.layout.matter import ROOM_FOR_ROUNDING, Laid, Matter, blank_page, on_recto
from wayfold.layout.model import Overset, PageLayout, RuleFrame, TextFrame
from wayfold.layout.notes import Column, list_notes, measure_notes, thread_columns

FEWEST_LINES = 8
"""A text page with fewer lines takes some from the pages before it."""
SHORT_TEXT = 0.42
"""A text that covers less than this part of a text page stands narrower, and sunk."""
SUNK_TEXT = 0.6
"""A text that covers less than this part of one text page stands sunk."""
RULE_LENGTH = 0.2
"""The hairline over footnotes, as a part of the measure."""
RULE_ABOVE_NOTES = 0.3
"""How far over the notes' box it lies, in lines of the text."""


def count_text_pages(
    texts: Mapping[str, tuple[Paragraph, ...]], book: Book, measurer: TextMeasurer
) -> Mapping[str, int]:
    """Give the number of text pages that each styled text fills, by its key.

    It is at least 1, but 0 for a chapter's text so short that it stands under the title.
    """
    grid = make_grid(book)
    keys = [key for key in texts if texts[key] and key != COLOPHON]
    blocks = [TextBlock(texts[key], grid.measure) for key in keys]
    needs = measurer.measure_heights(blocks)
    counts = dict.fromkeys(texts, 1)
    for key, block, need in zip(keys, blocks, needs, strict=True):
        counts[key] = _count_pages(block, need, grid, measurer)
    counts |= dict.fromkeys(_find_short(texts, book, grid, measurer), 0)
    if COLOPHON in texts:
        counts[COLOPHON] = count_colophon_pages(texts[COLOPHON], grid, measurer)
    return counts


def _find_short(
    texts: Mapping[str, tuple[Paragraph, ...]], book: Book, grid: Grid, measurer: TextMeasurer
) -> list[str]:
    """Give the keys of chapters' texts that would leave a page of their own nearly empty."""
    keys = sorted({c.text for c in book.chapters if c.text and texts.get(c.text)} - {COLOPHON})
    heights = measurer.measure_heights([TextBlock(texts[k], grid.measure) for k in keys])
    most = FEWEST_LINES * grid.baseline + ROOM_FOR_ROUNDING
    return [key for key, height in zip(keys, heights, strict=True) if height < most]


def set_under_title(
    matter: Matter, key: str, number: int, top: float
) -> tuple[TextFrame | RuleFrame, ...]:
    """Give the frames of a short text hung from ``top`` (mm), its notes at the page's foot."""
    paragraphs = matter.words.get(key)
    if not paragraphs:
        return ()
    area = matter.grid.text_area(on_recto(number))
    notes = tuple(p for paragraph in paragraphs for p in paragraph.notes)
    frame = matter.set_text(key, paragraphs, area.x, top, area.width)
    return (frame, *_Setting(matter, key).set_notes(number, notes, area.width, 0))


def _count_pages(block: TextBlock, need: float, grid: Grid, measurer: TextMeasurer) -> int:
    height = grid.column_height
    notes = tuple(p for note in list_notes(block.paragraphs) for p in note)
    need += measure_notes(notes, block.width, grid.baseline, measurer)
    pages = max(1, math.ceil(need / height - 1e-6))
    # Widows and orphans kept off can push a line or two onto one page more, and notes their calls.
    while need > height and thread_columns(block, [height] * pages, measurer)[1]:
        pages += 1
    return pages


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
    setting = _Setting(matter, key)
    measure = grid.short_measure
    if setting.measure_need(paragraphs, measure) > SHORT_TEXT * height:
        measure = grid.measure
    need = setting.measure_need(paragraphs, measure)
    if need <= SUNK_TEXT * height:
        first, *rest = numbers
        area = grid.text_area(on_recto(first), measure)
        top = min(grid.sunk_text(paragraphs[0].style), area.y + height - need)
        frame = matter.set_text(key, paragraphs, area.x, top, area.width)
        notes = setting.set_notes(first, tuple(p for q in paragraphs for p in q.notes), measure, 0)
        page = PageLayout(first, family, (frame, *notes))
        return Laid((page, *(blank_page(n) for n in rest)))
    block = TextBlock(paragraphs, grid.measure)
    room = [height] * len(numbers)
    room[-1] -= kept_free
    columns, left = _thread_evenly(matter, block, room)
    over = matter.count_over((*left.text, *left.notes), grid.measure)
    pages: list[PageLayout] = []
    for i, (number, column) in enumerate(zip(numbers, columns, strict=True)):
        last = i + 1 == len(numbers)
        if not column and not (last and left):
            pages.append(blank_page(number))
            continue
        # What is left over stays on the last page: the typesetter shows it, the finding says it.
        spilt = Column((*column.text, *left.text), (*column.notes, *left.notes))
        spills = over if last else None
        frames = setting.set_column(number, spilt if last else column, i, room[i], spills)
        heads = _running_head(matter, number, running) if i else ()
        pages.append(PageLayout(number, family, (*heads, *frames)))
    findings = (say_too_long(key, numbers, over),) if over else ()
    return Laid(tuple(pages), findings=findings)


@dataclass(frozen=True, slots=True)
class _Setting:
    """Puts the columns of one text on pages."""

    matter: Matter
    key: str

    def measure_need(self, paragraphs: tuple[Paragraph, ...], width: float) -> float:
        """Give the height (mm) of a text with its notes."""
        notes = tuple(p for paragraph in paragraphs for p in paragraph.notes)
        foot = measure_notes(notes, width, self.matter.grid.baseline, self.matter.measurer)
        return self.matter.height(paragraphs, width) + foot

    def set_column(
        self, number: int, column: Column, index: int, room: float, over: Overset | None
    ) -> tuple[TextFrame | RuleFrame, ...]:
        """Give the frames of a column; where it spills ``over``, its box is all of ``room``."""
        area = self.matter.grid.text_area(on_recto(number))
        key = self.key if index == 0 else f"{self.key}#{index + 1}"
        filled = room + ROOM_FOR_ROUNDING
        if not over:
            filled = min(filled, self.matter.height(column.text, area.width) + ROOM_FOR_ROUNDING)
        notes = self.set_notes(number, column.notes, area.width, index)
        if not column.text:
            return notes
        box = Rect(area.x, area.y, area.width, filled)
        return (TextFrame(box, key, column.text, overset=over), *notes)

    def set_notes(
        self, number: int, notes: tuple[Paragraph, ...], width: float, index: int
    ) -> tuple[TextFrame | RuleFrame, ...]:
        """Give notes on the foot of the column, the last line where that of a full page stands."""
        if not notes:
            return ()
        grid, body = self.matter.grid, self.matter.book.style.body
        area = grid.text_area(on_recto(number), width)
        key = f"notes:{self.key}" if index == 0 else f"notes:{self.key}#{index + 1}"
        # Both boxes leave a quarter of their letter size under the last baseline.
        lifted = mm_from_pt((body.size_pt - notes[-1].style.size_pt) / 4)
        bottom = area.y + grid.column_height - lifted
        frame = self.matter.set_text(key, notes, area.x, bottom, area.width, stands=True)
        y = frame.box.y - RULE_ABOVE_NOTES * grid.baseline
        rule = Rect(area.x, y, RULE_LENGTH * area.width, 0.0)
        return (RuleFrame(rule, HAIRLINE, self.matter.book.style.quiet_ink.hex), frame)


def _thread_evenly(
    matter: Matter, block: TextBlock, room: list[float]
) -> tuple[tuple[Column, ...], Column]:
    """Thread a text so that its last page shows more than a few lines."""
    baseline = matter.grid.baseline
    columns, left = thread_columns(block, room, matter.measurer)
    filled = [column for column in columns if column]
    if left or len(filled) < 2:
        return columns, left
    last = matter.height(filled[-1].text, block.width)
    lacking = math.ceil(FEWEST_LINES - last / baseline)
    if lacking <= 0:
        return columns, left
    shorter = math.ceil(lacking / (len(filled) - 1)) * baseline
    again = [h - shorter for h in room[: len(filled) - 1]] + room[len(filled) - 1 :]
    evened, over = thread_columns(block, again, matter.measurer)
    return (columns, left) if over else (evened, over)


def _running_head(matter: Matter, number: int, key: str) -> tuple[TextFrame, ...]:
    """The chapter's name over the outer end of the lines, as folios stand at the outer foot."""
    paragraphs = matter.words.get(key) if key else ()
    if not paragraphs:
        return ()
    recto = on_recto(number)
    align = Align.RIGHT if recto else Align.LEFT
    turned = tuple(replace(p, style=replace(p.style, align=align)) for p in paragraphs)
    area = matter.grid.text_area(recto)
    bottom = area.y - 2 * matter.grid.baseline
    return (matter.set_text(key, turned, area.x, bottom, area.width, stands=True),)
