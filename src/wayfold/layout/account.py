"""A text and the pictures it tells of, together: a hotel, a meal, a person met."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from wayfold.base.geometry import Rect
from wayfold.book.state import Book
from wayfold.drawing.text import Paragraph, TextBlock, TextMeasurer
from wayfold.layout.captions import caption_height, place_caption
from wayfold.layout.composed import arrange_all, compose_page, hang_pages
from wayfold.layout.grid import COLUMN_GAP, COLUMNS, Grid, make_grid
from wayfold.layout.matter import Laid, Matter, on_recto
from wayfold.layout.model import Frame, PageLayout
from wayfold.layout.texts import lay_text_pages
from wayfold.story.pictures import BESIDE

FAMILY = "account"
MOST_TEXT = 0.4
"""A text that covers more than this part of the picture area has a page of its own."""
AIR = 9.0
"""White (mm) between the pictures with their captions and the text."""
UPRIGHT = 0.9
"""A lone picture narrower than this has its text beside it."""


def count_account_pages(
    texts: Mapping[str, tuple[Paragraph, ...]], book: Book, measurer: TextMeasurer
) -> Mapping[str, int]:
    """Give the pages that each text named by a photograph takes with its pictures.

    By the text's key behind ``BESIDE``: one where the text is short, else as many as it fills and
    one for the pictures.
    """
    grid = make_grid(book)
    named = {choice.text for choice in book.choices.values() if choice.text}
    keys = sorted(key for key in named if texts.get(key))
    blocks = [TextBlock(texts[key], grid.short_measure) for key in keys]
    needs = measurer.measure_heights(blocks)
    return {
        f"{BESIDE}{key}": 1 if need <= _most_text(grid) else 1 + _count_full(grid, need)
        for key, need in zip(keys, needs, strict=True)
    }


def _most_text(grid: Grid) -> float:
    return MOST_TEXT * grid.picture_area(True).height


def _count_full(grid: Grid, need: float) -> int:
    # Measured at the short measure, so this never counts too few; a spare page would stay white.
    full = need * grid.short_measure / grid.measure
    return max(1, -int(-full // (grid.column_height - grid.baseline)))


def lay_account(matter: Matter) -> Laid:
    """Give the pictures with their text under or beside them, or on the page that faces it."""
    key = f"text:{matter.block.id}"
    first, *rest = matter.numbers
    if not matter.block.photos:
        return lay_text_pages(matter, key, matter.numbers, FAMILY)
    if rest:
        composed = compose_page(matter, matter.block.photos, on_recto(first))
        pictures = hang_pages(matter, [(first, composed)], FAMILY)
        told = lay_text_pages(matter, key, tuple(rest), FAMILY)
        return Laid((*pictures, *told.pages), findings=told.findings)
    photos = matter.block.photos
    beside = len(photos) == 1 and matter.aspect(photos[0]) < UPRIGHT
    frames = (_lay_beside if beside else _lay_under)(matter, key, first)
    return Laid((PageLayout(first, FAMILY, frames),))


def _lay_under(matter: Matter, key: str, number: int) -> tuple[Frame, ...]:
    """Give the pictures at the head of the picture area, the text under them on their left edge."""
    area, photos = matter.grid.picture_area(on_recto(number)), matter.block.photos
    paragraphs = matter.words.get(key)
    measure = min(matter.grid.short_measure, area.width)
    below = caption_height(matter, photos, matter.grid.caption_measure)
    height = area.height - matter.height(paragraphs, measure) - below - AIR
    arrangement = arrange_all(matter, photos, Rect(area.x, area.y, area.width, height))
    bounds = arrangement.bounds
    hung = arrangement.moved(area.x + (area.width - bounds.width) / 2 - bounds.x, 0.0)
    placed = list(zip(photos, hung.rects, strict=True))
    captions = place_caption(matter, placed, hung.bounds)
    y = max([hung.bounds.bottom, *(c.box.bottom for c in captions)]) + AIR
    text = matter.set_text(key, paragraphs, hung.bounds.x, y, measure)
    return (*_show(matter, placed), *captions, text)


def _lay_beside(matter: Matter, key: str, number: int) -> tuple[Frame, ...]:
    """Give an upright picture in the outer columns, the text in the inner ones, on one line."""
    grid, recto, photo = matter.grid, on_recto(number), matter.block.photos[0]
    half = COLUMNS // 2
    outer = grid.column(half if recto else 0, half, recto)
    inner = grid.column(0 if recto else half, half, recto)
    aspect = matter.aspect(photo)
    width = min(outer.width, aspect * 0.75 * outer.height)
    # The picture keeps to the text's side of its columns: the white between them stays a gap.
    x = outer.x if recto else outer.right - width
    box = Rect(x, grid.sunk, width, width / aspect)
    paragraphs = matter.words.get(key)
    measure = inner.width - COLUMN_GAP
    top = grid.sunk_text(paragraphs[0].style) if paragraphs else grid.sunk
    text = matter.set_text(key, paragraphs, inner.x, top, measure)
    return (*_show(matter, [(photo, box)]), *place_caption(matter, [(photo, box)], box), text)


def _show(matter: Matter, placed: Sequence[tuple[str, Rect]]) -> list[Frame]:
    return [matter.whole(photo, rect) for photo, rect in placed]
