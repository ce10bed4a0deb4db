"""What a wash is before it is painted, and the raster that it becomes."""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.base.geometry import Size
from wayfold.base.hashing import hash_values
from wayfold.drawing.colour import Colour

NAMED = "wash-"
"""What the names of all washes begin with."""
PPI = 150.0
"""A wash has no detail finer than the grain of paper."""
DARKEST = 0.64
"""The luminance (0-1) of its deepest rims, unless words ask for lighter ones: OKLab lightness
about 0.86."""


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

    ``darkest`` is the relative luminance that no part of it goes below. Equal washes are painted
    alike, to the pixel.
    """

    size: Size
    edges: Edges
    tint: Colour
    seed: str
    darkest: float = DARKEST

    @property
    def name(self) -> str:
        """What it is called as an asset of a drawing."""
        return f"{NAMED}{hash_values(self)}"


@dataclass(frozen=True, slots=True)
class Raster:
    """Pixels of sRGB, row by row from the top, three bytes each."""

    width_px: int
    height_px: int
    pixels: bytes
