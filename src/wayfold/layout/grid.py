"""Where things may lie on a page: margins, columns and lines, mirrored about the fold."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wayfold.base.geometry import Rect, Size
from wayfold.base.units import mm_from_pt
from wayfold.book.state import Book
from wayfold.book.style import Canon, Margins
from wayfold.drawing.text import TextStyle

A4 = Size(210.0, 297.0)
COLUMNS = 6
MOST_EMS = 28.5
"""The longest measure of running text, in its own size: about 72 letters of a Garamond (0.396 em
each on average), within the 45 to 75 of R. Bringhurst, The Elements of Typographic Style, ch. 2."""
SUNK = 0.27
"""The second hanging line, as a part of the page's height: titles, short texts and lone wide
pictures begin on it. A 3:2 picture of full width that hangs here has its middle at the optical
centre."""
LOWEST_MIDDLE = 0.485
"""What hangs from the second line has its middle above this part of the page's height."""
CAPITAL_HEIGHT = 0.65
"""Height of the serif's capitals, in its size."""
COLUMN_GAP = 5.0
HAIRLINE = 0.12
"""The thinnest line a page has (mm)."""
OPTICAL_CENTRE = 0.46
"""Height of the optical centre from the head, as a part of the whole: a little above the middle.

Common practice, no single source.
"""


@dataclass(frozen=True, slots=True)
class Grid:
    """The lines of every page of one book. Lengths in mm; x runs from the left trim edge."""

    trim: Size
    bleed: float
    picture_margins: Margins
    text_margins: Margins
    gap: float
    measure: float
    """Width of running text."""
    short_measure: float
    """Width of short texts."""
    caption_measure: float
    baseline: float
    """Distance of the lines of running text."""

    @property
    def media(self) -> Rect:
        """The page with its bleed."""
        return Rect(0.0, 0.0, self.trim.width, self.trim.height).grown(self.bleed)

    def picture_area(self, recto: bool) -> Rect:
        """Where framed pictures lie."""
        return _within(self.trim, self.picture_margins, recto)

    def canon_area(self, recto: bool) -> Rect:
        """The text area of the canon, before the measure narrows it."""
        return _within(self.trim, self.text_margins, recto)

    def text_area(self, recto: bool, measure: float | None = None) -> Rect:
        """Where running text lies: the measure, its margins to each other as those of the text."""
        width = min(measure or self.measure, self.canon_area(recto).width)
        margins, canon = self.text_margins, self.canon_area(recto)
        inner = (self.trim.width - width) * margins.inner / (margins.inner + margins.outer)
        x = inner if recto else self.trim.width - inner - width
        return Rect(x, canon.y, width, canon.height)

    def column(self, first: int, count: int, recto: bool) -> Rect:
        """``count`` columns of the picture area from the ``first`` (0-5, counted from the left)."""
        area = self.picture_area(recto)
        width = (area.width - (COLUMNS - 1) * COLUMN_GAP) / COLUMNS
        x = area.x + first * (width + COLUMN_GAP)
        return Rect(x, area.y, count * width + (count - 1) * COLUMN_GAP, area.height)

    @property
    def column_height(self) -> float:
        """Height of a text page's column: whole lines of running text."""
        height = self.canon_area(True).height
        return math.floor(height / self.baseline + 1e-9) * self.baseline

    @property
    def sunk(self) -> float:
        """The line that titles and short texts hang from, well below the head."""
        return self.trim.height * SUNK

    def hang(self, height: float) -> float:
        """The y at which something ``height`` mm high hangs: the second line, or optical centre."""
        if self.sunk + height / 2 <= LOWEST_MIDDLE * self.trim.height:
            return self.sunk
        top = self.trim.height * OPTICAL_CENTRE - height / 2
        return max(top, self.picture_margins.head)

    def sunk_text(self, style: TextStyle) -> float:
        """The y of a text whose capitals begin on the second hanging line, as pictures do."""
        above = style.first_baseline_pt - CAPITAL_HEIGHT * style.size_pt
        return self.sunk - mm_from_pt(above)

    def outer_x(self, recto: bool) -> float:
        """The outer edge of the picture area, where folio and day line end."""
        area = self.picture_area(recto)
        return area.right if recto else area.x


def make_grid(book: Book) -> Grid:
    """Give the grid of a book: its style's canon on its trim, or margins for A4 scaled to it.

    Margins that are no canon scale alike on all sides, so that even borders stay even.
    """
    alike = math.sqrt(book.trim.width * book.trim.height / (A4.width * A4.height))
    text = book.style.text_margins
    text_margins = text.margins(book.trim) if isinstance(text, Canon) else _scale(text, alike)
    picture_margins = _scale(book.style.picture_margins, alike)
    canon = book.trim.width - text_margins.inner - text_margins.outer
    room = book.trim.width - picture_margins.inner - picture_margins.outer
    longest = mm_from_pt(MOST_EMS * book.style.body.size_pt)
    measure = min(book.style.text_measure, longest, canon)
    return Grid(
        trim=book.trim,
        bleed=book.bleed,
        picture_margins=picture_margins,
        text_margins=text_margins,
        gap=book.style.gap,
        measure=measure,
        short_measure=measure * 0.8,
        caption_measure=min(book.style.caption_measure, room),
        baseline=mm_from_pt(book.style.body.leading_pt),
    )


def _scale(margins: Margins, factor: float) -> Margins:
    return Margins(
        margins.inner * factor,
        margins.outer * factor,
        margins.head * factor,
        margins.foot * factor,
    )


def _within(trim: Size, margins: Margins, recto: bool) -> Rect:
    left = margins.inner if recto else margins.outer
    width = trim.width - margins.inner - margins.outer
    return Rect(left, margins.head, width, trim.height - margins.head - margins.foot)
