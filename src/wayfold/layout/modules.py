"""A box divided into modules, places on it, and the sizes that pictures can take there."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from wayfold.base.geometry import Rect
from wayfold.layout.arrangement import crop_loss

MODULE = 5.0
"""About the side (mm) of a module; the box's sides hold whole ones."""
MOST_CROP = 0.04
"""What a picture may lose so that its sides are whole modules."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where a picture lies, in modules from the box's top left corner."""

    x: int
    y: int
    width: int
    height: int

    @property
    def right(self) -> int:
        """The line of the right edge."""
        return self.x + self.width

    @property
    def bottom(self) -> int:
        """The line of the lower edge."""
        return self.y + self.height

    @property
    def area(self) -> int:
        """Modules covered."""
        return self.width * self.height


@dataclass(frozen=True, slots=True)
class Modules:
    """A box of ``columns`` times ``rows`` modules."""

    box: Rect
    columns: int
    rows: int

    @property
    def count(self) -> int:
        """All modules."""
        return self.columns * self.rows

    @property
    def module_width(self) -> float:
        """Width of one in mm."""
        return self.box.width / self.columns

    @property
    def module_height(self) -> float:
        """Height of one in mm."""
        return self.box.height / self.rows

    def rect(self, place: Place) -> Rect:
        """Give a place in mm."""
        across, down = self.module_width, self.module_height
        return Rect(
            self.box.x + place.x * across,
            self.box.y + place.y * down,
            place.width * across,
            place.height * down,
        )


def divide_box(box: Rect, module: float = MODULE) -> Modules:
    """Divide a box into modules of about ``module`` mm, so that its edges are lines of them."""
    return Modules(box, max(1, round(box.width / module)), max(1, round(box.height / module)))


@lru_cache(maxsize=64)
def list_sizes(
    modules: Modules,
    aspect: float,
    least_side: float,
    least: float,
    most: float,
    limit: float = MOST_CROP,
) -> tuple[tuple[int, int], ...]:
    """Give the widths and heights in modules that come within ``limit`` of ``aspect``.

    Sides of at least ``least_side`` mm, areas from ``least`` to ``most`` as parts of the box; the
    largest first.
    """
    across, down, count = modules.module_width, modules.module_height, modules.count
    sizes = []
    for width in range(max(1, math.floor(least_side / across)), modules.columns + 1):
        # Of all heights only those near to what the shape asks for.
        asked = width * across / (aspect * down)
        lowest = max(1, math.floor(asked * (1.0 - limit)))
        highest = min(modules.rows, math.ceil(asked / (1.0 - limit)))
        for height in range(lowest, highest + 1):
            if (
                least * count <= width * height <= most * count
                and min(width * across, height * down) >= least_side
                and crop_loss(aspect, width * across / (height * down)) <= limit
            ):
                sizes.append((width, height))
    return tuple(sorted(sizes, key=lambda s: (-s[0] * s[1], s)))
