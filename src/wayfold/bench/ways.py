"""The ways in which a spread could lie, small, side by side: a sheet to choose from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wayfold.base.geometry import Rect
from wayfold.bench.openings import shrink
from wayfold.bench.worksheet import (
    FOOT,
    HEAD,
    LEFT,
    PAPER,
    RIGHT,
    Hand,
    draw_box,
    write_lines,
)
from wayfold.drawing.colour import WHITE
from wayfold.drawing.items import Drawing, Item, Stroke

COLUMNS, ROWS = 2, 3
ON_A_SHEET = COLUMNS * ROWS
BETWEEN, UNDER = 10.0, 16.0
"""White (mm) between columns, and for the words under each spread."""
TOP = HEAD + 26.0


@dataclass(frozen=True, slots=True)
class ShownSpread:
    """Facing pages with what to call them; a page is None where the book has none."""

    name: str
    left: Drawing | None
    right: Drawing | None


def draw_ways(title: str, spreads: Sequence[ShownSpread], hand: Hand) -> tuple[Drawing, ...]:
    """Give sheets with six spreads each, in order, numbered from 0: the first is as it lies now."""
    sheets = []
    for first in range(0, len(spreads), ON_A_SHEET):
        head = Rect(LEFT, HEAD, RIGHT - LEFT, 10.5)
        items: list[Item] = [write_lines(head, ((title, hand.title),), "title")]
        for at, spread in enumerate(spreads[first : first + ON_A_SHEET]):
            items += _draw_spread(first + at, spread, _find_cell(at), hand)
        sheets.append(Drawing(f"ways {first}", PAPER, 0.0, tuple(items)))
    return tuple(sheets)


def _find_cell(at: int) -> Rect:
    width = (RIGHT - LEFT - (COLUMNS - 1) * BETWEEN) / COLUMNS
    height = (FOOT - TOP) / ROWS
    x = LEFT + at % COLUMNS * (width + BETWEEN)
    return Rect(x, TOP + at // COLUMNS * height, width, height - UNDER)


def _draw_spread(number: int, spread: ShownSpread, cell: Rect, hand: Hand) -> list[Item]:
    page = next(p for p in (spread.left, spread.right) if p is not None).size
    scale = min(cell.width / (2 * page.width), cell.height / page.height)
    width, height = page.width * scale, page.height * scale
    left = cell.x + (cell.width - 2 * width) / 2
    boxes = (Rect(left, cell.y, width, height), Rect(left + width, cell.y, width, height))
    items: list[Item] = []
    for drawing, box in zip((spread.left, spread.right), boxes, strict=True):
        if drawing is not None:
            items += [draw_box(box, fill=WHITE), shrink(drawing, box)]
            items.append(draw_box(box, stroke=Stroke(hand.quiet, 0.15)))
    words = spread.name if number == 0 else f"{number}.  {spread.name}"
    under = Rect(left, cell.y + height + 2.0, 2 * width, 10.0)
    return [*items, write_lines(under, ((words, hand.note),), f"way {number}")]
