"""Plane geometry in one space at a time: sizes, points, rectangles, affine maps.

The types carry numbers only; which space they live in (page, sheet, image, PDF) is the
caller's to say in a name. In every space but PDF, y grows downwards.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

TOLERANCE = 1e-6
"""Lengths closer than this (mm) are the same length."""


@dataclass(frozen=True, slots=True)
class Size:
    """Width and height, both positive or zero."""

    width: float
    height: float

    @property
    def aspect(self) -> float:
        """Width over height."""
        return self.width / self.height

    @property
    def turned(self) -> Size:
        """The same size lying on its other side."""
        return Size(self.height, self.width)


@dataclass(frozen=True, slots=True)
class Point:
    """A place in the plane."""

    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Rect:
    """An upright rectangle by its top left corner and its size."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """The x of the right edge."""
        return self.x + self.width

    @property
    def bottom(self) -> float:
        """The y of the lower edge."""
        return self.y + self.height

    @property
    def center(self) -> Point:
        """The middle."""
        return Point(self.x + self.width / 2, self.y + self.height / 2)

    @property
    def size(self) -> Size:
        """Width and height."""
        return Size(self.width, self.height)

    @property
    def area(self) -> float:
        """Width times height."""
        return self.width * self.height

    def moved(self, dx: float, dy: float) -> Rect:
        """The rectangle shifted by ``dx``, ``dy``."""
        return Rect(self.x + dx, self.y + dy, self.width, self.height)

    def grown(self, by: float) -> Rect:
        """The rectangle with every edge moved outwards by ``by`` (inwards if negative)."""
        return Rect(self.x - by, self.y - by, self.width + 2 * by, self.height + 2 * by)

    def contains(self, other: Rect, tolerance: float = TOLERANCE) -> bool:
        """Whether ``other`` lies within this rectangle, edges included."""
        return (
            other.x >= self.x - tolerance
            and other.y >= self.y - tolerance
            and other.right <= self.right + tolerance
            and other.bottom <= self.bottom + tolerance
        )

    def overlap(self, other: Rect) -> Rect | None:
        """The common part, or None where the two only touch or lie apart."""
        x, y = max(self.x, other.x), max(self.y, other.y)
        right, bottom = min(self.right, other.right), min(self.bottom, other.bottom)
        if right - x <= TOLERANCE or bottom - y <= TOLERANCE:
            return None
        return Rect(x, y, right - x, bottom - y)


@dataclass(frozen=True, slots=True)
class Affine:
    """The map x' = a x + c y + e, y' = b x + d y + f (the order PDF and SVG use)."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    @staticmethod
    def shift(dx: float, dy: float) -> Affine:
        """Move by ``dx``, ``dy``."""
        return Affine(e=dx, f=dy)

    @staticmethod
    def scale(by_x: float, by_y: float | None = None) -> Affine:
        """Scale about the origin."""
        return Affine(a=by_x, d=by_x if by_y is None else by_y)

    @staticmethod
    def turn(angle_deg: float) -> Affine:
        """Turn about the origin; positive is clockwise where y grows downwards."""
        if angle_deg % 90 == 0:
            cos, sin = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(angle_deg // 90) % 4]
        else:
            cos, sin = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
        return Affine(a=cos, b=sin, c=-sin, d=cos)

    def then(self, after: Affine) -> Affine:
        """The map that does this one first and ``after`` second."""
        return Affine(
            a=after.a * self.a + after.c * self.b,
            b=after.b * self.a + after.d * self.b,
            c=after.a * self.c + after.c * self.d,
            d=after.b * self.c + after.d * self.d,
            e=after.a * self.e + after.c * self.f + after.e,
            f=after.b * self.e + after.d * self.f + after.f,
        )

    def inverse(self) -> Affine:
        """The map back. Raises ZeroDivisionError where the map flattens the plane."""
        det = self.a * self.d - self.b * self.c
        a, b, c, d = self.d / det, -self.b / det, -self.c / det, self.a / det
        return Affine(a, b, c, d, -(a * self.e + c * self.f), -(b * self.e + d * self.f))

    def apply(self, point: Point) -> Point:
        """Where ``point`` goes."""
        return Point(
            self.a * point.x + self.c * point.y + self.e,
            self.b * point.x + self.d * point.y + self.f,
        )

    def apply_rect(self, rect: Rect) -> Rect:
        """The upright rectangle round the image of ``rect``."""
        corners = [
            self.apply(Point(x, y)) for x in (rect.x, rect.right) for y in (rect.y, rect.bottom)
        ]
        x, y = min(p.x for p in corners), min(p.y for p in corners)
        return Rect(x, y, max(p.x for p in corners) - x, max(p.y for p in corners) - y)
