"""The maker's worksheets: one sheet size, one hand, whatever they show.

Sheet space: mm from the top left corner of an upright A4 sheet, the paper a workshop printer holds.
Worksheets are written in English, like all that Wayfold says to its user; only what stands in the
book is in the book's own language.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from wayfold.base.geometry import Point, Rect, Size
from wayfold.book.style import Style
from wayfold.drawing.colour import Colour
from wayfold.drawing.items import Contour, Shape, Stroke, Text
from wayfold.drawing.text import Align, Paragraph, Run, TextStyle, VerticalAlign

PAPER = Size(210.0, 297.0)
LEFT, RIGHT = 20.0, 192.0
"""The sheet's type area, across: room to punch and file at the left."""
HEAD, FOOT = 17.0, 279.0


@dataclass(frozen=True, slots=True)
class Hand:
    """The worksheets' ways of lettering, in the book's faces and inks."""

    title: TextStyle
    lead: TextStyle
    heading: TextStyle
    note: TextStyle
    figure: TextStyle
    ink: Colour
    quiet: Colour
    accent: Colour


def choose_hand(style: Style) -> Hand:
    """Give the lettering of a book's worksheets."""
    body = TextStyle(style.serif, 8.4, 10.6, style.ink)
    return Hand(
        title=replace(body, size_pt=24.0, leading_pt=28.0),
        lead=replace(body, size_pt=10.5, leading_pt=14.0, italic=True),
        heading=replace(body, size_pt=8.6, leading_pt=11.0, small_caps=True, tracking=60.0),
        note=body,
        figure=replace(body, size_pt=8.2, leading_pt=9.6, colour=style.quiet_ink),
        ink=style.ink,
        quiet=style.quiet_ink,
        accent=style.accent,
    )


def write_lines(
    box: Rect,
    lines: tuple[tuple[str, TextStyle], ...],
    key: str,
    align: Align = Align.LEFT,
    vertical: VerticalAlign = VerticalAlign.TOP,
) -> Text:
    """Write lines of words, each in its own style, into a box."""
    paragraphs = tuple(Paragraph((Run(words),), replace(s, align=align)) for words, s in lines)
    return Text(box, paragraphs, key, vertical)


def draw_path(points: tuple[Point, ...], stroke: Stroke) -> Shape:
    """Draw an open line."""
    return Shape((Contour(points),), stroke=stroke)


def draw_box(rect: Rect, fill: Colour | None = None, stroke: Stroke | None = None) -> Shape:
    """Draw a rectangle."""
    corners = (
        Point(rect.x, rect.y),
        Point(rect.right, rect.y),
        Point(rect.right, rect.bottom),
        Point(rect.x, rect.bottom),
    )
    return Shape((Contour(corners, closed=True),), fill, stroke)


def draw_dot(at: Point, radius: float, fill: Colour) -> Shape:
    """Draw a round dot."""
    angles = (2 * math.pi * step / 24 for step in range(24))
    rim = (Point(at.x + radius * math.cos(a), at.y + radius * math.sin(a)) for a in angles)
    return Shape((Contour(tuple(rim), closed=True),), fill)
