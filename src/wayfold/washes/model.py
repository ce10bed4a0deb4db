"""What a wash is before it is painted, and the raster that it becomes."""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.base.geometry import Size
from wayfold.base.hashing import hash_values
from wayfold.drawing.colour import Colour

PPI = 150.0
"""A wash has no detail finer than the grain of paper."""
DEEPEST = 0.86
"""The OKLab lightness that its darkest rims come to, unless words ask for lighter ones."""


@dataclass(frozen=True, slots=True)
class Edges:
    """The sides of its box that a wash runs over, off the page; at all others it ends before."""

    left: bool = False
    top: bool = False
    right: bool = False
    bottom: bool = False


@dataclass(frozen=True, slots=True)
class Wash:
    """A wash to be painted: its box in mm, what runs off, its mean colour, and its chance.

    ``deepest`` is the OKLab lightness that no part of it goes below. Equal washes are painted
    alike, to the pixel.
    """

    size: Size
    edges: Edges
    tint: Colour
    seed: str
    deepest: float = DEEPEST

    @property
    def name(self) -> str:
        """What it is called as an asset of a drawing."""
        return f"wash-{hash_values(self)}"


@dataclass(frozen=True, slots=True)
class Raster:
    """Pixels of sRGB, row by row from the top, three bytes each."""

    width_px: int
    height_px: int
    pixels: bytes
