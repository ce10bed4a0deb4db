"""A town made as plain as its print scale asks: blocks, parks and water on the page (mm).

Streets are not drawn: they are the white paper between the blocks. What lies closer than print
can part (carriageways side by side, islands in a junction) runs together of itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from shapely import LineString, MultiPolygon
from shapely.geometry.base import BaseGeometry

from wayfold.base.findings import Finding
from wayfold.base.geometry import Rect
from wayfold.maps.deadends import drop_dead_ends
from wayfold.maps.sea import build_sea
from wayfold.maps.shapes import box_of, gather_lines, gather_polygons
from wayfold.maps.sheet import Sheet
from wayfold.maps.streets import StreetPlan

_OVER = 4.0
"""The town is worked out this far (mm) beyond what is seen, so that no cut edge shows."""
NARROWEST_GAP = 0.3
"""White between two tints, or a tint between two streets, is no narrower (Lexikon der
Geoinformatik, Universität Rostock: 0.15-0.25 mm; a home printer's ink spreads)."""
SMALLEST_BLOCK = 0.6
SMALLEST_WATER = 1.0
SMALLEST_PARK = 3.0
SMALLEST_SHORE = 6.0
"""Areas below these (mm²) go."""
_SHORTEST_DEAD_END = 3.0
_PLAIN = 0.06


@dataclass(frozen=True, slots=True)
class StreetWidth:
    """How wide a rank is drawn: its width on the ground (m), within limits on paper (mm).

    Where a millimetre is more than ``coarsest`` metres, streets of the rank are left out.
    """

    ground: float
    least: float
    most: float
    coarsest: float

    def on_paper(self, metres: float) -> float:
        """Give the width in mm at ``metres`` to the mm; 0 where the rank is left out."""
        if metres > self.coarsest:
            return 0.0
        return min(max(self.ground / metres, self.least), self.most)


WIDTHS = {
    1: StreetWidth(16.0, 0.75, 2.2, float("inf")),
    2: StreetWidth(12.0, 0.6, 1.7, float("inf")),
    3: StreetWidth(10.0, 0.5, 1.4, 60.0),
    4: StreetWidth(7.5, 0.38, 1.1, 30.0),
    5: StreetWidth(2.5, 0.25, 0.5, 12.0),
}
"""Carriageway and pavements together, as towns commonly have them (common practice, no single
source); the least widths keep the ranks apart to the eye."""
RIVER = StreetWidth(10.0, 0.35, 2.0, 60.0)


@dataclass(frozen=True, slots=True)
class Townscape:
    """What is drawn of a town, in mm on the page, as far as ``seen`` with a little over.

    ``lines`` are the streets that are left, by rank, with their widths in ``widths``.
    """

    blocks: MultiPolygon
    parks: MultiPolygon
    water: MultiPolygon
    lines: dict[int, tuple[LineString, ...]]
    widths: dict[int, float]
    rails: tuple[LineString, ...]
    shore: tuple[LineString, ...]
    greens: MultiPolygon
    """Parks as wholes, before streets and paths part them."""
    findings: tuple[Finding, ...] = ()


def plain_town(
    plan: StreetPlan, sheet: Sheet, seen: Rect, keep: Sequence[BaseGeometry] = ()
) -> Townscape:
    """Lay a town on the page and leave out what its scale cannot show.

    Streets that lead to what is to be kept (``keep``: places and walks on the page) stay, however
    short.
    """
    wide = box_of(seen.grown(_OVER))
    widths = {rank: w for rank, width in WIDTHS.items() if (w := width.on_paper(sheet.metres))}
    to_page = _page_of(sheet)
    by_rank: dict[int, list[LineString]] = {
        rank: _lay([s.line for s in plan.streets if s.rank == rank], to_page, wide)
        for rank in widths
    }
    lines = drop_dead_ends(by_rank, _SHORTEST_DEAD_END, wide, keep)

    sea, findings = build_sea(_lay(plan.coast, to_page, None), wide)
    river = RIVER.on_paper(sheet.metres)
    rivers = _lay(plan.rivers, to_page, wide) if river else []
    ribbons = shapely.union_all([line.buffer(river / 2) for line in rivers])
    lakes = _lay_areas(plan.water, to_page, wide)
    water = _plain(shapely.union_all([sea, ribbons, *lakes]), 0.25, SMALLEST_WATER)
    parks = _plain(
        shapely.union_all(_lay_areas(plan.parks, to_page, wide)), NARROWEST_GAP, SMALLEST_PARK
    )

    streets = _spread(lines, widths)
    land = shapely.difference(wide, water)
    green = shapely.intersection(parks, land)
    blocks = shapely.difference(land, shapely.union_all([streets, parks]))
    return Townscape(
        _open(blocks, SMALLEST_BLOCK),
        _open(shapely.difference(green, streets), SMALLEST_BLOCK),
        gather_polygons(shapely.difference(water, streets)),
        lines,
        widths,
        tuple(_lay(plan.rails, to_page, wide)),
        _trace_shore(water, wide),
        gather_polygons(green),
        findings,
    )


def _trace_shore(water: MultiPolygon, wide: shapely.Polygon) -> tuple[LineString, ...]:
    """Give the lines between land and water, without the edges along which both were cut."""
    large = MultiPolygon([p for p in water.geoms if p.area >= SMALLEST_SHORE])
    return tuple(gather_lines(shapely.intersection(large.boundary, wide.buffer(-0.01))))


def _page_of(sheet: Sheet) -> Callable[[Any], Any]:
    def to_page(points: Any) -> Any:
        return np.column_stack(sheet.to_page(points[:, 0], points[:, 1]))

    return to_page


def _lay(
    lines: Iterable[LineString], to_page: Callable[[Any], Any], clip: BaseGeometry | None
) -> list[LineString]:
    laid = shapely.transform(list(lines), to_page)
    if clip is not None:
        laid = shapely.clip_by_rect(laid, *clip.bounds)
    return gather_lines(*laid)


def _lay_areas(
    areas: Iterable[BaseGeometry], to_page: Callable[[Any], Any], clip: BaseGeometry
) -> list[BaseGeometry]:
    laid = shapely.make_valid(shapely.transform(list(areas), to_page))
    return list(gather_polygons(*shapely.intersection(laid, clip)).geoms)


def _spread(lines: dict[int, tuple[LineString, ...]], widths: dict[int, float]) -> BaseGeometry:
    """Give the ground that streets take, gaps too narrow to print filled."""
    ribbons = [
        shapely.union_all(
            shapely.buffer(
                shapely.simplify(list(rank_lines), _PLAIN / 2), widths[rank] / 2, quad_segs=4
            )
        )
        for rank, rank_lines in lines.items()
        if rank_lines
    ]
    half = NARROWEST_GAP / 2
    closed = shapely.union_all(ribbons).buffer(half, quad_segs=3).buffer(-half, quad_segs=3)
    parts = []
    for polygon in gather_polygons(closed).geoms:
        holes = [h for h in polygon.interiors if shapely.Polygon(h).area >= SMALLEST_BLOCK]
        parts.append(shapely.Polygon(polygon.exterior, holes))
    return MultiPolygon(parts)


def _plain(shape: BaseGeometry, gap: float, least: float) -> MultiPolygon:
    """Close gaps, drop what is small, and take out corners too fine to print."""
    closed = shape.buffer(gap / 2, quad_segs=4).buffer(-gap / 2, quad_segs=4)
    kept = [p for p in gather_polygons(closed).geoms if p.area >= least]
    whole = [
        shapely.Polygon(p.exterior, [h for h in p.interiors if shapely.Polygon(h).area >= least])
        for p in kept
    ]
    return gather_polygons(shapely.simplify(MultiPolygon(whole), _PLAIN))


def _open(shape: BaseGeometry, least: float) -> MultiPolygon:
    """Drop slivers and what is too small, and round corners as a pen would."""
    half = NARROWEST_GAP / 3
    opened = shape.buffer(-half, quad_segs=3).buffer(half, quad_segs=3)
    kept = [p for p in gather_polygons(opened).geoms if p.area >= least]
    return gather_polygons(shapely.simplify(MultiPolygon(kept), _PLAIN / 3))
