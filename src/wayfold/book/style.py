"""A style: the numbers that make every page of a book look like one hand made it."""

from __future__ import annotations

import enum
from dataclasses import dataclass

from wayfold.drawing.colour import Colour


@dataclass(frozen=True, slots=True)
class Margins:
    """Distances (mm) from the trim; ``inner`` is at the fold, ``outer`` at the fore-edge."""

    inner: float
    outer: float
    head: float
    foot: float


@dataclass(frozen=True, slots=True)
class TypeSize:
    """Letter size and distance of baselines, in points."""

    size_pt: float
    leading_pt: float


class Washes(enum.StrEnum):
    """Whether pages have watercolour washes."""

    NONE = "none"
    FEW = "few"


@dataclass(frozen=True, slots=True)
class Style:
    """One style. Margins are for an A4 portrait page and scale with the trim (see layout)."""

    name: str = "garden"
    serif: str = "EB Garamond"
    sans: str = "Source Sans 3"
    picture_margins: Margins = Margins(20.0, 22.0, 22.0, 28.0)
    text_margins: Margins = Margins(23.0, 47.0, 33.0, 66.0)
    gap: float = 4.0
    text_measure: float = 112.0
    caption_measure: float = 62.0
    body: TypeSize = TypeSize(10.5, 15.0)
    caption: TypeSize = TypeSize(8.6, 11.5)
    title: TypeSize = TypeSize(34.0, 40.0)
    small: TypeSize = TypeSize(9.0, 13.0)
    day_line: TypeSize = TypeSize(7.6, 11.5)
    ink: Colour = Colour(0x26, 0x23, 0x20)
    quiet_ink: Colour = Colour(0x6B, 0x66, 0x60)
    accent: Colour = Colour(0x7A, 0x4A, 0x32)
    washes: Washes = Washes.FEW
    wash_seed: int = 0
    """Another number gives other washes."""
