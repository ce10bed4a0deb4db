"""A chapter's one colour, dark enough to read on white paper."""

from __future__ import annotations

from wayfold.drawing.colour import WHITE, Colour

LEAST_CONTRAST = 4.5
"""Contrast ratio asked of small text (WCAG 2.2, success criterion 1.4.3)."""


def contrast_of(one: Colour, other: Colour) -> float:
    """Give the contrast ratio (1-21) of two solid colours, as WCAG 2.2 defines it."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def darken_accent(colour: Colour) -> Colour:
    """Give ``colour``, darkened in its own hue until it reads on white at small size."""
    for step in range(101):
        kept = 1 - step / 100
        darker = Colour(*(round(c * kept) for c in (colour.red, colour.green, colour.blue)))
        if contrast_of(darker, WHITE) >= LEAST_CONTRAST:
            return darker
    raise AssertionError("black reads on white")  # pragma: no cover


def _luminance(colour: Colour) -> float:
    red, green, blue = (_linear(c / 255) for c in (colour.red, colour.green, colour.blue))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else float(((channel + 0.055) / 1.055) ** 2.4)
