"""What a photograph looks like, as far as laying out and judging need to know it.

Places are fractions of the upright picture: (0, 0) its top left corner, (1, 1) its bottom right.
"""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.base.geometry import Rect


@dataclass(frozen=True, slots=True)
class Face:
    """A face: its box, how sure the finder is (0-1), and where it looks.

    ``facing`` runs from -1 (to the picture's left) to 1 (to its right); 0 is straight or unknown.
    """

    box: Rect
    confidence: float
    facing: float = 0.0


@dataclass(frozen=True, slots=True)
class Salience:
    """Where the eye goes: the shares of a grid's cells, row by row from the top; their sum is 1."""

    columns: int
    rows: int
    shares: tuple[float, ...]

    def within(self, part: Rect) -> float:
        """Give the share that lies in ``part``; cells at its border count by their area in it."""
        inside = 0.0
        for row in range(self.rows):
            down = _shared(row / self.rows, (row + 1) / self.rows, part.y, part.bottom) * self.rows
            if down <= 0:
                continue
            for column in range(self.columns):
                left, right = column / self.columns, (column + 1) / self.columns
                across = _shared(left, right, part.x, part.right) * self.columns
                if across > 0:
                    inside += across * down * self.shares[row * self.columns + column]
        return inside


@dataclass(frozen=True, slots=True)
class Tone:
    """One colour of a picture in OKLab, and the share of the picture that has about it."""

    share: float
    lightness: float
    a: float
    b: float


@dataclass(frozen=True, slots=True)
class Look:
    """What was measured of a picture.

    ``edge_px`` is the width of its sharp edges (10 to 90 % of their rise) in pixels of the
    upright picture at full size, where it matters: in faces, else where the eye goes; about 1.4
    in a sharp picture. ``noise`` is the standard deviation of L* (0-100) that grain makes in even
    parts, at the size that ``noise_px`` (pixels along the longer side) names. ``clipped`` is the
    share of what matters that is pure black or white; ``lightness`` the median L*. ``likeness`` is
    what ``photos.likeness`` compares, 16 hexadecimal digits.
    """

    faces: tuple[Face, ...]
    salience: Salience
    palette: tuple[Tone, ...]
    edge_px: float
    noise: float
    noise_px: int
    clipped: float
    lightness: float
    likeness: str = ""


def _shared(start: float, end: float, low: float, high: float) -> float:
    return max(0.0, min(end, high) - max(start, low))
