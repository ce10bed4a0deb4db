"""A pen for the worksheets' figures: lines, measures, arrows, and words beside them."""

from __future__ import annotations

import math
from collections.abc import Container, Iterable
from dataclasses import replace

from wayfold.base.geometry import Point, Rect, Size
from wayfold.base.units import mm_from_pt
from wayfold.bench.worksheet import Hand, draw_box, draw_dot, draw_path, write_lines
from wayfold.drawing.colour import Colour
from wayfold.drawing.items import Contour, Drawing, Item, Shape, Stroke
from wayfold.drawing.text import Align, Figures, TextStyle, VerticalAlign

HAIR, FINE, BOLD = 0.13, 0.25, 0.5
DASH = (1.6, 1.1)
TICK = 1.1
"""Half the length of the strokes that end a measure."""
CLOTH = Colour(0xE9, 0xE0, 0xD2)
BOARD = Colour(0xC9, 0xB9, 0xA2)
CARD = Colour(0xDD, 0xD2, 0xC0)
PAPER_TINT = Colour(0xF7, 0xF4, 0xEE)


class Pen:
    """Draws one figure; what is drawn later lies on top.

    A measure ``of`` a figure that is among those ``lit`` is drawn in the accent.
    """

    def __init__(self, hand: Hand, lit: Container[str] = ()) -> None:
        self.hand = hand
        self._lit = lit
        self.items: list[Item] = []
        self.figure = replace(hand.figure, figures=Figures.LINING, colour=hand.ink, size_pt=8.0)
        self.small = replace(self.figure, size_pt=7.4, leading_pt=8.8, colour=hand.quiet)

    def finish(self, label: str, size: Size) -> Drawing:
        """Give the figure as a drawing."""
        return Drawing(label, size, 0.0, tuple(self.items))

    def line(
        self,
        *points: tuple[float, float],
        width: float = FINE,
        dash: tuple[float, ...] = (),
        colour: Colour | None = None,
    ) -> None:
        """Draw an open line through points."""
        stroke = Stroke(colour or self.hand.ink, width, dash)
        self.items.append(draw_path(tuple(Point(x, y) for x, y in points), stroke))

    def box(
        self,
        rect: Rect,
        fill: Colour | None = None,
        width: float | None = FINE,
        dash: tuple[float, ...] = (),
        colour: Colour | None = None,
    ) -> None:
        """Draw a rectangle; ``width`` None leaves its edges bare."""
        stroke = None if width is None else Stroke(colour or self.hand.ink, width, dash)
        self.items.append(draw_box(rect, fill, stroke))

    def shape(
        self,
        points: Iterable[tuple[float, float]],
        fill: Colour | None = None,
        width: float | None = FINE,
        dash: tuple[float, ...] = (),
    ) -> None:
        """Draw a closed line through points."""
        stroke = None if width is None else Stroke(self.hand.ink, width, dash)
        contour = Contour(tuple(Point(x, y) for x, y in points), closed=True)
        self.items.append(Shape((contour,), fill, stroke))

    def dot(self, x: float, y: float, radius: float = 0.7, colour: Colour | None = None) -> None:
        """Draw a round dot."""
        self.items.append(draw_dot(Point(x, y), radius, colour or self.hand.ink))

    def arc(
        self,
        x: float,
        y: float,
        rx: float,
        ry: float,
        start_deg: float,
        end_deg: float,
        *,
        width: float = FINE,
        dash: tuple[float, ...] = (),
        colour: Colour | None = None,
    ) -> None:
        """Draw part of an ellipse; angles go clockwise from the right."""
        steps = max(6, int(abs(end_deg - start_deg) / 9))
        points = []
        for step in range(steps + 1):
            angle = math.radians(start_deg + (end_deg - start_deg) * step / steps)
            points.append((x + rx * math.cos(angle), y + ry * math.sin(angle)))
        self.line(*points, width=width, dash=dash, colour=colour)

    def arrow(
        self,
        start: tuple[float, float],
        end: tuple[float, float],
        *,
        width: float = FINE,
        both: bool = False,
        colour: Colour | None = None,
        head: float = 1.8,
    ) -> None:
        """Draw a line with a barbed end, or two."""
        self.line(start, end, width=width, colour=colour)
        for tip, tail in ((end, start), (start, end))[: 2 if both else 1]:
            angle = math.atan2(tail[1] - tip[1], tail[0] - tip[0])
            barbs = [
                (tip[0] + head * math.cos(angle + turn), tip[1] + head * math.sin(angle + turn))
                for turn in (0.42, -0.42)
            ]
            self.line(barbs[0], tip, barbs[1], width=width, colour=colour)

    def words(
        self,
        x: float,
        y: float,
        words: str,
        *,
        align: Align = Align.CENTER,
        style: TextStyle | None = None,
        width: float = 60.0,
        turn_deg: float = 0.0,
    ) -> None:
        """Write one line (or more, as ``width`` has it) about the height ``y``."""
        style = style or self.figure
        left = {Align.LEFT: x, Align.RIGHT: x - width}.get(align, x - width / 2)
        lines = words.split("\n")
        height = mm_from_pt(style.leading_pt) * len(lines) + 0.4
        text = write_lines(
            Rect(left, y - height / 2, width, height),
            tuple((line, style) for line in lines),
            words[:24],
            align,
            VerticalAlign.MIDDLE,
        )
        self.items.append(replace(text, turn_deg=turn_deg) if turn_deg else text)

    def measure_across(
        self,
        left: float,
        right: float,
        y: float,
        words: str,
        *,
        edge: float | None = None,
        of: str = "",
    ) -> None:
        """Draw a level measure; ``edge`` is where the thing measured lies, for thin guide lines."""
        ink, style, thin, bold = self._light(of)
        self._guide(((left, edge), (left, y)), ((right, edge), (right, y)), edge)
        self.line((left, y), (right, y), width=thin, colour=ink)
        for x in (left, right):
            self.line((x - 0.7, y + 0.7), (x + 0.7, y - 0.7), width=bold, colour=ink)
        room = right - left
        if room >= 3.4 + 1.45 * len(words):
            self._mask(
                Rect((left + right) / 2 - 0.78 * len(words), y - 1.6, 1.56 * len(words), 3.2)
            )
            self.words((left + right) / 2, y, words, style=style)
        else:
            self.words((left + right) / 2, y - 2.4, words, style=style)

    def measure_down(
        self,
        top: float,
        bottom: float,
        x: float,
        words: str,
        *,
        edge: float | None = None,
        of: str = "",
    ) -> None:
        """Draw an upright measure, its words turned to read from the right."""
        ink, style, thin, bold = self._light(of)
        if edge is not None:
            for y in (top, bottom):
                self.line((edge, y), (x, y), width=HAIR, colour=self.hand.quiet)
        self.line((x, top), (x, bottom), width=thin, colour=ink)
        for y in (top, bottom):
            self.line((x - 0.7, y + 0.7), (x + 0.7, y - 0.7), width=bold, colour=ink)
        middle = (top + bottom) / 2
        if bottom - top >= 3.4 + 1.45 * len(words):
            self._mask(Rect(x - 1.6, middle - 0.78 * len(words), 3.2, 1.56 * len(words)))
            self.words(x, middle, words, turn_deg=-90.0, style=style)
        else:
            self.words(x + 1.6, middle, words, align=Align.LEFT, style=style)

    def _light(self, of: str) -> tuple[Colour, TextStyle, float, float]:
        """Give ink and lettering of a measure, and the widths of its line and its ends."""
        if of not in self._lit:
            return self.hand.ink, self.figure, HAIR, FINE
        ink = self.hand.accent
        return ink, replace(self.figure, colour=ink), FINE, BOLD

    def grain(self, x: float, y: float, length: float = 14.0) -> None:
        """Draw the sign of an upright grain."""
        for shift in (-0.9, 0.0, 0.9):
            reach = length / 2 if shift == 0 else length / 2 - 2.4
            self.line((x + shift, y - reach), (x + shift, y + reach), width=HAIR)
        self.line(
            (x - 1.0, y - length / 2 + 1.6),
            (x, y - length / 2),
            (x + 1.0, y - length / 2 + 1.6),
            width=HAIR,
        )
        self.line(
            (x - 1.0, y + length / 2 - 1.6),
            (x, y + length / 2),
            (x + 1.0, y + length / 2 - 1.6),
            width=HAIR,
        )
        self.words(x, y + length / 2 + 2.4, "grain", style=self.small, width=14.0)

    def _guide(
        self,
        first: tuple[tuple[float, float | None], tuple[float, float]],
        second: tuple[tuple[float, float | None], tuple[float, float]],
        edge: float | None,
    ) -> None:
        if edge is None:
            return
        for (x, _), end in (first, second):
            self.line((x, edge), end, width=HAIR, colour=self.hand.quiet)

    def _mask(self, rect: Rect) -> None:
        """Paper under a measure's words, so that they stand on the line."""
        self.items.append(draw_box(rect, Colour(255, 255, 255)))
