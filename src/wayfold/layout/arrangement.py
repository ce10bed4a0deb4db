"""What every way of arranging pictures gives: rectangles in order, and how good they are."""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.base.geometry import Rect


@dataclass(frozen=True, slots=True)
class Arrangement:
    """Pictures in order, in mm, and how good the whole is (0-1).

    A rectangle has the shape that its picture is to be shown in: where that is not the picture's
    own, the picture is cropped to it.
    """

    rects: tuple[Rect, ...]
    score: float

    @property
    def bounds(self) -> Rect:
        """The rectangle round all pictures."""
        x, y = min(r.x for r in self.rects), min(r.y for r in self.rects)
        right, bottom = max(r.right for r in self.rects), max(r.bottom for r in self.rects)
        return Rect(x, y, right - x, bottom - y)

    def moved(self, dx: float, dy: float) -> Arrangement:
        """The same arrangement elsewhere."""
        return Arrangement(tuple(r.moved(dx, dy) for r in self.rects), self.score)


def crop_loss(aspect: float, wanted: float) -> float:
    """Give the part of a picture that goes when ``aspect`` (width over height) becomes another."""
    return 1.0 - min(aspect, wanted) / max(aspect, wanted)
