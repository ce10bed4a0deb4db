"""Colours of ink, as a drawing names them."""

from __future__ import annotations

from dataclasses import dataclass
from string import hexdigits


@dataclass(frozen=True, slots=True)
class Colour:
    """An sRGB colour, each channel 0-255, and how much it covers (1 = solid)."""

    red: int
    green: int
    blue: int
    opacity: float = 1.0

    @staticmethod
    def of(hex_code: str) -> Colour:
        """Read "#rrggbb". Raises ValueError for anything else."""
        digits = hex_code.removeprefix("#")
        if len(digits) != 6 or not set(digits) <= set(hexdigits):
            raise ValueError(f"{hex_code!r} is no colour of the form #rrggbb")
        return Colour(*(int(digits[i : i + 2], 16) for i in (0, 2, 4)))

    @property
    def hex(self) -> str:
        """The colour as "#rrggbb", without its opacity."""
        return f"#{self.red:02x}{self.green:02x}{self.blue:02x}"


BLACK = Colour(0, 0, 0)
WHITE = Colour(255, 255, 255)
