"""Whether a picture that fills its page bears a title on the translucent leaf over it."""

from __future__ import annotations

from wayfold.base.geometry import Rect
from wayfold.book.see_through import Sheet, light_of, sheet_of
from wayfold.book.state import Book
from wayfold.drawing.contrast import READABLE, contrast, luminance, worst_ground
from wayfold.photos.lightness import Lightness

WIDTH, HEIGHT = 0.42, 0.1
"""The room of the small words of a title, in parts of a page: country and dates, and some air."""
WITH_MAP = 2.5
"""A map's names want so many times that height."""
EDGE = 0.07
"""Nothing stands nearer to the trim, in parts of a page."""
PLACES = 12
"""So many places are tried across and down."""


def judge_title(
    lightness: Lightness, shown: Rect, aspect: float, book: Book, mapped: bool = False
) -> float:
    """Give the contrast of a title's small words where they are read best, against their need.

    From 1 on they can be read. ``shown`` is the part that may be shown, in fractions of the
    upright picture, whose aspect is ``aspect``; of it the middle fills the page. ``mapped`` asks
    for a map's names as well.
    """
    page = _fill_page(shown, aspect, book.trim.aspect)
    width, height = WIDTH, HEIGHT * (WITH_MAP if mapped else 1.0)
    ink, sheet = luminance(book.style.ink), sheet_of(book.translucent)
    return max(
        _measure(lightness, _part(page, Rect(x, y, width, height)), ink, sheet)
        for x in _spread(1.0 - width)
        for y in _spread(1.0 - height)
    )


def _measure(lightness: Lightness, part: Rect, ink: float, sheet: Sheet) -> float:
    ground = light_of(worst_ground(lightness.within(part), ink))
    return contrast(sheet.over(ground), sheet.ink_over(ground, ink)) / READABLE


def _fill_page(shown: Rect, aspect: float, wanted: float) -> Rect:
    """The largest part of what is shown, about its middle, with the shape of the page."""
    width = min(shown.width, shown.height * wanted / aspect)
    height = width * aspect / wanted
    return Rect(shown.center.x - width / 2, shown.center.y - height / 2, width, height)


def _part(whole: Rect, part: Rect) -> Rect:
    return Rect(
        whole.x + part.x * whole.width,
        whole.y + part.y * whole.height,
        part.width * whole.width,
        part.height * whole.height,
    )


def _spread(far: float) -> list[float]:
    slack = max(0.0, far - 2 * EDGE)
    return [EDGE + slack * i / PLACES for i in range(PLACES + 1)]
