"""Names of seas and oceans: which water lies where, roughly, and where a name may float on it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from wayfold.base.geometry import Rect
from wayfold.maps.labelling import Candidate
from wayfold.maps.projection import Extent, Floats
from wayfold.maps.sheet import Sheet

_STEP_MM = 6.0
_OFF_SHORE_MM = 1.5
_MOST_PLACES = 30
_FEWEST_PLACES = 3
_OFF_MIDDLE = 0.5
_SAME_MM = 0.1


def _lies(west: float, south: float, east: float, north: float) -> Extent:
    return Extent(west, south, east + 360.0 if east < west else east, north)


WATERS: dict[str, tuple[Extent, ...]] = {
    "Arctic Ocean": (_lies(-180, 76, 180, 90),),
    "Atlantic Ocean": (
        _lies(-80, 5, -6, 62),
        _lies(-52, -5, 9, 5),
        _lies(-40, -30, 13, -5),
        _lies(-64, -58, 19, -20),
    ),
    "Pacific Ocean": (_lies(122, -58, -70, 0), _lies(122, 0, -77, 59), _lies(-130, 0, -78, 30)),
    "Indian Ocean": (_lies(20, -58, 115, -10), _lies(42, -10, 100, 8)),
    "Southern Ocean": (_lies(-180, -78, 180, -58),),
    "Norwegian Sea": (_lies(-8, 62.5, 15, 73),),
    "Greenland Sea": (_lies(-18, 71, 8, 80),),
    "Barents Sea": (_lies(18, 69, 55, 79),),
    "White Sea": (_lies(33, 63.5, 41, 67),),
    "Kara Sea": (_lies(58, 70, 95, 79),),
    "North Sea": (_lies(-3.5, 51.3, 8.8, 60.5),),
    "Skagerrak": (_lies(7.2, 57.3, 11, 58.9),),
    "Baltic Sea": (_lies(13.5, 54, 21.8, 59.4),),
    "Gulf of Bothnia": (_lies(17, 60.3, 25.5, 65.9),),
    "Gulf of Finland": (_lies(23.2, 59.3, 29.5, 60.7),),
    "Gulf of Riga": (_lies(22.6, 57, 24.6, 58.35),),
    "English Channel": (_lies(-5, 48.6, 1.2, 50.9),),
    "Irish Sea": (_lies(-6.4, 52.2, -2.8, 54.8),),
    "Celtic Sea": (_lies(-10.5, 48.6, -5, 51.8),),
    "Bay of Biscay": (_lies(-8.5, 43.2, -1, 48),),
    "Mediterranean Sea": (_lies(-5.4, 30.2, 36.3, 43.8),),
    "Tyrrhenian Sea": (_lies(9.6, 38, 16.2, 42.6),),
    "Ligurian Sea": (_lies(7.6, 42.9, 10.4, 44.5),),
    "Adriatic Sea": (_lies(12, 40.2, 19.6, 45.9),),
    "Ionian Sea": (_lies(16.6, 36.2, 21.4, 40.1),),
    "Aegean Sea": (_lies(22.6, 35.6, 28.2, 41),),
    "Black Sea": (_lies(27.5, 40.9, 41.8, 47),),
    "Sea of Azov": (_lies(34.8, 45.2, 39.3, 47.3),),
    "Caspian Sea": (_lies(46.6, 36.5, 54.2, 47.2),),
    "Red Sea": (_lies(32.3, 12.6, 43.4, 30),),
    "Gulf of Aden": (_lies(43.4, 10.4, 51, 15),),
    "Arabian Sea": (_lies(51, 6, 77, 25.5),),
    "Persian Gulf": (_lies(47.6, 23.8, 56.4, 30.4),),
    "Bay of Bengal": (_lies(79.8, 7, 95, 22),),
    "Andaman Sea": (_lies(93, 6, 98.8, 16.5),),
    "Gulf of Thailand": (_lies(99.2, 7, 105, 13.6),),
    "South China Sea": (_lies(103, 1.5, 121, 23),),
    "Java Sea": (_lies(105.8, -7, 118.5, -2.8),),
    "Celebes Sea": (_lies(118, 1, 125.5, 7),),
    "Banda Sea": (_lies(122.5, -7.8, 132.5, -3.2),),
    "Flores Sea": (_lies(117.2, -8.4, 122, -6.3),),
    "Molucca Sea": (_lies(124.6, -1.8, 127.4, 4),),
    "Arafura Sea": (_lies(130.5, -11.8, 141, -5.8),),
    "Timor Sea": (_lies(122.5, -14.5, 130.5, -9.6),),
    "Sulu Sea": (_lies(117.6, 5.8, 122.6, 11.8),),
    "Philippine Sea": (_lies(126.5, 6, 145, 30),),
    "East China Sea": (_lies(120, 25, 128.5, 33),),
    "Yellow Sea": (_lies(119.5, 33, 126.6, 39.8),),
    "Sea of Okhotsk": (_lies(136, 46, 160, 61),),
    "Bering Sea": (_lies(162, 53.5, -158, 65.5),),
    "Coral Sea": (_lies(145.5, -24, 162, -10.5),),
    "Tasman Sea": (_lies(150.5, -46, 172.5, -30.5),),
    "Great Australian Bight": (_lies(124, -37.5, 137, -31.6),),
    "Gulf of Carpentaria": (_lies(136.5, -17.5, 141.6, -11.5),),
    "Gulf of Alaska": (_lies(-157, 54.5, -134, 61),),
    "Beaufort Sea": (_lies(-157, 69.5, -122, 76),),
    "Hudson Bay": (_lies(-95, 51.5, -77.5, 64),),
    "Baffin Bay": (_lies(-80, 67.5, -52, 77.5),),
    "Labrador Sea": (_lies(-62, 52, -46, 63),),
    "Gulf of Mexico": (_lies(-97.6, 18.5, -81.2, 30.2),),
    "Caribbean Sea": (_lies(-88, 9, -60.8, 21.5),),
    "Gulf of California": (_lies(-114.8, 23, -106.6, 31.6),),
    "Gulf of Guinea": (_lies(-4, -1, 10, 6.2),),
    "Mozambique Channel": (_lies(35, -25.5, 48, -11.8),),
}
"""Boxes round the larger waters, after their usual limits (common practice; from memory). Where
boxes overlap, the smaller is the closer name."""


def offer_waters(
    sheet: Sheet, room: Rect, land: BaseGeometry, sizes: dict[str, tuple[float, float]]
) -> dict[str, tuple[Candidate, ...]]:
    """Give for each water in ``room`` (mm) where its name may stand clear of the land.

    ``sizes`` are width and height of each name (mm); only names in it are offered.
    """
    xs = np.arange(room.x + _STEP_MM / 2, room.right, _STEP_MM)
    ys = np.arange(room.y + _STEP_MM / 2, room.bottom, _STEP_MM)
    grid_x, grid_y = (grid.ravel() for grid in np.meshgrid(xs, ys))
    lon, lat = sheet.to_ground(grid_x, grid_y)
    # Beside the round edge of a map of the earth, the way back gives some place all the same.
    back_x, back_y = sheet.to_page(lon, lat)
    with np.errstate(invalid="ignore"):
        true = np.hypot(back_x - grid_x, back_y - grid_y) < _SAME_MM
    grid_x, grid_y, lon, lat = grid_x[true], grid_y[true], lon[true], lat[true]
    names = name_waters(lon, lat)
    shapely.prepare(land)
    offered = {}
    for name in sorted(set(names) & sizes.keys()):
        width, height = sizes[name]
        here = np.array([n == name for n in names])
        x, y = grid_x[here], grid_y[here]
        boxes = shapely.box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)
        wide = shapely.box(
            x - width / 2 - _OFF_SHORE_MM,
            y - height / 2 - _OFF_SHORE_MM,
            x + width / 2 + _OFF_SHORE_MM,
            y + height / 2 + _OFF_SHORE_MM,
        )
        free = ~shapely.intersects(land, wide)
        if int(free.sum()) >= _FEWEST_PLACES:
            offered[name] = _rank(x[free], y[free], boxes[free])
    return offered


def name_waters(longitudes: Floats, latitudes: Floats) -> list[str]:
    """Give the name of the water at each position, "" where none is known (or it is no place)."""
    names = np.full(len(longitudes), "", dtype=object)
    closest = np.full(len(longitudes), np.inf)
    with np.errstate(invalid="ignore"):
        for name, boxes in WATERS.items():
            for box in boxes:
                east = np.mod(longitudes - box.west, 360.0) <= box.east - box.west
                inside = east & (latitudes >= box.south) & (latitudes <= box.north)
                size = (box.east - box.west) * (box.north - box.south)
                better = inside & (size < closest)
                names[better] = name
                closest[better] = size
    return [str(name) for name in names]


def _rank(x: Floats, y: Floats, boxes: Sequence[shapely.Polygon]) -> tuple[Candidate, ...]:
    """Give boxes as candidates, those in the middle of the open water first."""
    away = np.hypot(x - x.mean(), y - y.mean())
    order = np.argsort(away, kind="stable")[:_MOST_PLACES]
    farthest = float(away[order].max()) or 1.0
    candidates = []
    for n in order:
        left, top, right, bottom = boxes[int(n)].bounds
        box = Rect(left, top, right - left, bottom - top)
        candidates.append(Candidate(box, _OFF_MIDDLE * float(away[n]) / farthest))
    return tuple(candidates)
