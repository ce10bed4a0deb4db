"""The sea of a city map, built from coastlines: land lies on their left (OpenStreetMap's rule)."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely import LineString, MultiPolygon, Polygon

from wayfold.base.findings import Finding, Severity
from wayfold.maps.shapes import gather_lines, gather_polygons

_ASIDE = 0.02
"""How far (mm) beside the coast land and sea are asked for."""


def build_sea(
    coast: Sequence[LineString], frame: Polygon
) -> tuple[MultiPolygon, tuple[Finding, ...]]:
    """Give the sea within ``frame`` (page, mm, y down) from coastlines on the page.

    The coast cuts the frame into faces; each face counts what the coast says on its rim. Where a
    coast ends inside the frame (an extract cut off at sea), no face closes: what cannot be told is
    land, and a finding.
    """
    lines = gather_lines(*(line.intersection(frame) for line in coast))
    if not lines:
        return MultiPolygon(), ()
    rim = frame.exterior
    joined = gather_lines(shapely.line_merge(shapely.union_all(lines)))
    broken = any(
        not line.is_closed and rim.distance(shapely.Point(end)) > 0.05
        for line in joined
        for end in (line.coords[0], line.coords[-1])
    )
    faces = list(shapely.get_parts(shapely.polygonize([shapely.union_all([rim, *lines])])))
    votes = _count_votes(lines, faces)
    sea = [face for face, vote in zip(faces, votes, strict=True) if vote > 0]
    findings = (_say_broken(),) if broken else ()
    return gather_polygons(shapely.union_all(sea)), findings


def _count_votes(lines: Sequence[LineString], faces: Sequence[Polygon]) -> np.ndarray:
    """Give for each face the length of coast that has it on the right, less that on the left.

    The page has y down, so what is right on the ground is left in the page's own sense.
    """
    votes = np.zeros(len(faces))
    tree = shapely.STRtree(faces)
    for line in lines:
        points = np.asarray(line.coords)
        along = np.diff(points, axis=0)
        length = np.hypot(along[:, 0], along[:, 1])
        real = length > 1e-6
        middle = (points[:-1] + points[1:])[real] / 2
        unit = along[real] / length[real][:, None]
        # East of a way to the north: with y down, (dx, dy) turned to (-dy, dx).
        right = np.column_stack([-unit[:, 1], unit[:, 0]])
        for side, sign in ((right, 1.0), (-right, -1.0)):
            probes = shapely.points(middle + side * _ASIDE)
            probe, face = tree.query(probes, predicate="within")
            np.add.at(votes, face, sign * length[real][probe])
    return votes


def _say_broken() -> Finding:
    return Finding(
        "map-coast",
        Severity.WARN,
        "city map",
        "The coastline ends within the map, so sea and land cannot be told apart everywhere.",
        "Add an extract that reaches beyond the map's frame on all sides.",
    )
