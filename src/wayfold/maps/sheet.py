"""A projection laid on the page: ground to millimetres and back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from wayfold.base.geometry import Point, Rect
from wayfold.base.world import LonLat
from wayfold.maps.projection import Extent, Floats, Projection

MM_PER_M = 1000.0
_HALF_TURN = 180.0 - 1e-7


@dataclass(frozen=True, slots=True)
class Sheet:
    """How a map lies on its drawing: ``metres`` of the projection to a mm, and its middle."""

    projection: Projection
    metres: float
    ground_x: float
    ground_y: float
    page: Point

    @property
    def scale(self) -> float:
        """The number S of the scale 1 : S."""
        return self.metres * MM_PER_M

    def to_page(self, longitudes: Floats, latitudes: Floats) -> tuple[Floats, Floats]:
        """Give x and y in mm, y down."""
        x, y = self.projection.forward(longitudes, latitudes)
        return (
            self.page.x + (x - self.ground_x) / self.metres,
            self.page.y - (y - self.ground_y) / self.metres,
        )

    def to_ground(self, x: Floats, y: Floats) -> tuple[Floats, Floats]:
        """Give longitudes and latitudes in degrees of places on the page (mm)."""
        return self.projection.inverse(
            self.ground_x + (x - self.page.x) * self.metres,
            self.ground_y - (y - self.page.y) * self.metres,
        )

    def place(self, places: Sequence[LonLat]) -> tuple[Point, ...]:
        """Give where places lie on the page."""
        x, y = self.to_page(
            np.array([p.longitude for p in places], dtype=float),
            np.array([p.latitude for p in places], dtype=float),
        )
        return tuple(Point(float(a), float(b)) for a, b in zip(x, y, strict=True))

    def find_window(self, rect: Rect) -> Extent:
        """Give the box of longitude and latitude that covers a part of the page.

        The box goes all the way round where a pole, or something off the earth, is in the part.
        """
        xs, ys = np.meshgrid(
            np.linspace(rect.x, rect.right, 41), np.linspace(rect.y, rect.bottom, 41)
        )
        lon, lat = self.to_ground(xs.ravel(), ys.ravel())
        seen = np.isfinite(lon) & np.isfinite(lat)
        middle = self.projection.longitude
        south, north = float(lat[seen].min()), float(lat[seen].max())
        pad = max((north - south) / 20, 0.001)
        whole = not seen.all()
        for pole in (-90.0, 90.0):
            x, y = self.to_page(np.array([middle]), np.array([pole]))
            if rect.x <= x[0] <= rect.right and rect.y <= y[0] <= rect.bottom:
                whole = True
                south, north = min(south, pole), max(north, pole)
        # Just short of the seam opposite the middle, where a whole turn would fold back on itself.
        west, east = middle - _HALF_TURN, middle + _HALF_TURN
        if not whole:
            pad_x = max(float(np.ptp(lon)) / 20, 0.001)
            west, east = max(west, float(lon.min()) - pad_x), min(east, float(lon.max()) + pad_x)
        return Extent(west, max(-90.0, south - pad), east, min(90.0, north + pad))


def fit_sheet(
    projection: Projection,
    longitudes: Floats,
    latitudes: Floats,
    room: Rect,
    finest: float = 100.0,
) -> Sheet:
    """Lay a projection on the page so that positions fill ``room`` as far as its shape allows.

    A millimetre is never less than ``finest`` metres, for a single place has no extent.
    """
    x, y = projection.forward(longitudes, latitudes)
    seen = np.isfinite(x) & np.isfinite(y)
    x, y = x[seen], y[seen]
    width, height = float(np.ptp(x)), float(np.ptp(y))
    metres = max(width / room.width, height / room.height, finest)
    middle_x, middle_y = float(x.min() + x.max()) / 2, float(y.min() + y.max()) / 2
    return Sheet(projection, metres, middle_x, middle_y, room.center)
