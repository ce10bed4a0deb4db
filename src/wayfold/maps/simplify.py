"""Outlines made as plain as the print can show, measured in page millimetres.

Coasts lose their small triangles (M. Visvalingam & J. D. Whyatt, The Cartographic Journal 30,
1993), shared borders once for both neighbours. Islands too small to print go, or grow.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiPolygon, Polygon
from shapely.affinity import scale

from wayfold.base.geometry import Point
from wayfold.maps.shapes import gather_polygons


@dataclass(frozen=True, slots=True)
class Plainness:
    """How much is left out.

    Corners go whose triangle is smaller than ``triangle`` mm squared; inlets and straits narrower
    than ``inlet`` mm are filled; islands below ``island`` mm² go.
    """

    triangle: float
    inlet: float
    island: float


TINTS = Plainness(triangle=0.22, inlet=0.0, island=0.3)
"""For tinted land: 0.05 mm², and islands down to 0.55 mm by 0.55 mm: about the smallest that shows
(Z. Li & S. Openshaw, 1992: 0.6-0.7 mm across; from memory), so that none looks like dirt."""
LINES = Plainness(triangle=0.45, inlet=0.9, island=2.0)
"""For outlines, whose two sides must not run together where a fjord is narrow; smaller rings than
1.4 mm across look like dirt, or like the mark of a place."""
_SMALL_MM2 = 4.0
"""Islands below this keep more of their corners, for they have few."""
_SMALL_TOLERANCE_MM = 0.06
_LARGE_MM2 = 1.0
NAMED_MM2 = 0.5
"""What a named island is enlarged to."""
_SAME_CORNER_MM = 1e-4
_GRID_ROW = 1 << 31
_ROUGH_SHARE = 0.1
CLOSEST_MM = 0.25
"""Gaps narrower than this print as none (Lexikon der Geoinformatik: 0.15-0.25 mm)."""


def simplify_lands(
    lands: Mapping[str, MultiPolygon], keep: Iterable[Point] = (), plainness: Plainness = TINTS
) -> dict[str, MultiPolygon]:
    """Simplify countries together, so that neighbours keep one border between them.

    ``keep`` are places on the page whose islands must stay, however small.
    """
    owned = [
        (code, polygon)
        for code, whole in lands.items()
        for polygon in _fill_inlets(whole, plainness.inlet).geoms
    ]
    if not owned:
        return {}
    shapes = np.array([polygon for _, polygon in owned])
    # What touches other land is simplified with it, however small, or gaps would open between.
    large = _find_joined(shapes) | (shapely.area(shapes) >= _SMALL_MM2)
    plain = [
        (owned[n][0], polygon)
        for n, polygon in zip(
            np.flatnonzero(large), _simplify_coverage(list(shapes[large]), plainness), strict=True
        )
        if polygon.area >= plainness.island
    ]
    small = [owned[n] for n in np.flatnonzero(~large)]
    islands = _thin_islands(small, [p for _, p in plain], list(keep), plainness.island)
    result: dict[str, list[Polygon]] = {}
    for code, polygon in [*plain, *islands]:
        result.setdefault(code, []).append(polygon)
    return {code: MultiPolygon(polygons) for code, polygons in result.items()}


def _find_joined(shapes: NDArray[np.object_]) -> NDArray[np.bool_]:
    """Say of each polygon whether it has a corner in common with another."""
    corners, owner = shapely.get_coordinates(shapes, return_index=True)
    grid = np.round(corners / _SAME_CORNER_MM).astype(np.int64)
    # One number a corner: no page is so large that two of them meet.
    _, corner = np.unique(grid[:, 0] * _GRID_ROW + grid[:, 1], return_inverse=True)
    least = np.full(corner.max() + 1, len(shapes))
    most = np.full(corner.max() + 1, -1)
    np.minimum.at(least, corner, owner)
    np.maximum.at(most, corner, owner)
    shared = (least != most)[corner]
    joined = np.zeros(len(shapes), dtype=bool)
    joined[owner[shared]] = True
    return joined


def _fill_inlets(land: MultiPolygon, inlet: float) -> MultiPolygon:
    """Fill what is narrower than ``inlet``, then take off necks as narrow (closing, opening)."""
    if not inlet:
        return land
    half = inlet / 2
    # Corners that lie closer than the inlets are wide cost time and change nothing.
    rough = shapely.simplify(land, inlet * _ROUGH_SHARE, preserve_topology=False)
    filled = gather_polygons(rough.buffer(half, quad_segs=4).buffer(-half, quad_segs=4))
    opened = filled.buffer(-half / 3, quad_segs=4).buffer(half / 3, quad_segs=4)
    # Opening wipes out the smallest islands; they are judged later, so they come back.
    lost = [p for p in filled.geoms if not p.intersects(opened)]
    return gather_polygons(opened, *lost)


def _simplify_coverage(pieces: list[Polygon], plainness: Plainness) -> list[Polygon]:
    if not pieces:
        return []
    plain = []
    for piece in shapely.coverage_simplify(pieces, plainness.triangle):
        if not piece.is_valid:
            piece = shapely.make_valid(piece, method="structure")
        polygons = [p for p in shapely.get_parts(piece) if p.geom_type == "Polygon"]
        largest = max(polygons, key=lambda p: p.area)
        holes = [h for h in largest.interiors if Polygon(h).area >= plainness.island]
        plain.append(Polygon(largest.exterior, holes))
    return plain


def _thin_islands(
    small: list[tuple[str, Polygon]], large: list[Polygon], keep: list[Point], least: float
) -> list[tuple[str, Polygon]]:
    """Drop what is too small to print or too close to something larger; enlarge what is named."""
    if not small:
        return []
    small = sorted(small, key=lambda entry: -entry[1].area)
    anchors = shapely.points([(p.x, p.y) for p in keep]) if keep else np.array([])
    tree = shapely.STRtree(large)
    kept: list[tuple[str, Polygon]] = []
    for code, island in small:
        named = bool(len(anchors)) and bool(shapely.dwithin(anchors, island, 0.6).any())
        if not named and island.area < least:
            continue
        plain = _plain_island(island)
        if named and plain.area < NAMED_MM2:
            grow = math.sqrt(NAMED_MM2 / plain.area)
            plain = scale(plain, grow, grow, origin="centroid")
        close = len(tree.query(plain, predicate="dwithin", distance=CLOSEST_MM)) > 0 or any(
            shapely.dwithin(other, plain, CLOSEST_MM) for _, other in kept
        )
        # A large one stays, though ink may close the strait: better joined than lost.
        if named or not close or plain.area >= _LARGE_MM2:
            kept.append((code, plain))
    return kept


def _plain_island(island: Polygon) -> Polygon:
    plain = island.simplify(_SMALL_TOLERANCE_MM, preserve_topology=True)
    return Polygon(plain.exterior) if isinstance(plain, Polygon) and plain.is_valid else island


def find_borders(lands: Mapping[str, MultiPolygon]) -> tuple[list[LineString], list[LineString]]:
    """Give the lines between countries, each once, and the lines between land and water."""
    ends = [np.zeros((0, 4), dtype=np.int64)]
    for land in lands.values():
        rings = shapely.get_rings(shapely.get_parts(land))
        corners, ring = shapely.get_coordinates(rings, return_index=True)
        corners = np.round(corners / _SAME_CORNER_MM).astype(np.int64)
        follows = ring[1:] == ring[:-1]
        one, other = corners[:-1][follows], corners[1:][follows]
        real = (one != other).any(axis=1)
        one, other = one[real], other[real]
        swap = (one[:, 0] > other[:, 0]) | ((one[:, 0] == other[:, 0]) & (one[:, 1] > other[:, 1]))
        edges = np.where(swap[:, None], np.hstack([other, one]), np.hstack([one, other]))
        # A country's own parts may touch: its edges count once.
        ends.append(np.unique(edges, axis=0))
    edges, owner_count = np.unique(np.vstack(ends), axis=0, return_counts=True)
    return _join(edges[owner_count > 1]), _join(edges[owner_count == 1])


def _join(edges: NDArray[np.int64]) -> list[LineString]:
    if not len(edges):
        return []
    lines = shapely.linestrings(edges.reshape(-1, 2, 2) * _SAME_CORNER_MM)
    return list(shapely.get_parts(shapely.line_merge(shapely.multilinestrings(lines))))
