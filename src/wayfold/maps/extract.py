"""The door to street data: reads what a map shows from an OpenStreetMap extract.

The file (.osm.pbf, .osm, .osm.gz, .osm.bz2) is one the person adds. It is read in a few passes
that keep nothing but what touches the map's frame; only where the nodes lie is noted for the
whole file, 16 bytes a node, in memory or in a file on disk (see ``read_extract``).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
import shapely
from shapely import LineString, Polygon

from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.findings import Finding, Severity
from wayfold.base.progress import NoProgress, Progress
from wayfold.maps.osm_tags import KEPT, KEYS, area_kind, line_kind, street_rank
from wayfold.maps.projection import Extent
from wayfold.maps.rings import close_rings
from wayfold.maps.shapes import gather_polygons
from wayfold.maps.streets import Street, StreetPlan

_BATCH = 5000
_MOST_MEMBERS = 4000
"""An area of more ways than this reaches far beyond any town's map; it is left out, and said so."""
_PASSES = 5


@dataclass(frozen=True, slots=True)
class _Way:
    number: int
    tags: dict[str, str]
    line: LineString


@dataclass(frozen=True, slots=True)
class _Area:
    number: int
    kind: str
    outer: tuple[int, ...]
    inner: tuple[int, ...]


@dataclass(slots=True)
class _Reach:
    """The box of everything seen, to say where an extract is when it is elsewhere."""

    bounds: list[float] = field(default_factory=lambda: [np.inf, np.inf, -np.inf, -np.inf])

    def add(self, boxes: Any) -> None:
        low, high = np.nanmin(boxes[:, :2], axis=0), np.nanmax(boxes[:, 2:], axis=0)
        self.bounds = [
            *np.minimum(self.bounds[:2], low).tolist(),
            *np.maximum(self.bounds[2:], high).tolist(),
        ]


def read_extract(
    path: str,
    extent: Extent,
    *,
    index: str = "",
    progress: Progress | None = None,
    name: str = "",
) -> StreetPlan:
    """Give streets, water, parks, rails and coast that touch ``extent``, uncut, in degrees.

    Besides what the frame holds, reading needs 16 bytes for each node of the file (a .osm.pbf of
    2 GB has about 200 million): in memory, or, where ``index`` names a file, on disk. ``name`` is
    what messages call the file (default: its path). Raises
    NotFoundError where the extract is not there, and UserError where it is no OpenStreetMap
    file, broken, or a history. One that is empty, or lies elsewhere, gives an empty plan and a
    finding.
    """
    import osmium

    called = name or path
    try:
        with (progress or NoProgress()).task("Reading streets", _PASSES) as task:
            return _read(path, extent, index, called, task)
    except (RuntimeError, ValueError, osmium.InvalidLocationError) as error:
        if "No such file" in str(error):
            raise NotFoundError(
                "The street data is not there.",
                where=called,
                remedy="Put the file back, or take it off the map.",
            ) from error
        raise UserError(
            f"The street data cannot be read ({str(error).replace(path, 'it').rstrip('.')}).",
            where=called,
            remedy=(
                "It must be an OpenStreetMap extract whose name ends in .osm.pbf, .osm, .osm.gz or "
                ".osm.bz2. If it is one, fetch it once more."
            ),
        ) from error


def _read(path: str, extent: Extent, index: str, called: str, task: Any) -> StreetPlan:
    source = _Source(path, extent, index, called)
    task.advance()
    reach = _Reach()
    tagged = [way for way in source.list_ways(keys=KEYS, reach=reach) if _is_drawn(way.tags)]
    task.advance()
    # One by one, for a whole country's areas have more pieces than memory should hold.
    candidates = (ref for area in source.list_areas() for ref in (*area.outer, *area.inner))
    touching = {way.number for way in source.list_ways(numbers=candidates)}
    task.advance()
    areas: list[_Area] = []
    too_large: list[_Area] = []
    for area in source.list_areas():
        if not touching.isdisjoint((*area.outer, *area.inner)):
            small = len(area.outer) + len(area.inner) <= _MOST_MEMBERS
            (areas if small else too_large).append(area)
    members = {ref for area in areas for ref in (*area.outer, *area.inner)}
    task.advance()
    lines = {w.number: w.line for w in source.list_ways(numbers=members, everywhere=True)}
    task.advance()
    plan = _build_plan(tagged, areas, lines)
    findings = [_say_large(called, area.number) for area in too_large]
    if plan.is_empty:
        findings.append(_say_elsewhere(called, reach))
    elif not plan.streets:
        findings.append(_say_no_streets(called))
    return replace(plan, findings=tuple(findings))


class _Source:
    """One extract, its nodes' places noted, to be passed over as often as needed."""

    def __init__(self, path: str, extent: Extent, index: str, called: str) -> None:
        import osmium

        self._path = path
        self._middle = (extent.west + extent.east) / 2
        self._frame = shapely.box(extent.west, extent.south, extent.east, extent.north)
        shapely.prepare(self._frame)
        kind = f"sparse_file_array,{index}" if index else "flex_mem"
        self._places = osmium.index.create_map(kind)
        with osmium.io.Reader(path, osmium.osm.NODE) as reader:
            if reader.header().has_multiple_object_versions:
                raise UserError(
                    "The street data is a history of the map, with every version of everything.",
                    where=called,
                    remedy="Add a plain extract (.osm.pbf) in its place.",
                )
            osmium.apply(reader, self._locator())

    def list_ways(
        self,
        *,
        keys: Sequence[str] = (),
        numbers: Iterable[int] | None = None,
        everywhere: bool = False,
        reach: _Reach | None = None,
    ) -> Iterator[_Way]:
        """Give the ways with one of ``keys``, or of these ``numbers``, that touch the frame."""
        import osmium

        filters: list[Any] = [osmium.filter.KeyFilter(*keys)] if keys else []
        if numbers is not None:
            filters.append(osmium.filter.IdFilter(numbers))
        batch: list[tuple[int, dict[str, str], Any]] = []
        # The library keeps no hold of its handlers while it runs: they must live as long as it.
        locator = self._locator()
        factory = osmium.geom.WKBFactory()
        with osmium.io.Reader(self._path, osmium.osm.WAY) as reader:
            for way in osmium.OsmFileIterator(reader, locator, *filters):
                shape = _write_shape(way, factory)
                if shape is None:
                    continue
                tags = {key: way.tags[key] for key in KEPT if key in way.tags} if keys else {}
                batch.append((way.id, tags, shape))
                if len(batch) == _BATCH:
                    yield from self._choose(batch, everywhere, reach)
                    batch = []
        yield from self._choose(batch, everywhere, reach)

    def list_areas(self) -> Iterator[_Area]:
        """Give the waters and parks that are made of several ways."""
        import osmium

        drawn = osmium.filter.KeyFilter("natural", "leisure", "landuse", "waterway")
        kind_key = osmium.filter.TagFilter(("type", "multipolygon"))
        with osmium.io.Reader(self._path, osmium.osm.RELATION) as reader:
            relations: Iterable[Any] = osmium.OsmFileIterator(reader, kind_key, drawn)
            for relation in relations:
                kind = area_kind({k: relation.tags[k] for k in KEYS if k in relation.tags})
                if not kind:
                    continue
                ways = [(m.ref, m.role) for m in relation.members if m.type == "w"]
                outer = tuple(ref for ref, role in ways if role != "inner")
                inner = tuple(ref for ref, role in ways if role == "inner")
                yield _Area(relation.id, kind, outer, inner)

    def _locator(self) -> Any:
        import osmium

        locator = osmium.NodeLocationsForWays(self._places)
        # Ways at the rim of an extract name nodes that it does not hold.
        locator.ignore_errors()
        return locator

    def _choose(
        self,
        batch: Sequence[tuple[int, dict[str, str], Any]],
        everywhere: bool,
        reach: _Reach | None,
    ) -> Iterator[_Way]:
        if not batch:
            return
        lines = shapely.from_wkb([shape for _, _, shape in batch])
        if reach is not None:
            reach.add(shapely.bounds(lines))
        lines = shapely.transform(lines, self._run_on)
        chosen = shapely.intersects(self._frame, lines)
        for (number, tags, _), line, touches in zip(batch, lines, chosen, strict=True):
            if touches or everywhere:
                yield _Way(number, tags, line)

    def _run_on(self, points: Any) -> Any:
        """Bring longitudes within half a turn of the frame's middle, over the date line or not."""
        turns = np.round((points[:, 0] - self._middle) / 360.0)
        return np.column_stack([points[:, 0] - 360.0 * turns, points[:, 1]])


def _write_shape(way: Any, factory: Any) -> Any:
    """Give a way as WKB; nodes that the extract lacks are passed over, None where too few are left.

    The library refuses ways with gaps, and ways whose nodes all lie on one spot.
    """
    import osmium

    try:
        return factory.create_linestring(way)
    except (osmium.InvalidLocationError, RuntimeError):
        there = [(n.lon, n.lat) for n in way.nodes if n.location.valid()]
        if len(set(there)) < 2:
            return None
        return shapely.to_wkb(LineString(there), hex=True)


def _is_drawn(tags: dict[str, str]) -> bool:
    return bool(street_rank(tags) or line_kind(tags) or area_kind(tags))


def _build_plan(
    ways: Sequence[_Way], areas: Sequence[_Area], lines: dict[int, LineString]
) -> StreetPlan:
    streets: dict[int, Street] = {}
    others: dict[str, dict[int, LineString]] = {"coast": {}, "rail": {}, "river": {}}
    shapes: dict[str, list[Polygon]] = {"water": [], "park": []}
    # A file joined from several may hold a way twice.
    for way in {way.number: way for way in ways}.values():
        kind = area_kind(way.tags)
        if rank := street_rank(way.tags):
            streets[way.number] = Street(way.line, rank, way.tags.get("name", "").strip())
        elif other := line_kind(way.tags):
            others[other][way.number] = way.line
        elif kind and way.line.is_closed and len(way.line.coords) > 3:
            shapes[kind] += gather_polygons(shapely.make_valid(Polygon(way.line))).geoms
    for area in {area.number: area for area in areas}.values():
        shapes[area.kind] += close_rings(area.outer, area.inner, lines).geoms
    return StreetPlan(
        tuple(streets.values()),
        tuple(others["rail"].values()),
        tuple(others["river"].values()),
        tuple(shapes["water"]),
        tuple(shapes["park"]),
        tuple(others["coast"].values()),
    )


def _say_elsewhere(called: str, reach: _Reach) -> Finding:
    west, south, east, north = reach.bounds
    if not np.isfinite(reach.bounds).all():
        message = "The street data holds no street, water or park at all."
    else:
        message = (
            "The street data has nothing where the map is: it reaches from "
            f"{_write(west, 'E', 'W')} to {_write(east, 'E', 'W')} and from "
            f"{_write(south, 'N', 'S')} to {_write(north, 'N', 'S')}."
        )
    remedy = "Add an extract of the town that the map shows."
    return Finding("map-streets", Severity.WARN, called, message, remedy)


def _write(degrees: float, plus: str, minus: str) -> str:
    return f"{abs(degrees):.2f}° {plus if degrees >= 0 else minus}"


def _say_no_streets(called: str) -> Finding:
    return Finding(
        "map-streets",
        Severity.WARN,
        called,
        "The street data has no street in the map's frame.",
        "Add an extract of the town that the map shows, with its streets.",
    )


def _say_large(called: str, number: int) -> Finding:
    return Finding(
        "map-streets",
        Severity.NOTE,
        called,
        f"A water or park (relation {number}) is made of more than {_MOST_MEMBERS} pieces and "
        "reaches far beyond the map; it is not drawn.",
    )
