"""A chapter's one colour, dark enough to read on white paper."""

from __future__ import annotations

from wayfold.drawing.colour import WHITE, Colour
from wayfold.drawing.contrast import READABLE, contrast, luminance


def darken_accent(colour: Colour) -> Colour:
    """Give ``colour``, darkened in its own hue until it reads on white at small size."""
    for step in range(101):
        kept = 1 - step / 100
        darker = Colour(*(round(c * kept) for c in (colour.red, colour.green, colour.blue)))
        if contrast(luminance(darker), luminance(WHITE)) >= READABLE:
            return darker
    raise AssertionError("black reads on white")  # pragma: no cover
