"""The marks on a sheet: where to cut and fold, which sheet it is, and the step on the spine.

All are worked out with heads up and then turned as the side is printed. Whatever does not lie on
the printable part is left off: half a mark misleads more than none.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
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
    border = find_border(bed, trim, turn)
    items = [
        *draw_trim_marks(trim, border),
        *draw_fold_marks(bed.fold_x, border),
        *_draw_step(side, bed.fold_x, trim),
        *_write_signature(side, bed.fold_x, border),
        *write_label(lambda edge: _list_labels(side, edge), bed.fold_x, trim, border),
    ]
    label = f"gathering {side.gathering.number}, sheet {side.index}, {side.name}"
    return finish_marks(label, items, bed, border, turn)


@dataclass(frozen=True, slots=True)
class Border:
    """The sheet round the pages, heads up: what can be printed, and the room beside the bleed."""

    printable: Rect
    bleed: Rect
    room: Edges


def find_border(bed: Bed, trim: Rect, turn: Affine) -> Border:
    """Give the room for marks round a trimmed spread."""
    printable = turn.inverse().apply_rect(bed.printable)
    bleed = trim.grown(bed.bleed + MARK_GAP)
    room = Edges(
        bleed.x - printable.x,
        printable.right - bleed.right,
        bleed.y - printable.y,
        printable.bottom - bleed.bottom,
    )
    return Border(printable, bleed, room)


def finish_marks(
    label: str, items: Iterable[Item], bed: Bed, border: Border, turn: Affine
) -> Drawing:
    """Give the marks as a drawing of the side as it is printed, without those it cannot hold."""
    shown = (item for item in items if border.printable.contains(_extent(item)))
    return Drawing(label, bed.sheet, 0.0, tuple(_turn(item, turn) for item in shown))


def draw_trim_marks(trim: Rect, border: Border) -> Iterator[Item]:
    """Draw where the knife goes, at the four corners."""
    bleed, room = border.bleed, border.room
    for x in (trim.x, trim.right):
        yield from _draw_line(Point(x, bleed.y), 0, -1, room.head)
        yield from _draw_line(Point(x, bleed.bottom), 0, 1, room.foot)
    for y in (trim.y, trim.bottom):
        yield from _draw_line(Point(bleed.x, y), -1, 0, room.left)
        yield from _draw_line(Point(bleed.right, y), 1, 0, room.right)


def draw_fold_marks(x: float, border: Border, stroke: Stroke = DASHED) -> Iterator[Item]:
    """Draw an upright line's ends at head and foot: a fold, or with another stroke a cut."""
    bleed, room = border.bleed, border.room
    yield from _draw_line(Point(x, bleed.y), 0, -1, room.head, FOLD_LENGTH, stroke)
    yield from _draw_line(Point(x, bleed.bottom), 0, 1, room.foot, FOLD_LENGTH, stroke)


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


def _write_signature(side: MarkedSide, fold_x: float, border: Border) -> Iterator[Item]:
    """At the foot beside the fold of the outer side, where signatures have always stood."""
    if side.name is SideName.FRONT and border.room.foot >= LABEL_HEIGHT:
        box = Rect(fold_x + LABEL_GAP, border.bleed.bottom, 20.0, LABEL_HEIGHT)
        yield write_mark(side.signature, box, "signature")


def write_label(
    list_labels: Callable[[str], Iterable[str]], fold_x: float, trim: Rect, border: Border
) -> Iterator[Item]:
    """Write a side's name at the head beside the fold, or at the foot where the head has no room.

    ``list_labels`` gives the wordings for "head" or "foot", the longest first; the first that has
    room is taken.
    """
    bleed, room = border.bleed, border.room
    x = max(trim.x, border.printable.x) + LABEL_GAP
    width = fold_x - LABEL_GAP - x
    if room.head >= LABEL_HEIGHT:
        y, edge = bleed.y - LABEL_HEIGHT, "head"
    elif room.foot >= LABEL_HEIGHT:
        y, edge = bleed.bottom, "foot"
    else:
        return
    for words in list_labels(edge):
        if len(words) * LETTER_WIDTH_EM * mm_from_pt(LABEL_STYLE.size_pt) <= width:
            yield write_mark(words, Rect(x, y, width, LABEL_HEIGHT), "sheet label", Align.RIGHT)
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


def write_mark(words: str, box: Rect, key: str, align: Align = Align.LEFT) -> Text:
    """Write a few words of the marks' small type."""
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
