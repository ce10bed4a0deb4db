"""Names on a map: lines of text as boxes to be placed, and as texts once they are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from wayfold.base.geometry import Rect
from wayfold.base.units import mm_from_pt
from wayfold.drawing.items import Text
from wayfold.drawing.text import Align, Paragraph, Run, TextStyle
from wayfold.maps.model import WidthMeasurer

ASCENT, DESCENT = 0.76, 0.25
"""How far letters reach over and under their baseline, in ems (accented capitals a little more)."""
_LINE_EM = 1.18
_SLACK = 0.6
"""Room (mm) by which a text's box is wider than its letters, so that no rounding breaks it."""


@dataclass(frozen=True, slots=True)
class Lettering:
    """One or more lines that stand together, with the room (mm) their letters fill."""

    lines: tuple[tuple[str, TextStyle], ...]
    width: float
    height: float


def measure_lettering(
    groups: Sequence[Sequence[tuple[str, TextStyle]]], widths: WidthMeasurer
) -> tuple[Lettering, ...]:
    """Give the size of each group of lines. All are measured at once; empty lines go."""
    kept = [[(text, style) for text, style in lines if text] for lines in groups]
    flat = [line for lines in kept for line in lines]
    paragraphs = tuple(Paragraph((Run(_tie(text)),), style) for text, style in flat)
    found = iter(widths(paragraphs) if paragraphs else ())
    return tuple(
        Lettering(
            tuple(lines),
            max((next(found) for _ in lines), default=0.0),
            _height([style for _, style in lines]),
        )
        for lines in kept
    )


def set_lettering(
    lettering: Lettering, box: Rect, align: Align, key: str, turn_deg: float = 0.0
) -> list[Text]:
    """Give the texts of a lettering in the box that was found for it.

    Turned lettering is one line only, for each text is turned about its own middle.
    """
    texts = []
    baseline = box.y
    for n, (text, style) in enumerate(lettering.lines):
        size = mm_from_pt(style.size_pt)
        baseline += size * ASCENT if n == 0 else size * _LINE_EM
        top = baseline - mm_from_pt(style.first_baseline_pt)
        leading = mm_from_pt(style.leading_pt)
        left = box.x - {Align.LEFT: 0.0, Align.RIGHT: _SLACK}.get(align, _SLACK / 2)
        room = Rect(left, top, box.width + _SLACK, leading)
        styled = replace(style, align=align)
        texts.append(Text(room, (Paragraph((Run(_tie(text)),), styled),), key, turn_deg=turn_deg))
    return texts


def _height(styles: Sequence[TextStyle]) -> float:
    if not styles:
        return 0.0
    sizes = [mm_from_pt(style.size_pt) for style in styles]
    return sizes[0] * ASCENT + sum(size * _LINE_EM for size in sizes[1:]) + sizes[-1] * DESCENT


def _tie(text: str) -> str:
    """Keep a name on one line: its spaces and hyphens do not break."""
    return " ".join(text.split()).replace(" ", "\u00a0").replace("-", "\u2011")
