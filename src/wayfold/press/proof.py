"""The proof sheet: strips of the pictures at their final size, on the paper of the book."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from wayfold.base.geometry import Rect
from wayfold.book.materials import Paper, Printer
from wayfold.drawing.colour import BLACK
from wayfold.drawing.items import Drawing, Item, Picture, Text
from wayfold.drawing.pictures import list_pictures
from wayfold.drawing.text import Figures, Paragraph, Run, TextStyle
from wayfold.washes.model import NAMED

STRIPS = 6
GAP, LABEL = 4.0, 5.0
LEAST = 25.0
"""A picture smaller than this (mm) shows too little of itself."""
STYLE = TextStyle("Source Sans 3", 7.5, 9.5, BLACK, figures=Figures.LINING)
WORDS = (
    "Proof sheet: the pictures at their final size. Print it as the sheets will be printed: the "
    "same paper, the same settings, 100 %. Look at it by daylight after an hour, and again after "
    "a day: too dark, too warm, soft, or banded? Change the print settings, and print it again."
)


@dataclass(frozen=True, slots=True)
class _Shown:
    page: int
    picture: Picture


def draw_proof(pages: Sequence[Drawing], printer: Printer, paper: Paper) -> Drawing | None:
    """Draw the proof sheet of a book's pages (page 1 first); None where they bear no pictures."""
    shown = _choose(pages)
    if not shown:
        return None
    sheet = paper.sheet if paper.sheet.width >= paper.sheet.height else paper.sheet.turned
    p = printer
    area = Rect(
        p.margin_left + 3,
        p.margin_head + 3,
        sheet.width - p.margin_left - p.margin_right - 6,
        sheet.height - p.margin_head - p.margin_foot - 6,
    )
    return Drawing("proof sheet", sheet, 0.0, tuple(_lay(shown, area)))


def _choose(pages: Sequence[Drawing]) -> list[_Shown]:
    """The largest pictures, of different photographs, and the largest wash, in the book's order.

    Pale tints are what a printer fails at first.
    """
    found: dict[str, _Shown] = {}
    for number, page in enumerate(pages, start=1):
        for picture in list_pictures(page):
            if min(picture.box.width, picture.box.height) < LEAST:
                continue
            asset = NAMED if picture.asset.startswith(NAMED) else picture.asset
            known = found.get(asset)
            if known is None or picture.box.area > known.picture.box.area:
                found[asset] = _Shown(number, picture)
    washes = [found.pop(NAMED)] if NAMED in found else []
    largest = sorted(found.values(), key=lambda s: (-s.picture.box.area, s.page))
    return sorted([*largest[: STRIPS - len(washes)], *washes], key=lambda s: s.page)


def _lay(shown: Sequence[_Shown], area: Rect) -> Iterator[Item]:
    words = 10.0
    yield _write(WORDS, Rect(area.x, area.y, area.width, words))
    width = (area.width - GAP * (len(shown) - 1)) / len(shown)
    top, height = area.y + words, area.height - words - LABEL
    for n, strip in enumerate(shown):
        left = area.x + n * (width + GAP)
        box = strip.picture.box
        w, h = min(width, box.width), min(height, box.height)
        window = Rect(left, top, w, h)
        # The middle of the picture lies in the middle of its strip.
        placed = box.moved(window.center.x - box.center.x, window.center.y - box.center.y)
        yield replace(strip.picture, box=placed, clip=window, alt=f"part of page {strip.page}")
        yield _write(f"page {strip.page}", Rect(left, top + h + 0.8, width, LABEL - 0.8))


def _write(words: str, box: Rect) -> Text:
    return Text(box, (Paragraph((Run(words),), STYLE),), words[:20])
