"""The key of a city map: its numbers and names in columns."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from wayfold.base.geometry import Rect
from wayfold.base.units import mm_from_pt
from wayfold.drawing.items import Text
from wayfold.drawing.text import Align, Figures, Paragraph, Run, TextStyle
from wayfold.maps.model import KeyEntry, WidthMeasurer
from wayfold.maps.style import MapStyle

_COLUMN_GAP = 6.0
_NUMBER_GAP = 2.0
_MOST_COLUMNS = 4
_ROW_EM = 1.4
_LEAST_ASIDE = 42.0
_SLACK = 0.6
_FULL_LINE = 0.9
"""A line that breaks is filled to about this share."""


@dataclass(frozen=True, slots=True)
class Key:
    """A key laid out: its columns' width and height (mm), and which entries stand in each."""

    columns: tuple[tuple[KeyEntry, ...], ...]
    lines: dict[int, int]
    """How many lines the entry of each number takes."""
    column_width: float
    number_width: float
    height: float


def lay_key(
    entries: Sequence[KeyEntry],
    width: float,
    style: MapStyle,
    widths: WidthMeasurer,
    *,
    beside: bool = False,
) -> Key:
    """Divide entries into as many columns as fit beside one another, filled from the left.

    A key that stands ``beside`` its map has one column, no wider than its names ask. A name wider
    than a column of the full width is broken over lines, never cut.
    """
    if not entries:
        return Key((), {}, 0.0, 0.0, 0.0)
    name = _name_style(style)
    numbers = [Paragraph((Run(str(e.number)),), _number_style(style)) for e in entries]
    names = [_set_name(e, name) for e in entries]
    measured = widths((*numbers, *names))
    number_width = max(measured[: len(entries)])
    aside = number_width + _NUMBER_GAP
    long = measured[len(entries) :]
    widest = max(long) + aside + _SLACK
    fitting = int((width + _COLUMN_GAP) / (widest + _COLUMN_GAP))
    most = 1 if beside else _MOST_COLUMNS
    count = max(1, min(fitting, most, math.ceil(len(entries) / 2)))
    rows = math.ceil(len(entries) / count)
    count = math.ceil(len(entries) / rows)
    column = (width - (count - 1) * _COLUMN_GAP) / count
    if beside:
        column = min(column, max(widest, _LEAST_ASIDE))
    room = column - aside - _SLACK
    lines = {
        e.number: 1 if w <= room else math.ceil(w / (room * _FULL_LINE))
        for e, w in zip(entries, long, strict=True)
    }
    columns = tuple(tuple(entries[n * rows : (n + 1) * rows]) for n in range(count))
    tallest = max(sum(lines[e.number] for e in c) for c in columns)
    return Key(columns, lines, column, number_width, tallest * _row(style))


def draw_key(key: Key, x: float, y: float, style: MapStyle) -> list[Text]:
    """Give the texts of a key whose top left corner stands at ``x``, ``y`` (mm)."""
    name, number = _name_style(style), _number_style(style)
    row = _row(style)
    # Both stand on one baseline, though their sizes differ.
    drop = mm_from_pt(name.first_baseline_pt - number.first_baseline_pt)
    texts = []
    for n, column in enumerate(key.columns):
        left = x + n * (key.column_width + _COLUMN_GAP)
        top = y
        for entry in column:
            height = key.lines[entry.number] * row
            figure = Rect(
                left, top + drop, key.number_width + _SLACK, mm_from_pt(number.leading_pt)
            )
            beside = key.number_width + _NUMBER_GAP
            box = Rect(left + beside, top, key.column_width - beside, height)
            label = f"map key: {entry.name}"
            texts.append(Text(figure, (Paragraph((Run(str(entry.number)),), number),), label))
            texts.append(Text(box, (_set_name(entry, name),), label))
            top += height
    return texts


def _set_name(entry: KeyEntry, style: TextStyle) -> Paragraph:
    runs = [Run(entry.name)]
    if entry.note:
        runs.append(Run(f"\u2002{entry.note}", italic=True))
    return Paragraph(tuple(runs), style)


def _name_style(style: MapStyle) -> TextStyle:
    return replace(style.set_text(style.name_pt, style.ink), leading_pt=style.name_pt * _ROW_EM)


def _number_style(style: MapStyle) -> TextStyle:
    size = max(style.note_pt, 7.0)
    look = style.set_text(size, style.accent, sans=True, align=Align.RIGHT, weight=600)
    return replace(look, figures=Figures.LINING)


def _row(style: MapStyle) -> float:
    return mm_from_pt(style.name_pt * _ROW_EM)
