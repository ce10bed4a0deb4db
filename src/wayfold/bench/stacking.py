"""Words beside a drawing that keep off each other: each as near its own place as the others let."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from wayfold.base.geometry import Rect
from wayfold.base.units import mm_from_pt
from wayfold.bench.worksheet import write_lines
from wayfold.drawing.items import Text
from wayfold.drawing.text import TextStyle, VerticalAlign

LETTER_EM = 0.46
"""Mean width of a letter in its size, a little more than a Garamond's: lines are counted before
any type is set, and too many is better than too few."""


SMALLEST = 0.6
"""Where all words together have no room, their letters shrink to this part of their size."""


@dataclass(frozen=True, slots=True)
class Beside:
    """Lines of words, each in its style, that belong at a height (mm)."""

    key: str
    middle: float
    lines: tuple[tuple[str, TextStyle], ...]

    def measure(self, width: float) -> float:
        """Give about the height (mm) that the words take."""
        return sum(
            count_lines(words, style, width) * mm_from_pt(style.leading_pt)
            for words, style in self.lines
        )


def write_beside(besides: Sequence[Beside], area: Rect) -> Iterator[Text]:
    """Write all words into a column, each as near its own height as the others let."""
    heights = [beside.measure(area.width) for beside in besides]
    scale = max(SMALLEST, min(1.0, area.height / max(sum(heights), 1.0)))
    heights = [height * scale for height in heights]
    middles = [beside.middle for beside in besides]
    tops = stack_boxes(middles, heights, area.y, area.bottom)
    for beside, y, height in zip(besides, tops, heights, strict=True):
        lines = tuple((words, _shrink(style, scale)) for words, style in beside.lines)
        box = Rect(area.x, y, area.width, height)
        yield write_lines(box, lines, beside.key, vertical=VerticalAlign.MIDDLE)


def count_lines(words: str, style: TextStyle, width: float) -> int:
    """Give about how many lines words take in a measure (mm)."""
    em = LETTER_EM + style.tracking / 1000
    letters = max(1, int(width / mm_from_pt(style.size_pt * em)))
    return max(1, len(textwrap.wrap(words, letters)))


def stack_boxes(
    middles: Sequence[float], heights: Sequence[float], top: float, bottom: float
) -> tuple[float, ...]:
    """Give the tops of boxes that stand about their middles, in order, without overlap.

    Boxes in each other's way move apart evenly. All lie between ``top`` and ``bottom`` where they
    have room there together; else the first begins at ``top``.
    """
    runs: list[tuple[float, float, int]] = []  # wished top, height, how many boxes
    for middle, height in zip(middles, heights, strict=True):
        runs.append((_keep(middle - height / 2, height, top, bottom), height, 1))
        while len(runs) > 1 and runs[-2][0] + runs[-2][1] > runs[-1][0]:
            runs[-2:] = [_join(runs[-2], runs[-1], top, bottom)]
    tops: list[float] = []
    for at, _, count in runs:
        for height in heights[len(tops) : len(tops) + count]:
            tops.append(at)
            at += height
    return tuple(tops)


def _join(
    upper: tuple[float, float, int], lower: tuple[float, float, int], top: float, bottom: float
) -> tuple[float, float, int]:
    """Let two runs of boxes touch: every box gives way by as much as every other."""
    count, height = upper[2] + lower[2], upper[1] + lower[1]
    wished = (upper[0] * upper[2] + (lower[0] - upper[1]) * lower[2]) / count
    return _keep(wished, height, top, bottom), height, count


def _keep(at: float, height: float, top: float, bottom: float) -> float:
    return max(top, min(at, bottom - height))


def _shrink(style: TextStyle, scale: float) -> TextStyle:
    return replace(style, size_pt=style.size_pt * scale, leading_pt=style.leading_pt * scale)
