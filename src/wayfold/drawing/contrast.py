"""How far ink stands out from its ground: relative luminance and contrast (WCAG 2.x)."""

from __future__ import annotations

from collections.abc import Sequence

from wayfold.drawing.colour import Colour

READABLE = 4.5
"""Least contrast of small text (WCAG 1.4.3, level AA)."""
READABLE_LARGE = 3.0
"""Least contrast of large text (WCAG 1.4.3), and of lines that must be seen (WCAG 1.4.11)."""
LARGE_PT = 18.0
"""From this size text counts as large."""
WORST = 0.05
"""The share of a ground that may be worse than what is reckoned with: the worst patch decides."""


def linearise(signal: float) -> float:
    """Give the light (0-1) of an sRGB signal (0-1), by IEC 61966-2-1."""
    return signal / 12.92 if signal <= 0.04045 else float(((signal + 0.055) / 1.055) ** 2.4)


def encode_light(light: float) -> float:
    """Give the sRGB signal (0-1) of a light (0-1); the inverse of ``linearise``."""
    if light <= 0.0031308:
        return 12.92 * max(light, 0.0)
    return float(1.055 * min(light, 1.0) ** (1 / 2.4) - 0.055)


def luminance(colour: Colour) -> float:
    """Give the relative luminance (0 black, 1 white) of a colour, its opacity left out."""
    red, green, blue = (linearise(v / 255) for v in (colour.red, colour.green, colour.blue))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: float, other: float) -> float:
    """Give the contrast ratio (1-21) of two relative luminances."""
    lighter, darker = max(one, other), min(one, other)
    return (lighter + 0.05) / (darker + 0.05)


def least_contrast(size_pt: float) -> float:
    """Give the contrast that text of a size needs."""
    return READABLE_LARGE if size_pt >= LARGE_PT else READABLE


def worst_ground(values: Sequence[float], ink: float) -> float:
    """Give the luminance of the patch that ``ink`` is hardest to see on, one in twenty left out.

    Under dark ink that is the 5th percentile, under light ink the 95th.
    """
    if not values:
        raise ValueError("a ground has at least one patch")
    ordered = sorted(values, key=lambda v: contrast(v, ink))
    return ordered[int(WORST * len(ordered))]
