"""The registration sheet: printed on both sides, held to the light, and read in millimetres."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from wayfold.base.geometry import Point, Rect, Size
from wayfold.drawing.colour import BLACK
from wayfold.drawing.items import Contour, Drawing, Item, Placed, Shape, Stroke, Text
from wayfold.drawing.text import Align, Figures, Paragraph, Run, TextStyle
from wayfold.press.registering import ARROW_INSET, list_marks, measure_lengths, see_through

NAMES = ("A", "B", "C", "D")
LINE = Stroke(BLACK, 0.15)
HEAVY = Stroke(BLACK, 0.3)
REACH = 6.0
"""How far the scales at the marks reach to either side."""
DISC = 5.0
DISC_FRONT, DISC_BACK = Point(16.0, 0.0), Point(0.0, 14.0)
"""Where the discs lie that a program finds in a picture, from each mark towards the middle: the
front's beside it, the back's above or below it, so that they never cover each other."""
EDGE_SCALE = 15
LEFT = TextStyle("Source Sans 3", 7.5, 9.5, BLACK, figures=Figures.LINING)
STYLE = replace(LEFT, align=Align.CENTER)
WORDS = TextStyle("EB Garamond", 11.0, 15.0, BLACK)


def draw_registration(sheet: Size, printer: str, *, turns_heads: bool) -> tuple[Drawing, Drawing]:
    """Give the two sides, each as it goes to the printer; ``printer`` is named on the front."""
    front: list[Item] = []
    for name, at in zip(NAMES, list_marks(sheet), strict=True):
        front += _draw_scale(at, name)
        front.append(_draw_disc(find_disc(at, sheet, DISC_FRONT)))
    front += _draw_lengths(sheet)
    front += _draw_edges(sheet)
    front.append(_tell(sheet, printer))
    # Drawn as it is seen through the front, and then laid as the back is printed.
    seen: list[Item] = []
    for at in list_marks(sheet):
        seen += _draw_cross(at)
        seen.append(_draw_disc(find_disc(at, sheet, DISC_BACK)))
    through = see_through(sheet, turns_heads=turns_heads).inverse()
    back = Placed(Drawing("seen through", sheet, 0.0, tuple(seen)), through)
    return (
        Drawing("registration, front", sheet, 0.0, tuple(front)),
        Drawing("registration, back", sheet, 0.0, (back,)),
    )


def find_disc(mark: Point, sheet: Size, towards: Point) -> Point:
    """Give where a mark's disc lies: so far from it towards the sheet's middle."""
    right = 1.0 if mark.x < sheet.width / 2 else -1.0
    down = 1.0 if mark.y < sheet.height / 2 else -1.0
    return Point(mark.x + right * towards.x, mark.y + down * towards.y)


def _draw_scale(at: Point, name: str) -> Iterator[Item]:
    """The front's mark: two scales in half millimetres that the back's cross is read on."""
    lines = [
        (Point(at.x - REACH, at.y), Point(at.x + REACH, at.y)),
        (Point(at.x, at.y - REACH), Point(at.x, at.y + REACH)),
    ]
    for half in range(-2 * int(REACH), 2 * int(REACH) + 1):
        off = half / 2
        length = 1.6 if half % 10 == 0 else 1.0 if half % 2 == 0 else 0.5
        lines.append((Point(at.x + off, at.y), Point(at.x + off, at.y - length)))
        lines.append((Point(at.x, at.y + off), Point(at.x - length, at.y + off)))
    yield Shape(tuple(Contour(line) for line in lines), stroke=LINE)
    yield _write(name, Point(at.x - REACH - 8.0, at.y - REACH - 5.0), 8.0, WORDS)
    for off in (-5.0, 5.0):
        yield _write(f"{off:+.0f}", Point(at.x + off - 4.0, at.y + 0.4), 8.0, STYLE)
        yield _write(f"{off:+.0f}", Point(at.x + 1.2, at.y + off - 1.7), 8.0, LEFT)


def _draw_cross(at: Point) -> Iterator[Item]:
    """The back's mark: a cross whose arms run beyond the front's scales."""
    arm = REACH + 5.0
    lines = (
        (Point(at.x - arm, at.y), Point(at.x + arm, at.y)),
        (Point(at.x, at.y - arm), Point(at.x, at.y + arm)),
    )
    yield Shape(tuple(Contour(line) for line in lines), stroke=HEAVY)


def _draw_disc(at: Point) -> Shape:
    steps = 48
    ring = tuple(
        Point(
            at.x + DISC / 2 * math.cos(2 * math.pi * k / steps),
            at.y + DISC / 2 * math.sin(2 * math.pi * k / steps),
        )
        for k in range(steps)
    )
    return Shape((Contour(ring, closed=True),), fill=BLACK)


def _draw_lengths(sheet: Size) -> Iterator[Item]:
    """Two lengths with arrowheads, to be measured with a steel rule."""
    inset_x, inset_y = ARROW_INSET
    across, along = measure_lengths(sheet)
    y, x = sheet.height / 2, sheet.width / 2
    ends = (
        (Point(inset_x, y), Point(sheet.width - inset_x, y)),
        (Point(x, inset_y), Point(x, sheet.height - inset_y)),
    )
    for one, other in ends:
        yield Shape((Contour((one, other)),), stroke=LINE)
        for tip, tail in ((one, other), (other, one)):
            dx = 4.0 if tail.x > tip.x else -4.0 if tail.x < tip.x else 0.0
            dy = 4.0 if tail.y > tip.y else -4.0 if tail.y < tip.y else 0.0
            side_x, side_y = (0.0, 1.2) if dx else (1.2, 0.0)
            head = (
                tip,
                Point(tip.x + dx + side_x, tip.y + dy + side_y),
                Point(tip.x + dx - side_x, tip.y + dy - side_y),
            )
            yield Shape((Contour(head, closed=True),), fill=BLACK)
    yield _write(f"across: {across:g} mm", Point(inset_x + 14.0, y - 4.6), 40.0, LEFT)
    yield _write(f"along: {along:g} mm", Point(x + 2.0, inset_y + 14.0), 40.0, LEFT)


def _draw_edges(sheet: Size) -> Iterator[Item]:
    """Steps counted from each edge: the first one that shows tells how near the printer comes."""
    for count in range(EDGE_SCALE + 1):
        far = float(count)
        x, y = sheet.width * 0.3 + 3.0 * count, sheet.height * 0.35 + 3.0 * count
        for one, other in (
            (Point(x, far), Point(x, far + 3.0)),
            (Point(x, sheet.height - far), Point(x, sheet.height - far - 3.0)),
            (Point(far, y), Point(far + 3.0, y)),
            (Point(sheet.width - far, y), Point(sheet.width - far - 3.0, y)),
        ):
            yield Shape((Contour((one, other)),), stroke=LINE)
        if count % 5 == 0:
            yield _write(f"{count}", Point(x - 4.0, far + 3.2), 8.0, STYLE)
            yield _write(f"{count}", Point(x - 4.0, sheet.height - far - 6.8), 8.0, STYLE)
            yield _write(f"{count}", Point(far + 2.0, y - 1.7), 8.0, STYLE)
            yield _write(f"{count}", Point(sheet.width - far - 10.0, y - 1.7), 8.0, STYLE)


def _tell(sheet: Size, printer: str) -> Text:
    lines = (
        f"Registration sheet for {printer}",
        "Print both sides at 100 %, with the paper and settings of the book, turned as the book's "
        "sheets are turned. Let it dry. Hold it to the light with this side towards you and its "
        "head up.",
        "At A, B, C and D read how far the heavy cross of the back lies to the right of 0 and "
        "below 0 on the scales (left and above are minus), to a tenth of a millimetre. Where the "
        "paper is too thick to see through, prick the crosses of the back with a fine needle, the "
        "sheet flat on cork, and mind your fingers.",
        "Measure the two lengths between the arrowheads with a steel rule. At each edge read the "
        "smallest step that is wholly printed.",
    )
    width = min(150.0, sheet.width / 2 - 40.0)
    paragraphs = tuple(Paragraph((Run(line),), WORDS) for line in lines)
    return Text(
        Rect(sheet.width / 2 + 14.0, sheet.height / 2 + 10.0, width, 90.0),
        paragraphs,
        "registration words",
    )


def _write(text: str, at: Point, width: float, style: TextStyle) -> Text:
    return Text(
        Rect(at.x, at.y, width, style.leading_pt * 0.36),
        (Paragraph((Run(text),), style),),
        "registration scale",
    )
