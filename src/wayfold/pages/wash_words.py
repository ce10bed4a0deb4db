"""Which words of a page may stand on a wash, and how light it must be beneath them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wayfold.base.geometry import Rect
from wayfold.drawing.contrast import luminance
from wayfold.drawing.text import Paragraph, TextBlock, TextMeasurer, VerticalAlign
from wayfold.layout.model import TextFrame

LEAST_TITLE_PT = 14.0
"""Words of this size may stand on a wash; smaller ones are read better beside it."""
WORD_CONTRAST = 12.0
"""Least contrast of words on a wash with its darkest part."""
TEXT_CLEAR, SMALL_CLEAR = 5.0, 2.5
"""White (mm) between a wash and running text, and other small words."""


@dataclass(frozen=True, slots=True)
class WashWords:
    """A paragraph's place with the white it wants, and the luminance that its ground needs.

    ``needs`` is None where a wash has to keep clear.
    """

    box: Rect
    needs: float | None


def read_words(frame: TextFrame, measurer: TextMeasurer) -> Iterator[WashWords]:
    """Tell a text's paragraphs apart where some of them may stand on a wash."""
    needs = [need_light(p) for p in frame.paragraphs]
    large = [p.style.size_pt >= LEAST_TITLE_PT for p in frame.paragraphs]
    if not any(large):
        clear = TEXT_CLEAR if all(n is not None for n in needs) else SMALL_CLEAR
        yield WashWords(frame.box.grown(clear), None)
        return
    ends = [
        TextBlock(frame.paragraphs[: n + 1], frame.box.width) for n in range(len(frame.paragraphs))
    ]
    heights = measurer.measure_heights(ends)
    top = frame.box.y
    if frame.vertical is not VerticalAlign.TOP:
        top = frame.box.bottom - heights[-1]
    start = 0.0
    for end, need, is_large in zip(heights, needs, large, strict=True):
        box = Rect(frame.box.x, top + start, frame.box.width, end - start)
        yield WashWords(box if is_large else box.grown(SMALL_CLEAR), need if is_large else None)
        start = end


def need_light(paragraph: Paragraph) -> float | None:
    """Give the luminance (0-1) that the ground of a paragraph needs; None where none will do."""
    inks = {run.colour or paragraph.style.colour for run in paragraph.runs}
    lightest = max((luminance(ink) for ink in inks), default=0.0)
    need = WORD_CONTRAST * (lightest + 0.05) - 0.05
    return need if need <= 1.0 else None
