"""Where words stand on a translucent leaf: readable, light, calm, clear of the page's own type."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from wayfold.base.geometry import Rect
from wayfold.book.see_through import Sheet
from wayfold.drawing.items import Text
from wayfold.drawing.text import Paragraph
from wayfold.layout.grid import COLUMNS, Grid
from wayfold.pages.ground import Ground
from wayfold.pages.leaf_marks import guess_width, list_marks

STEPS = 30
"""Heights that are tried for words."""
AWAY = 0.5
"""What a place loses a page's height away from where it was wished, against light from 0 to 1."""
THROUGH = 0.3
"""What a place loses whose words, once the leaf is turned, show mirrored through it over others."""
ASIDE = 0.3
"""A page's width beside the text margin, as a part of a page's height above or below."""
UNREAD = 2.0
"""What a place loses whose words cannot be read."""
EASY, HARDER = 1.3, 2.0
"""Contrast against what is needed from which words are read with ease (4.5 becomes 5.9: paper is
no screen, and 5.5 to 6 is a sound aim; common practice), and what a place loses for lack of it."""
CROSSED = 0.5
"""What a place loses through which a picture's edge runs."""
WATCHED = 0.1
"""What a place loses that the eye goes to as much as to the mean of the picture."""
APART = 25.0
"""So far (mm) from a better place another one is worth a try."""

Measure = Callable[[tuple[Paragraph, ...], Sequence[float]], list[float]]
"""The heights (mm) that a text takes at several widths."""


@dataclass(frozen=True, slots=True)
class Over:
    """What a leaf's words lie over: a page, the one that faces it, and the paper of the leaf."""

    grid: Grid
    recto: bool
    ground: Ground
    facing: Ground
    sheet: Sheet


def rank_places(
    over: Over,
    paragraphs: tuple[Paragraph, ...],
    measure: Measure,
    width: float,
    wish: float,
    above: float = 0.0,
) -> list[tuple[float, Rect]]:
    """Give the boxes for words at most ``width`` mm wide and their worth, the best first, apart.

    ``wish`` is the height (mm) where they are looked for first; ``above`` is room (mm) that
    something over the words takes.
    """
    kept: list[tuple[float, Rect]] = []
    places = sorted(
        _list_places(over, paragraphs, measure, width, wish, above), key=lambda p: -p[0]
    )
    for worth, box in places:
        if all(abs(box.x - k.x) + abs(box.y - k.y) >= APART for _, k in kept):
            kept.append((worth, box))
    return kept


def _list_places(
    over: Over,
    paragraphs: tuple[Paragraph, ...],
    measure: Measure,
    width: float,
    wish: float,
    above: float,
) -> Iterator[tuple[float, Rect]]:
    grid, trim = over.grid, over.grid.trim
    area, pictures = grid.text_area(over.recto), grid.picture_area(over.recto)
    columns = [area.x, *(grid.column(n, 1, over.recto).x for n in range(COLUMNS))]
    set_width = guess_width(paragraphs)
    across = [x for x in columns if x + min(set_width, width) <= pictures.right] or columns[:1]
    widths = [min(width, pictures.right - x) for x in across]
    heights = [height + above for height in measure(paragraphs, widths)]
    head, foot = grid.picture_margins.head, trim.height - grid.picture_margins.foot
    for x, room, height in zip(across, widths, heights, strict=True):
        lowest = max(head, foot - height)
        text = Text(Rect(x, above, room, height - above), paragraphs, "")
        marks = tuple(list_marks((text,)))
        down = [min(max(wish, head), lowest)]
        down += [head + i * (lowest - head) / STEPS for i in range(STEPS + 1)]
        for y in down:
            inked = Rect(x, y, min(set_width, room), height)
            away = abs(y - wish) / trim.height + ASIDE * abs(x - area.x) / trim.width
            mirrored = Rect(trim.width - inked.right, y, inked.width, height)
            worth = over.ground.judge(inked) - AWAY * away
            worth -= THROUGH * over.facing.share_type(mirrored)
            worth -= WATCHED * over.ground.watch(inked)
            worth -= CROSSED if over.ground.is_crossed(inked) else 0.0
            margins = (m.measure(over.ground, over.sheet, 0.0, y) / m.needs for m in marks)
            least = min(margins, default=1.0)
            worth -= HARDER * max(0.0, EASY - least) + (UNREAD if least < 1.0 else 0.0)
            yield worth, Rect(x, y, room, height)
