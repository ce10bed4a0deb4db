"""Outlines cut to the part of the earth a sheet shows, on the page in millimetres."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from wayfold.base.geometry import Rect
from wayfold.maps.model import Outline
from wayfold.maps.projection import Extent
from wayfold.maps.shapes import gather_polygons
from wayfold.maps.sheet import Sheet

_LONGEST_EDGE_DEG = 0.5
"""Straight edges longer than this (a border along a parallel) bend once they are projected."""
_THIN_MM = 0.06
_FINE_DEG = 0.008
"""Where ``_THIN_MM`` on the page is more than this, outlines have far more corners than it shows.
"""
METRES_PER_DEG = 111_195.0


def project_outlines(
    outlines: Iterable[Outline], sheet: Sheet, window: Rect
) -> dict[str, MultiPolygon]:
    """Give by country code the land inside ``window`` (mm); land without a code goes under "".

    Halves that the date line parts are joined. Countries outside the window are left out.
    """
    extent = sheet.find_window(window)
    step_deg = _THIN_MM * sheet.metres / METRES_PER_DEG
    frame = shapely.box(window.x, window.y, window.right, window.bottom)
    found: dict[str, MultiPolygon] = {}
    for outline in outlines:
        land: BaseGeometry = outline.land
        if not _list_turns(land, extent):
            continue
        if step_deg > _FINE_DEG:
            land = thin_shape(land, step_deg)
        cut = cut_to_extent(land, extent)
        if cut.is_empty:
            continue
        on_page = gather_polygons(shapely.intersection(project_shape(cut, sheet), frame))
        if on_page.is_empty:
            continue
        known = found.get(outline.code)
        parts = [*(known.geoms if known is not None else ()), *on_page.geoms]
        found[outline.code] = MultiPolygon(parts)
    return found


def thin_shape(shape: BaseGeometry, step_deg: float) -> BaseGeometry:
    """Move corners to a grid of ``step_deg`` and keep one of those that then coincide.

    Neighbours keep one border, for its corners move alike. Parts that shrink to nothing go.
    """
    parts = shapely.get_parts(shape)
    thinned = (_thin_part(part, step_deg) for part in parts[shapely.area(parts) > step_deg**2])
    return gather_polygons(*(part for part in thinned if part is not None))


def _thin_part(part: Polygon, step_deg: float) -> BaseGeometry | None:
    rings = []
    for number, ring in enumerate((part.exterior, *part.interiors)):
        corners = np.round(np.asarray(ring.coords)[:, :2] / step_deg) * step_deg
        moves = np.append(True, (np.diff(corners, axis=0) != 0.0).any(axis=1))
        corners = corners[moves]
        if len(corners) >= 4:
            rings.append(corners)
        elif number == 0:
            return None
    plain = Polygon(rings[0], rings[1:])
    return plain if plain.is_valid else shapely.make_valid(plain, method="structure")


def cut_to_extent(shape: BaseGeometry, extent: Extent) -> BaseGeometry:
    """Give the part of a shape (degrees) in a box, moved by whole turns to lie in its span."""
    pieces = []
    for turn in _list_turns(shape, extent):
        moved = shape if turn == 0.0 else translate(shape, xoff=turn)
        box = (extent.west, extent.south, extent.east, extent.north)
        piece = shapely.clip_by_rect(moved, *box)
        if not piece.is_empty:
            pieces.append(
                piece if piece.is_valid else shapely.make_valid(piece, method="structure")
            )
    if len(pieces) == 1:
        return pieces[0]
    return shapely.union_all(pieces) if pieces else MultiPolygon()


def _list_turns(shape: BaseGeometry, extent: Extent) -> list[float]:
    """Give by which whole turns (degrees) a shape may be moved to reach into a box."""
    west, south, east, north = shape.bounds
    if not (north >= extent.south and south <= extent.north):
        return []
    turns = (-360.0, 0.0, 360.0)
    return [t for t in turns if east + t >= extent.west and west + t <= extent.east]


def project_shape(shape: BaseGeometry, sheet: Sheet) -> BaseGeometry:
    """Project a shape in degrees onto the page; what the projection folds over is mended."""
    dense = shapely.segmentize(shape, _LONGEST_EDGE_DEG)

    def move(points: np.ndarray) -> np.ndarray:
        x, y = sheet.to_page(points[:, 0], points[:, 1])
        # Far off the page a projection may run to infinity; hold such points where they harm none.
        return np.clip(np.nan_to_num(np.column_stack([x, y]), posinf=1e6, neginf=-1e6), -1e6, 1e6)

    on_page = shapely.transform(dense, move)
    return on_page if on_page.is_valid else shapely.make_valid(on_page, method="structure")
