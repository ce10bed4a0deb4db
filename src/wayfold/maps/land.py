"""Outlines cut to the part of the earth a sheet shows, on the page in millimetres."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from wayfold.base.geometry import Point, Rect
from wayfold.maps.model import Outline
from wayfold.maps.projection import Extent
from wayfold.maps.shapes import gather_polygons
from wayfold.maps.sheet import Sheet

_LONGEST_EDGE_DEG = 0.5
"""Straight edges longer than this (a border along a parallel) bend once they are projected."""
_THIN_MM = 0.1
_FINE_DEG = 0.008
"""Where ``_THIN_MM`` on the page is more than this, outlines have far more corners than it shows.
"""
METRES_PER_DEG = 111_195.0
_SEAM_DEG = 1e-6
_SAMPLES, _SAMPLED_SLACK, _KEPT_MM, _FAR_MM = 200, 10.0, 1.0, 1e6

Polygons = NDArray[np.object_]


def project_outlines(
    outlines: Iterable[Outline],
    sheet: Sheet,
    window: Rect,
    keep: Sequence[Point] = (),
    least: float = 0.0,
) -> dict[str, MultiPolygon]:
    """Give by country code the land inside ``window`` (mm); land without a code goes under "".

    Halves that the date line parts are joined. Countries outside the window are left out, and so
    are islands whose box is smaller than ``least`` mm², but for those at the points to ``keep``.
    """
    extent = sheet.find_window(window)
    step_deg = _THIN_MM * sheet.metres / METRES_PER_DEG
    found: dict[str, list[Polygon]] = {}
    for outline in outlines:
        if not _list_turns(outline.land, extent):
            continue
        land: BaseGeometry = _choose_seen(outline.land, sheet, window, keep, least)
        if land.is_empty:
            continue
        if step_deg > _FINE_DEG:
            land = thin_shape(land, step_deg)
        on_page = project_shape(cut_to_extent(land, extent), sheet)
        parts = _cut_parts(shapely.get_parts(on_page), window)
        if len(parts):
            found.setdefault(outline.code, []).extend(parts)
    return {code: MultiPolygon(parts) for code, parts in found.items()}


def _choose_seen(
    land: MultiPolygon, sheet: Sheet, window: Rect, keep: Sequence[Point], least: float
) -> MultiPolygon:
    """Give the parts that reach into the window and are large enough, judged by some corners."""
    parts = shapely.get_parts(land)
    corners, part = shapely.get_coordinates(parts, return_index=True)
    counts = np.bincount(part, minlength=len(parts))
    first = np.concatenate([[0], np.cumsum(counts)[:-1]])
    stride = np.maximum(1, counts // _SAMPLES)
    chosen = (np.arange(len(corners)) - first[part]) % stride[part] == 0
    # Where the projection runs off to infinity, the part is taken to lie far off on that side.
    x, y = (np.clip(v, -_FAR_MM, _FAR_MM) for v in sheet.to_page(*corners[chosen].T))
    begin = np.flatnonzero(np.diff(part[chosen], prepend=-1))
    left, right = np.minimum.reduceat(x, begin), np.maximum.reduceat(x, begin)
    head, foot = np.minimum.reduceat(y, begin), np.maximum.reduceat(y, begin)
    wide = window.grown(_SAMPLED_SLACK)
    away = (right < wide.x) | (left > wide.right) | (foot < wide.y) | (head > wide.bottom)
    small = (right - left) * (foot - head) < least
    for point in keep:
        across = (left - _KEPT_MM <= point.x) & (point.x <= right + _KEPT_MM)
        small &= ~(across & (head - _KEPT_MM <= point.y) & (point.y <= foot + _KEPT_MM))
    return MultiPolygon(list(parts[~(away | small)]))


def thin_shape(shape: BaseGeometry, step_deg: float) -> BaseGeometry:
    """Move corners to a grid of ``step_deg`` and keep one of those that then coincide.

    Neighbours keep one border, for its corners move alike. Parts that shrink to nothing go; others
    may touch themselves and wait to be mended until they are cut or on the page.
    """
    parts = shapely.get_parts(shape)
    thinned = (_thin_part(part, step_deg) for part in parts[shapely.area(parts) > step_deg**2])
    return MultiPolygon([part for part in thinned if part is not None])


def _thin_part(part: Polygon, step_deg: float) -> Polygon | None:
    rings = []
    for number, ring in enumerate((part.exterior, *part.interiors)):
        corners = np.round(np.asarray(ring.coords)[:, :2] / step_deg) * step_deg
        moves = np.append(True, (np.diff(corners, axis=0) != 0.0).any(axis=1))
        corners = corners[moves]
        if len(corners) >= 4:
            rings.append(corners)
        elif number == 0:
            return None
    return Polygon(rings[0], rings[1:])


def cut_to_extent(shape: BaseGeometry, extent: Extent) -> MultiPolygon:
    """Give the part of a shape (degrees) in a box, moved by whole turns to lie in its span.

    Halves that the date line parts, moved to one another, are joined.
    """
    box = Rect(extent.west, extent.south, extent.east - extent.west, extent.north - extent.south)
    turns = _list_turns(shape, extent)
    moved = (shape if turn == 0.0 else translate(shape, xoff=turn) for turn in turns)
    pieces = [_cut_parts(shapely.get_parts(piece), box) for piece in moved]
    if len(pieces) == 1:
        return MultiPolygon(pieces[0])
    every = np.array([part for parts in pieces for part in parts], dtype=object)
    west, _, east, _ = shapely.bounds(every).T
    halves = (np.abs(west % 360.0 - 180.0) < _SEAM_DEG) | (np.abs(east % 360.0 - 180.0) < _SEAM_DEG)
    joined = shapely.union_all(mend_parts(every[halves]))
    return gather_polygons(*every[~halves], joined)


def _cut_parts(parts: Polygons, box: Rect) -> list[Polygon]:
    """Give the parts of polygons that lie in a box; most of them need no cutting."""
    west, south, east, north = shapely.bounds(parts).T
    seen = (east >= box.x) & (west <= box.right) & (north >= box.y) & (south <= box.bottom)
    within = (west >= box.x) & (east <= box.right) & (south >= box.y) & (north <= box.bottom)
    whole = shapely.get_parts(mend_parts(parts[seen & ~within]))
    cut = shapely.clip_by_rect(whole, box.x, box.y, box.right, box.bottom)
    return [*parts[within], *gather_polygons(*mend_parts(shapely.get_parts(cut))).geoms]


def mend_parts(parts: Polygons) -> Polygons:
    """Give polygons with the few of them mended that are not valid; each is looked at alone."""
    flawed = ~shapely.is_valid(parts)
    parts[flawed] = shapely.make_valid(parts[flawed], method="structure")
    return parts


def _list_turns(shape: BaseGeometry, extent: Extent) -> list[float]:
    """Give by which whole turns (degrees) a shape may be moved to reach into a box."""
    west, south, east, north = shape.bounds
    if not (north >= extent.south and south <= extent.north):
        return []
    turns = (-360.0, 0.0, 360.0)
    return [t for t in turns if east + t >= extent.west and west + t <= extent.east]


def project_shape(shape: BaseGeometry, sheet: Sheet) -> MultiPolygon:
    """Project a shape in degrees onto the page; what the projection folds over is mended."""
    dense = shapely.get_parts(shape)
    long = _find_long_edges(dense)
    dense[long] = shapely.segmentize(dense[long], _LONGEST_EDGE_DEG)

    def move(points: np.ndarray) -> np.ndarray:
        x, y = sheet.to_page(points[:, 0], points[:, 1])
        # Far off the page a projection may run to infinity; hold such points where they harm none.
        return np.clip(np.nan_to_num(np.column_stack([x, y]), posinf=1e6, neginf=-1e6), -1e6, 1e6)

    return gather_polygons(*mend_parts(shapely.transform(dense, move)))


def _find_long_edges(parts: Polygons) -> NDArray[np.bool_]:
    """Say of each part whether it has an edge that wants to be divided."""
    corners, owner = shapely.get_coordinates(parts, return_index=True)
    long = np.hypot(*np.diff(corners, axis=0).T) > _LONGEST_EDGE_DEG
    found = np.zeros(len(parts), dtype=bool)
    found[owner[1:][long & (owner[1:] == owner[:-1])]] = True
    return found
