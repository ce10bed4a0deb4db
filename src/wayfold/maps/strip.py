"""The strip of a city map: its scale bar, and the line that the data's licence asks for."""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.base.geometry import Rect
from wayfold.base.units import mm_from_pt
from wayfold.drawing.items import Item
from wayfold.drawing.text import Align, TextStyle
from wayfold.maps.lettering import Lettering, measure_lettering, set_lettering
from wayfold.maps.marks import draw_bar
from wayfold.maps.model import WidthMeasurer
from wayfold.maps.scalebar import LONGEST_MM, measure_bar
from wayfold.maps.sheet import Sheet
from wayfold.maps.style import MapStyle

_AIR = 1.5
_APART = 4.0
_BAR_TEXT_EM = 5.0
"""The room that the bar's figure is allowed for, before its length is known."""


@dataclass(frozen=True, slots=True)
class Strip:
    """A credit fitted to a width: beside the scale bar, or beneath it where it is too long."""

    credit: Lettering
    beside: bool
    height: float


def lay_strip(credit: str, width: float, style: MapStyle, widths: WidthMeasurer) -> Strip:
    """Fit a credit to ``width`` mm, broken after its commas where it must be."""
    look = _look(style)
    pieces = credit.split(", ")
    broken = [piece + ("," if n < len(pieces) - 1 else "") for n, piece in enumerate(pieces)]
    whole, parted = measure_lettering([[(credit, look)], [(p, look) for p in broken]], widths)
    line = mm_from_pt(style.scale_pt * 1.2)
    bar = LONGEST_MM + _AIR + mm_from_pt(style.scale_pt) * _BAR_TEXT_EM
    if bar + _APART + whole.width <= width:
        return Strip(whole, True, line)
    chosen = whole if whole.width <= width else parted
    return Strip(chosen, False, line + _AIR + chosen.height)


def draw_strip(
    strip: Strip,
    at: Rect,
    sheet: Sheet,
    middle: tuple[float, float],
    style: MapStyle,
    widths: WidthMeasurer,
    *,
    miles: bool,
) -> list[Item]:
    """Give the bar and the credit; the bar is right in the ``middle`` of the map, in mm."""
    look = _look(style)
    bar = measure_bar(sheet, *middle, miles=miles)
    items: list[Item] = []
    if bar is not None:
        (text,) = measure_lettering([[(bar.text, look)]], widths)
        base = at.y + text.height * 0.78
        items.append(draw_bar(at.x, base, bar.length, style.quiet_ink, style.hairline))
        beside = Rect(at.x + bar.length + _AIR, at.y, text.width, text.height)
        items += set_lettering(text, beside, Align.LEFT, "map: scale")
    credit = strip.credit
    x = at.right - credit.width if strip.beside else at.x
    y = at.y if strip.beside else at.bottom - credit.height
    box = Rect(x, y, credit.width, credit.height)
    return [*items, *set_lettering(credit, box, Align.LEFT, "map: credit")]


def _look(style: MapStyle) -> TextStyle:
    return style.set_text(style.scale_pt, style.quiet_ink, sans=True)
