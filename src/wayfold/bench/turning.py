"""How the paper goes through this printer, in pictures: which edge first, turned which way."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from wayfold.base.geometry import Affine, Rect, Size
from wayfold.bench.figure import BOLD, CARD, DASH, HAIR, PAPER_TINT, Pen
from wayfold.bench.worksheet import HEAD, LEFT, PAPER, RIGHT, choose_hand, write_lines
from wayfold.book.materials import BackOrder, Duplex, Feed, Printer
from wayfold.book.style import Style
from wayfold.drawing.items import Drawing, Placed
from wayfold.drawing.text import Align, Figures, TextStyle

ROW = 60.0
PICTURE_X, WORDS_X = 62.0, 112.0
STEP = Size(96.0, 52.0)
STEP_LEFT, STEP_BASE = 21.0, 39.0
"""A step's picture alone: its size, and where it is drawn on the page that it stands on."""
_Draw = Callable[[Pen, float], None]
"""Draws a picture whose near edge lies at a height (mm)."""
SLANT = 13.0
"""How far a lying sheet's far edge is drawn to the right of its near edge."""


@dataclass(frozen=True, slots=True)
class _Lying:
    """A sheet drawn lying on a table: its near left corner, its width and depth as drawn."""

    x: float
    y: float
    width: float
    depth: float

    def corner(self, across: float, away: float) -> tuple[float, float]:
        """A place on it: 0..1 across from the left, 0..1 away from the viewer."""
        return (
            self.x + across * self.width + away * SLANT,
            self.y - away * self.depth,
        )


@dataclass(frozen=True, slots=True)
class TurningStep:
    """One step of laying and turning the paper: what to do, and its picture alone."""

    words: str
    drawing: Drawing


def draw_turning_steps(printer: Printer, style: Style) -> tuple[TurningStep, ...]:
    """Draw the steps for this printer one by one, to stand apart from their page."""
    hand = choose_hand(style)
    drawn = []
    for draw, words in _list_steps(printer):
        pen = Pen(hand)
        draw(pen, STEP_BASE)
        picture = Placed(pen.finish("picture", PAPER), Affine.shift(-STEP_LEFT, 0.0))
        drawn.append(TurningStep(words, Drawing("turning the paper", STEP, 0.0, (picture,))))
    return tuple(drawn)


def _list_steps(printer: Printer) -> list[tuple[_Draw, str]]:
    return _by_hand(printer) if printer.duplex is Duplex.MANUAL else _by_itself(printer)


def draw_turning(printer: Printer, style: Style) -> tuple[Drawing, ...]:
    """Draw the page of instructions for this printer's way with both sides."""
    pen = Pen(choose_hand(style))
    name = {
        Duplex.MANUAL: "Turning the pile by hand",
        Duplex.SHORT_EDGE: "Both sides in one go, turned about the short edge",
        Duplex.LONG_EDGE: "Both sides in one go, turned about the long edge",
    }[printer.duplex]
    _write(pen, Rect(LEFT, HEAD, RIGHT - LEFT, 12.0), name, title=True)
    _write(
        pen,
        Rect(LEFT, HEAD + 13.0, RIGHT - LEFT, 12.0),
        f"For {printer.name}. The tab marks the head of the front. Try it with two sheets of "
        "plain paper, numbered 1 and 2 in pencil on the side that is printed first, before any "
        "good paper goes in.",
    )
    for number, (draw, words) in enumerate(_list_steps(printer), start=1):
        top = HEAD + 32.0 + (number - 1) * ROW
        draw(pen, top + 38.0)
        pen.words(LEFT + 3.0, top + 3.0, f"{number}", style=_numeral(pen), width=10.0)
        _write(pen, Rect(WORDS_X, top, RIGHT - WORDS_X, ROW - 4.0), words)
    return (pen.finish("turning the paper", PAPER),)


def _by_hand(printer: Printer) -> list[tuple[_Draw, str]]:
    first, last = ("1", "2") if printer.back_order is BackOrder.SAME else ("2", "1")
    edge = "short" if printer.feed is Feed.SHORT_EDGE else "long"
    return [
        (
            lambda pen, y: _draw_fed(pen, y, printer.feed, "1"),
            f"Print the fronts (fronts.pdf), the {edge} edge of the paper going in first. Leave "
            "the sheets in the order in which they come out.",
        ),
        (
            _draw_flip,
            "Let the fronts dry. Take the pile as one and turn it over about its short edge: left "
            "and right change, the head stays away from you.",
        ),
        (
            lambda pen, y: _draw_pile(pen, y, first, last),
            (
                "Put the pile back into the tray. Set is: the backs are printed in the "
                f"{'same order as the fronts' if first == '1' else 'opposite order, last first'} "
                f'(back_order = "{printer.back_order.value}"), so sheet {first} must be drawn in '
                "first. If your two trial sheets come out with the backs exchanged, set the other "
                "order; if a back stands on its head, the pile was turned about its long edge."
            ),
        ),
        (
            lambda pen, y: _draw_fed(pen, y, printer.feed, first, back=True),
            "Print the backs (backs.pdf), one sheet first, and hold it to the light: each page "
            "with an odd number must be backed by the one that follows it.",
        ),
    ]


def _by_itself(printer: Printer) -> list[tuple[_Draw, str]]:
    edge = "short" if printer.duplex is Duplex.SHORT_EDGE else "long"
    fed = "short" if printer.feed is Feed.SHORT_EDGE else "long"
    return [
        (
            lambda pen, y: _draw_fed(pen, y, printer.feed, "1"),
            f"Lay the paper in so that its {fed} edge goes in first, the side to be printed first "
            "as your printer wants it.",
        ),
        (
            _draw_flip if edge == "short" else _draw_flip_long,
            f"In the print window choose both sides, turned (or “flipped”, “bound”) on the {edge} "
            "edge, scale 100 %. Some programs call the edge by how the page stands on the "
            "screen: the picture counts, not the word.",
        ),
        (
            _draw_trial,
            "Print the trial sheet (trial.pdf), one of this book, and hold it to the light: each "
            "page with an odd number must be backed by the one that follows it, and the "
            "marks of front and back must meet. If the back stands "
            "on its head, choose the other edge.",
        ),
    ]


def _draw_sheet(pen: Pen, at: _Lying, number: str, *, back: bool = False) -> None:
    corners = [at.corner(0, 0), at.corner(1, 0), at.corner(1, 1), at.corner(0, 1)]
    pen.shape(corners, fill=CARD if back else PAPER_TINT)
    # The tab at the head; on the other side it shows through, dashed.
    (x1, y1), (x2, y2) = at.corner(0.44, 1), at.corner(0.56, 1)
    tab = [(x1, y1), (x2, y2), (x2 + 1.2, y2 - 2.2), (x1 + 1.2, y1 - 2.2)]
    pen.shape(tab, fill=pen.hand.accent, width=HAIR)
    if number:
        x, y = at.corner(0.32, 0.45)
        pen.words(x, y, number, style=_numeral(pen), width=12.0)


def _draw_fed(pen: Pen, y: float, feed: Feed, number: str, *, back: bool = False) -> None:
    """A sheet before the printer's rollers, the edge that goes in first at the right."""
    across, depth = (34.0, 14.0) if feed is Feed.SHORT_EDGE else (22.0, 22.0)
    x = PICTURE_X - 30.0
    at = _Lying(x, y, across, depth)
    _draw_sheet_plain(pen, at, number, back=back)
    right = x + across
    middle = right + SLANT / 2 + 1.5
    pen.arrow((middle, y - depth / 2), (middle + 13.0, y - depth / 2), width=BOLD)
    pen.line((right + 15.0, y + 2.0), (right + 15.0 + SLANT, y - depth - 2.0), width=BOLD)
    pen.words(right + 18.0, y + 5.0, "into the printer", style=pen.small, width=30.0)
    name = "short edge first" if feed is Feed.SHORT_EDGE else "long edge first"
    pen.words(x + across / 2, y + 5.0, name, style=pen.small, width=40.0)


def _draw_sheet_plain(pen: Pen, at: _Lying, number: str, *, back: bool) -> None:
    corners = [at.corner(0, 0), at.corner(1, 0), at.corner(1, 1), at.corner(0, 1)]
    pen.shape(corners, fill=CARD if back else PAPER_TINT)
    x, y = at.corner(0.5, 0.6)
    pen.words(x, y, number, style=_numeral(pen), width=12.0)
    what = "back" if back else "front"
    pen.words(*at.corner(0.5, 0.16), what, style=pen.small, width=20.0)


def _numeral(pen: Pen) -> TextStyle:
    return replace(pen.hand.title, size_pt=15.0, leading_pt=17.0, figures=Figures.LINING)


def _draw_flip(pen: Pen, y: float) -> None:
    """Left and right change: the axis runs from the viewer to the head."""
    at = _Lying(PICTURE_X - 30.0, y, 46.0, 20.0)
    _draw_sheet(pen, at, "1")
    (x1, y1), (x2, y2) = at.corner(0.5, -0.15), at.corner(0.5, 1.3)
    pen.line((x1, y1), (x2, y2), dash=DASH)
    left, right = at.corner(0.06, 0.5), at.corner(0.94, 0.5)
    pen.arc((left[0] + right[0]) / 2, left[1] - 3.0, 19.0, 15.0, 195.0, 338.0, width=BOLD)
    tip = ((left[0] + right[0]) / 2 + 18.0, left[1] - 8.2)
    pen.arrow((tip[0] - 1.2, tip[1] - 1.6), (tip[0] + 1.0, tip[1] + 2.6), width=BOLD)
    pen.words(at.corner(0.5, 0)[0], y + 5.0, "left over to right", style=pen.small, width=50.0)


def _draw_flip_long(pen: Pen, y: float) -> None:
    """Head and foot change: the axis runs across."""
    at = _Lying(PICTURE_X - 30.0, y, 46.0, 20.0)
    _draw_sheet(pen, at, "1")
    (x1, y1), (x2, y2) = at.corner(-0.12, 0.5), at.corner(1.12, 0.5)
    pen.line((x1, y1), (x2, y2), dash=DASH)
    x, foot = at.corner(1.0, 0.0)
    pen.arc(x + 12.0, foot - 10.0, 7.0, 12.0, 100.0, -80.0, width=BOLD)
    pen.arrow((x + 16.0, foot - 20.6), (x + 12.0, foot - 22.2), width=BOLD)
    pen.words(at.corner(0.5, 0)[0], y + 5.0, "foot over to head", style=pen.small, width=50.0)


def _draw_pile(pen: Pen, y: float, first: str, last: str) -> None:
    """Sheets on each other, the one that is drawn in first apart at the right."""
    for step in (2, 1, 0):
        _draw_sheet(pen, _Lying(PICTURE_X - 36.0, y - 1.6 * (2 - step), 30.0, 15.0), "", back=True)
    pen.words(PICTURE_X - 36.0 + 15.0 + SLANT / 2, y - 9.5, last, style=_numeral(pen), width=12.0)
    at = _Lying(PICTURE_X + 4.0, y, 26.0, 15.0)
    _draw_sheet(pen, at, first, back=True)
    pen.words(PICTURE_X - 14.0, y + 5.0, "drawn in later", style=pen.small, width=40.0)
    pen.words(PICTURE_X + 24.0, y + 5.0, "drawn in first", style=pen.small, width=40.0)


def _draw_trial(pen: Pen, y: float) -> None:
    """A sheet against the light: what is on the back, dashed, lies behind what is on the front."""
    x, w, h = PICTURE_X - 30.0, 48.0, 30.0
    pen.box(Rect(x, y - h, w, h), fill=PAPER_TINT)
    pen.line((x + w / 2, y - h - 2.0), (x + w / 2, y + 2.0), dash=DASH)
    for left, front, back in ((x + 4.0, "4", "3"), (x + w / 2 + 2.0, "1", "2")):
        page = Rect(left, y - h + 4.0, w / 2 - 6.0, h - 8.0)
        pen.box(page)
        pen.box(page.moved(0.5, 0.4), dash=(0.8, 0.8))
        pen.words(page.center.x, page.center.y - 3.0, front, style=_numeral(pen), width=12.0)
        pen.words(page.center.x, page.center.y + 5.0, f"({back})", style=pen.small, width=12.0)
    pen.words(x + w / 2, y + 5.0, "against the light", style=pen.small, width=50.0)


def _write(pen: Pen, box: Rect, words: str, *, title: bool = False) -> None:
    style = replace(pen.hand.title, size_pt=18.0, leading_pt=22.0) if title else pen.hand.lead
    style = style if title else replace(pen.hand.note, size_pt=9.4, leading_pt=12.4)
    pen.items.append(write_lines(box, ((words, style),), words[:24], Align.LEFT))
