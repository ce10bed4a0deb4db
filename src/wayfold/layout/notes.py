"""Footnotes: running text and the notes it calls, threaded over the same pages.

A note begins on the page that calls it. What has no room there goes on at the foot of the next.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from wayfold.base.units import mm_from_pt
from wayfold.drawing.text import Paragraph, TextBlock, TextMeasurer
from wayfold.layout.matter import ROOM_FOR_ROUNDING

WHOLE = 3
"""A note of so many lines stays whole: cut, it would leave a single line on one side."""
SHORT = 2
"""A page may be so many lines short, so that a note need not be cut."""
Paragraphs = tuple[Paragraph, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """What stands on one text page: running text, and the notes at its foot."""

    text: Paragraphs = ()
    notes: Paragraphs = ()

    def __bool__(self) -> bool:
        return bool(self.text or self.notes)


def list_notes(paragraphs: Sequence[Paragraph]) -> list[Paragraphs]:
    """Give the notes that a text calls, each with its paragraphs, in order."""
    return [run.note for paragraph in paragraphs for run in paragraph.runs if run.note]


def measure_notes(
    notes: Sequence[Paragraph], width: float, line: float, measurer: TextMeasurer
) -> float:
    """Give the room (mm) that notes take, with the line of white that holds their hairline."""
    if not notes:
        return 0.0
    return line + measurer.measure_heights([TextBlock(tuple(notes), width)])[0]


def thread_columns(
    block: TextBlock, rooms: Sequence[float], measurer: TextMeasurer
) -> tuple[tuple[Column, ...], Column]:
    """Thread a text and its notes through pages with ``rooms`` (mm) for both.

    Gives what stands on each page, and what is left over.
    """
    if not list_notes(block.paragraphs):
        *parts, left = measurer.split_to_height(block, [r + ROOM_FOR_ROUNDING for r in rooms])
        return tuple(Column(part) for part in parts), Column(left)
    filler = _Filler(block, measurer)
    columns = tuple(filler.fill(room) for room in rooms)
    return columns, Column(filler.left, filler.carried)


class _Filler:
    """Fills one page after the other; holds what is still to be set."""

    def __init__(self, block: TextBlock, measurer: TextMeasurer) -> None:
        self.left: Paragraphs = block.paragraphs
        self.carried: Paragraphs = ()
        self._width, self._measurer = block.width, measurer
        self._line = mm_from_pt(block.paragraphs[0].style.leading_pt)

    def fill(self, room: float) -> Column:
        """Give a column in which every note begins that is called in it, whole where it can be."""
        text, left = self._choose(room)
        notes = (*self.carried, *(p for note in list_notes(text) for p in note))
        here: Paragraphs = ()
        if notes:
            beside = room - self._height(text) - self._line
            here, self.carried = self._split(notes, beside)
        self.left = left
        return Column(text, here)

    def _choose(self, room: float) -> tuple[Paragraphs, Paragraphs]:
        most = math.floor(room / self._line + 1e-6)
        low, high = 0, most if self.left else 0
        while low < high:
            # Fewer lines call no more notes, so what fits is all below what does not.
            middle = (low + high + 1) // 2
            fits = middle <= self._count_beside(self._part(middle)[0], room)
            low, high = (middle, high) if fits else (low, middle - 1)
        chosen = self._part(low)
        spare = self._count_beside(chosen[0], room) - low
        if chosen[1] and spare > SHORT:
            for lines in range(low + 1, low + 4):
                longer = self._part(lines)
                if longer[0] != chosen[0]:
                    fits = lines <= self._count_beside(longer[0], room, begun=True)
                    return longer if fits or (not chosen[0] and not self.carried) else chosen
        return chosen

    def _count_beside(self, text: Paragraphs, room: float, *, begun: bool = False) -> int:
        """Give how many lines find room beside the notes of ``text``, the last one only begun."""
        notes = [*([self.carried] if self.carried else []), *list_notes(text)]
        if not notes:
            return math.floor(room / self._line + 1e-6)
        *before, last = notes
        demand = self._height(last)
        if len(notes) == 1 and self.carried:
            demand = min(demand, room / 2)
        elif begun and demand > (WHOLE + 0.5) * mm_from_pt(last[0].style.leading_pt):
            demand = 2 * mm_from_pt(last[0].style.leading_pt)
        demand += self._height(tuple(p for note in before for p in note))
        return math.floor((room - self._line - demand) / self._line + 1e-6)

    def _part(self, lines: int) -> tuple[Paragraphs, Paragraphs]:
        return self._split(self.left, lines * self._line) if lines > 0 else ((), self.left)

    def _height(self, paragraphs: Paragraphs) -> float:
        if not paragraphs:
            return 0.0
        return self._measurer.measure_heights([TextBlock(paragraphs, self._width)])[0]

    def _split(self, paragraphs: Paragraphs, height: float) -> tuple[Paragraphs, Paragraphs]:
        block = TextBlock(paragraphs, self._width)
        here, left = self._measurer.split_to_height(block, [max(0.0, height) + ROOM_FOR_ROUNDING])
        return here, left
