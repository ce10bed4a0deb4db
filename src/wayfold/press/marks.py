"""The marks on a sheet: where to cut and fold, which sheet it is, and the step on the spine.

All are worked out with heads up and then turned as the side is printed. Whatever does not lie on
the printable part is left off: half a mark misleads more than none.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from wayfold.base.geometry import Affine, Point, Rect
from wayfold.base.units import mm_from_pt
from wayfold.drawing.colour import BLACK
from wayfold.drawing.items import Contour, Drawing, Item, Shape, Stroke, Text
from wayfold.drawing.text import Align, Figures, Paragraph, Run, TextStyle
from wayfold.plan.model import Gathering
from wayfold.press.bed import MARK_GAP, MARK_LEAST, Bed
from wayfold.press.model import SideName
from wayfold.press.refuse import Edges
from wayfold.press.signatures import signature_of

HAIRLINE = Stroke(BLACK, 0.15)
"""The thinnest line a home inkjet draws surely."""
DASHED = Stroke(BLACK, 0.15, (1.0, 0.8))
MARK_LENGTH = 5.0
FOLD_LENGTH = 8.0
STEP_WIDTH = mm_from_pt(6)
STEP_LENGTH = mm_from_pt(24)
"""The step on the spine: 6 by 24 pt, each a length lower than the last (Roberts & Etherington,
"black step")."""
STEP_CLEAR = 20.0
"""Kept clear of steps at head and tail, where the spine is rounded and lined."""
LABEL_STYLE = TextStyle("Source Sans 3", 6.5, 8.0, BLACK, figures=Figures.LINING)
LABEL_HEIGHT = 3.0
LABEL_GAP = 3.0
"""Between a label and the marks beside it."""
LETTER_WIDTH_EM = 0.55
"""A generous mean width of a letter, to tell whether a label has room."""


@dataclass(frozen=True, slots=True)
class MarkedSide:
    """What the marks of a side say: whose side it is and its pages, heads up, left and right."""

    name: SideName
    gathering: Gathering
    index: int
    left: int
    right: int
    by_hand: bool

    @property
    def signature(self) -> str:
        """The sheet's name: "B 2" is the second sheet of the second gathering."""
        return f"{signature_of(self.gathering.number)} {self.index}"


def draw_marks(side: MarkedSide, bed: Bed, trim: Rect, turn: Affine) -> Drawing:
    """Draw the marks of a side: ``trim`` is its trimmed spread, heads up; ``turn`` turns it all."""
    printable = turn.inverse().apply_rect(bed.printable)
    bleed = trim.grown(bed.bleed + MARK_GAP)
    room = Edges(
        bleed.x - printable.x,
        printable.right - bleed.right,
        bleed.y - printable.y,
        printable.bottom - bleed.bottom,
    )
    items = [
        *_draw_trim_marks(trim, bleed, room),
        *_draw_fold_marks(bed.fold_x, bleed, room),
        *_draw_step(side, bed.fold_x, trim),
        *_write_signature(side, bed.fold_x, bleed, room),
        *_write_label(side, bed.fold_x, max(trim.x, printable.x), bleed, room),
    ]
    shown = (item for item in items if printable.contains(_extent(item)))
    label = f"gathering {side.gathering.number}, sheet {side.index}, {side.name}"
    return Drawing(label, bed.sheet, 0.0, tuple(_turn(item, turn) for item in shown))


def _draw_trim_marks(trim: Rect, bleed: Rect, room: Edges) -> Iterator[Item]:
    for x in (trim.x, trim.right):
        yield from _draw_line(Point(x, bleed.y), 0, -1, room.head)
        yield from _draw_line(Point(x, bleed.bottom), 0, 1, room.foot)
    for y in (trim.y, trim.bottom):
        yield from _draw_line(Point(bleed.x, y), -1, 0, room.left)
        yield from _draw_line(Point(bleed.right, y), 1, 0, room.right)


def _draw_fold_marks(fold_x: float, bleed: Rect, room: Edges) -> Iterator[Item]:
    yield from _draw_line(Point(fold_x, bleed.y), 0, -1, room.head, FOLD_LENGTH, DASHED)
    yield from _draw_line(Point(fold_x, bleed.bottom), 0, 1, room.foot, FOLD_LENGTH, DASHED)


def _draw_line(
    start: Point,
    along: int,
    down: int,
    room: float,
    wanted: float = MARK_LENGTH,
    stroke: Stroke = HAIRLINE,
) -> Iterator[Item]:
    """Draw a line away from the pages, as long as wanted or as there is room."""
    length = min(wanted, room - stroke.width / 2)
    if length >= MARK_LEAST - stroke.width:
        end = Point(start.x + along * length, start.y + down * length)
        yield Shape((Contour((start, end)),), stroke=stroke)


def _draw_step(side: MarkedSide, fold_x: float, trim: Rect) -> Iterator[Item]:
    if side.name is SideName.BACK or side.index != 1:
        return
    clear = max(0.0, min(STEP_CLEAR, (trim.height - STEP_LENGTH) / 2))
    length = min(STEP_LENGTH, trim.height)
    steps = max(1, int((trim.height - 2 * clear) / length + 1e-9))
    y = trim.y + clear + length * ((side.gathering.number - 1) % steps)
    left, right = fold_x - STEP_WIDTH / 2, fold_x + STEP_WIDTH / 2
    corners = (Point(left, y), Point(right, y), Point(right, y + length), Point(left, y + length))
    yield Shape((Contour(corners, closed=True),), fill=BLACK)


def _write_signature(side: MarkedSide, fold_x: float, bleed: Rect, room: Edges) -> Iterator[Item]:
    """At the foot beside the fold of the outer side, where signatures have always stood."""
    if side.name is SideName.FRONT and room.foot >= LABEL_HEIGHT:
        box = Rect(fold_x + LABEL_GAP, bleed.bottom, 20.0, LABEL_HEIGHT)
        yield _write(side.signature, box, "signature")


def _write_label(
    side: MarkedSide, fold_x: float, left: float, bleed: Rect, room: Edges
) -> Iterator[Item]:
    """At the head beside the fold, or at the foot where the head has no room."""
    x = left + LABEL_GAP
    width = fold_x - LABEL_GAP - x
    if room.head >= LABEL_HEIGHT:
        y, edge = bleed.y - LABEL_HEIGHT, "head"
    elif room.foot >= LABEL_HEIGHT:
        y, edge = bleed.bottom, "foot"
    else:
        return
    for words in _list_labels(side, edge):
        if len(words) * LETTER_WIDTH_EM * mm_from_pt(LABEL_STYLE.size_pt) <= width:
            yield _write(words, Rect(x, y, width, LABEL_HEIGHT), "sheet label", Align.RIGHT)
            return


def _list_labels(side: MarkedSide, edge: str) -> Iterator[str]:
    """The longest first."""
    number = side.gathering.number
    short = f"{side.signature} · {side.name} · this edge is the {edge}"
    full = (
        f"{side.name} · gathering {number} ({signature_of(number)}), sheet {side.index} of "
        f"{side.gathering.sheets} · pages {side.left} and {side.right} · this edge is the {edge}"
    )
    if side.by_hand and side.name is SideName.FRONT:
        yield f"{full} · for the back, turn the pile about its short edge"
    yield full
    yield short
    yield f"{side.signature} {side.name}"


def _write(words: str, box: Rect, key: str, align: Align = Align.LEFT) -> Text:
    style = replace(LABEL_STYLE, align=align)
    return Text(box, (Paragraph((Run(words),), style),), key)


def _extent(item: Item) -> Rect:
    """The rectangle a mark covers, for the kinds of item used here."""
    if isinstance(item, Text):
        return item.box
    assert isinstance(item, Shape)
    points = [p for contour in item.contours for p in contour.points]
    x, y = min(p.x for p in points), min(p.y for p in points)
    bounds = Rect(x, y, max(p.x for p in points) - x, max(p.y for p in points) - y)
    return bounds.grown(item.stroke.width / 2 if item.stroke else 0.0)


def _turn(item: Item, turn: Affine) -> Item:
    if turn == Affine():
        return item
    if isinstance(item, Text):
        return replace(item, box=turn.apply_rect(item.box), turn_deg=180.0)
    assert isinstance(item, Shape)
    turned = (Contour(tuple(map(turn.apply, c.points)), c.closed) for c in item.contours)
    return replace(item, contours=tuple(turned))
