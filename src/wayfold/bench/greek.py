"""Pages too small to be read: lines of type become strokes, as layout men always sketched them.

So drawn, a page stays as it is when a word changes, and with it the worksheets that show it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from wayfold.base.geometry import Point
from wayfold.base.units import mm_from_pt
from wayfold.bench.stacking import LETTER_EM, count_lines
from wayfold.drawing.items import Contour, Drawing, Item, Picture, Shape, Stroke, Text
from wayfold.drawing.text import Align, Paragraph, VerticalAlign

READABLE_PT = 24.0
"""Titles of this size and more stay words."""
BLACKNESS = 0.34
"""A stroke's width, in the letters' size: a line of type seen from afar."""
STEP = 0.125
"""A last line's length is told in eighths of the measure."""


def sketch_page(drawing: Drawing) -> Drawing:
    """Give a page with its small type as strokes; what is placed on it, a map, stays as it is."""
    return replace(drawing, items=tuple(_sketch_items(drawing.items)))


def _sketch_items(items: tuple[Item, ...]) -> Iterator[Item]:
    for item in items:
        if isinstance(item, Text) and item.turn_deg == 0.0:
            yield from _sketch_text(item)
        elif isinstance(item, Picture):
            yield replace(item, alt="")  # a caption's words, which are not read here
        else:
            yield item


def _sketch_text(text: Text) -> Iterator[Item]:
    if any(p.style.size_pt >= READABLE_PT for p in text.paragraphs):
        yield text
        return
    counts = [count_lines(p.plain, p.style, text.box.width) for p in text.paragraphs]
    heights = [
        mm_from_pt(n * p.style.leading_pt + (p.style.space_before_pt if at else 0.0))
        for at, (n, p) in enumerate(zip(counts, text.paragraphs, strict=True))
    ]
    spare = text.box.height - sum(heights)
    y = text.box.y
    if text.vertical is VerticalAlign.MIDDLE:
        y += spare / 2
    elif text.vertical is VerticalAlign.BOTTOM:
        y += spare
    for count, height, paragraph in zip(counts, heights, text.paragraphs, strict=True):
        y += height
        if paragraph.plain.strip():
            yield _stroke_lines(text, paragraph, count, y)


def _stroke_lines(text: Text, paragraph: Paragraph, count: int, bottom: float) -> Shape:
    style, width = paragraph.style, text.box.width
    leading, size = mm_from_pt(style.leading_pt), mm_from_pt(style.size_pt)
    letters = len(paragraph.plain) * size * (LETTER_EM + style.tracking / 1000) / width
    share = min(1.0, max(STEP, STEP * round((letters - (count - 1)) / STEP)))
    lines = []
    for at in range(count):
        y = bottom - (count - at - 1) * leading - size * 0.45
        long = width * (share if at == count - 1 else 1.0)
        x = text.box.x
        if style.align is Align.CENTER:
            x += (width - long) / 2
        elif style.align is Align.RIGHT:
            x += width - long
        lines.append(Contour((Point(x, y), Point(x + long, y))))
    faint = replace(style.colour, opacity=0.45)
    return Shape(tuple(lines), stroke=Stroke(faint, BLACKNESS * size))
