"""Specimens: a spread of the demo's own text in each style there is, to compare them by."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from pathlib import Path
from typing import Any

from wayfold.app.fonts import open_style
from wayfold.base.geometry import Affine, Point, Rect, Size
from wayfold.base.progress import Progress
from wayfold.book.state import Book
from wayfold.demo.model import Painting
from wayfold.demo.painting.paint import paint_picture
from wayfold.demo.scenario import read_text
from wayfold.disk.refusals import explain_os_errors
from wayfold.drawing.items import Contour, Drawing, Item, Picture, Placed, Shape, Stroke, Text
from wayfold.drawing.pictures import list_pictures, picture_key
from wayfold.drawing.text import Align, Paragraph, Run, TextBlock, TextStyle, VerticalAlign
from wayfold.layout.grid import Grid, make_grid
from wayfold.layout.matter import ROOM_FOR_ROUNDING
from wayfold.pages.folio import draw_folio
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book
from wayfold.project.style_files import StyleEntry, list_styles
from wayfold.story.model import Chapter
from wayfold.typeset.assemble import DocumentInfo, assemble_pdf
from wayfold.typeset.engine import Typesetter
from wayfold.words.styles import (
    style_caption,
    style_day_line,
    style_folio,
    style_running_head,
)
from wayfold.words.texts import style_texts
from wayfold.words.write import write_opener

SPECIMENS = "styles.pdf"
FOOT = 16.0
"""The strip (mm) beneath a spread, with the style's name."""
PAINTED, PAINTED_PX = Painting("mountains", "morning", 4), (1800, 1200)
CAPTION = "The wall of the mountains, from the house: grey and close, with old snow in its folds."
CHAPTER = Chapter("Picos de Europa", "Cantabria", "Spain", date(2025, 10, 11), date(2025, 10, 13))
VERSO, RECTO = 12, 13


@dataclass(frozen=True, slots=True)
class Specimens:
    """The styles there are, and the file that shows a spread of each, in their order."""

    entries: tuple[StyleEntry, ...]
    file: Path

    def to_json(self) -> dict[str, Any]:
        """Give it as plain values."""
        styles = [
            {
                "name": entry.style.name,
                "about": entry.about,
                "own": entry.own,
                "serif": entry.style.serif,
                "sans": entry.style.sans,
            }
            for entry in self.entries
        ]
        return {"styles": styles, "file": str(self.file)}


def show_styles(root: Path, progress: Progress) -> Specimens:
    """Draw a spread in every style into styles.pdf: the shipped ones, and those of a book.

    Where a book lies in ``root`` its page is taken, and the file goes
    into its folder out/; elsewhere the page is A4, and the file goes into ``root``. Raises
    UserError for a style that cannot be read, and a family that is nowhere.
    """
    folder = BookFolder(root.resolve())
    has_book = folder.book_file.is_file()
    trim = load_book(folder).book.trim if has_book else Book("").trim
    entries = list_styles(folder)
    target = (folder.out if has_book else folder.root) / SPECIMENS
    with tempfile.TemporaryDirectory() as name, explain_os_errors(target):
        work, pages = Path(name), []
        pictures: dict[str, Path] = {}
        painted = work / "painted.jpg"
        with progress.task("Drawing the styles", len(entries)) as task:
            paint_picture(PAINTED, painted, PAINTED_PX)
            for entry in entries:
                typesetter = open_style(entry.style, folder, partial(_say_place, entry))
                spread = draw_spread(entry, trim, typesetter)
                pictures |= {picture_key(p): painted for p in list_pictures(spread)}
                pages.append(work / f"{entry.style.name}.pdf")
                pages[-1].write_bytes(typesetter.page_pdf(spread).pdf)
                task.advance()
        target.parent.mkdir(parents=True, exist_ok=True)
        labels = tuple(entry.style.name for entry in entries)
        assemble_pdf(pages, pictures, target, DocumentInfo("Styles", labels=labels))
    return Specimens(entries, target)


def draw_spread(entry: StyleEntry, trim: Size, typesetter: Typesetter) -> Drawing:
    """Draw a page of text facing a chapter's opener, the style's name in a strip beneath."""
    book = Book("The Slow Way South", trim=trim, bleed=0.0, style=entry.style)
    grid = make_grid(book)
    verso = Drawing("verso", trim, 0.0, tuple(_draw_text_page(book, grid, typesetter)))
    recto = Drawing("recto", trim, 0.0, tuple(_draw_opener(book, grid, typesetter)))
    size = Size(2 * trim.width, trim.height + FOOT)
    fold = Contour((Point(trim.width, 0.0), Point(trim.width, trim.height)))
    edge = Contour((Point(0.0, trim.height), Point(size.width, trim.height)))
    line = Stroke(replace(entry.style.quiet_ink, opacity=0.35), 0.15)
    return Drawing(
        entry.style.name,
        size,
        0.0,
        (
            Placed(verso),
            Placed(recto, Affine.shift(trim.width, 0.0)),
            Shape((fold, edge), stroke=line),
            *_name_style(book, entry, Rect(0.0, trim.height, size.width, FOOT), grid),
        ),
    )


def _draw_text_page(book: Book, grid: Grid, typesetter: Typesetter) -> Iterator[Item]:
    words = "\n\n".join(["## " + CHAPTER.title, read_text("picos"), "## Rome", read_text("rome")])
    paragraphs = style_texts(replace(book, texts={"specimen": words}))["specimen"]
    area = grid.text_area(recto=False)
    room = grid.column_height + ROOM_FOR_ROUNDING
    shown, _ = typesetter.split_to_height(TextBlock(paragraphs, area.width), [room])
    yield Text(Rect(area.x, area.y, area.width, room), shown, "text")
    head = (Paragraph((Run(book.title),), style_running_head(book)),)
    (height,) = typesetter.measure_heights([TextBlock(head, area.width)])
    yield Text(Rect(area.x, area.y - 2 * grid.baseline - height, area.width, height), head, "head")
    yield draw_folio(book, grid, VERSO)


def _draw_opener(book: Book, grid: Grid, typesetter: Typesetter) -> Iterator[Item]:
    text, area = grid.text_area(recto=True), grid.picture_area(recto=True)
    title = write_opener(book, CHAPTER)
    hung = grid.sunk_text(title[0].style)
    yield Text(Rect(text.x, hung, text.width, area.bottom - hung), title, "title")
    caption = (Paragraph((Run(CAPTION),), style_caption(book)),)
    (below,) = typesetter.measure_heights([TextBlock(caption, grid.caption_measure)])
    height = area.width * PAINTED_PX[1] / PAINTED_PX[0]
    top = area.bottom - below - book.style.gap - height
    yield Picture(Rect(area.x, top, area.width, height), "painted", alt=CAPTION)
    box = Rect(area.x, area.bottom - below, grid.caption_measure, below + ROOM_FOR_ROUNDING)
    yield Text(box, caption, "caption")
    style = replace(style_day_line(book), align=Align.RIGHT)
    day = (Paragraph((Run("Day 2\N{NO-BREAK SPACE}\N{NO-BREAK SPACE} 12 October 2025"),), style),)
    rise = Rect(area.x, area.y / 2, area.width, area.y / 2)
    yield Text(rise, day, "day")
    yield draw_folio(book, grid, RECTO)


def _name_style(book: Book, entry: StyleEntry, strip: Rect, grid: Grid) -> Iterator[Item]:
    style = entry.style
    whose = " (your own)" if entry.own else ""
    about = f"{style.name}{whose}: {entry.about}"
    margin, half = grid.picture_margins.outer, strip.width / 2
    fonts = " & ".join(dict.fromkeys((style.serif, style.sans)))
    for words, x, align in ((about, margin, Align.LEFT), (fonts, half, Align.RIGHT)):
        look: TextStyle = replace(style_folio(book), align=align, colour=style.quiet_ink)
        box = Rect(x, strip.y, half - margin, strip.height)
        yield Text(box, (Paragraph((Run(words),), look),), "name", VerticalAlign.MIDDLE)


def _say_place(entry: StyleEntry, key: str) -> str:
    name = f"{entry.style.name}/style.toml"
    return f"styles/{name}, {key}" if entry.own else f"{name} of Wayfold, {key}"
