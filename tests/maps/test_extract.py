"""Reading OpenStreetMap extracts, against readers and measures that are not ours.

The second readers are Python's own XML parser and the area assembler of osmium; lengths and areas
are measured by pyproj.Geod (GeographicLib).
"""

from __future__ import annotations

import tracemalloc
from collections import defaultdict
from pathlib import Path
from xml.etree import ElementTree

import osmium
import pyproj
import pytest
import shapely
from shapely import LineString

from tests.maps.osm_files import fetch_monaco, write_osm
from wayfold.base.errors import NotFoundError, UserError
from wayfold.maps.extract import read_extract
from wayfold.maps.projection import Extent
from wayfold.maps.streets import StreetPlan

MONACO = Extent(7.38, 43.70, 7.47, 43.78)
FRAME = Extent(0.0, 0.0, 1.0, 1.0)
GEOD = pyproj.Geod(ellps="WGS84")
SQUARE = {1: (0.2, 0.2), 2: (0.4, 0.2), 3: (0.4, 0.4), 4: (0.2, 0.4)}
# Written out again here, from the wiki's page "Key:highway", not taken from the code.
WALKABLE = {
    *("motorway", "trunk", "primary", "secondary", "tertiary", "residential", "unclassified"),
    *("motorway_link", "trunk_link", "primary_link", "secondary_link", "tertiary_link"),
    *("living_street", "pedestrian", "road", "footway", "path", "steps", "track", "cycleway"),
    "bridleway",
}


@pytest.fixture(scope="session")
def monaco() -> Path:
    return fetch_monaco()


@pytest.fixture(scope="session")
def plan(monaco: Path) -> StreetPlan:
    return read_extract(str(monaco), MONACO)


@pytest.fixture(scope="session")
def monaco_xml(monaco: Path, tmp_path_factory: pytest.TempPathFactory) -> ElementTree.Element:
    path = tmp_path_factory.mktemp("osm") / "monaco.osm"
    with osmium.SimpleWriter(str(path)) as writer:
        for entity in osmium.FileProcessor(str(monaco)):
            writer.add(entity)
    return ElementTree.parse(path).getroot()


def test_streets_are_those_that_a_plain_xml_parser_finds(
    plan: StreetPlan, monaco_xml: ElementTree.Element
) -> None:
    places = {
        n.get("id"): (float(n.get("lon", "")), float(n.get("lat", "")))
        for n in monaco_xml.iter("node")
    }
    lengths: defaultdict[str, float] = defaultdict(float)
    for way in monaco_xml.iter("way"):
        tags = {t.get("k"): t.get("v") for t in way.iter("tag")}
        if tags.get("highway") not in WALKABLE:
            continue
        if tags.get("area") == "yes" or tags.get("tunnel") == "yes":
            continue
        points = [places[nd.get("ref")] for nd in way.iter("nd") if nd.get("ref") in places]
        lengths[(tags.get("name") or "").strip()] += GEOD.geometry_length(LineString(points))
    ours: defaultdict[str, float] = defaultdict(float)
    for street in plan.streets:
        ours[street.name] += GEOD.geometry_length(street.line)
    assert len(lengths) > 150
    assert ours.keys() == lengths.keys()
    for name, length in lengths.items():
        assert ours[name] == pytest.approx(length, abs=0.01)


@pytest.mark.parametrize(
    ("kind", "tags"),
    [
        ("parks", {"leisure": {"park", "garden"}}),
        ("water", {"natural": {"water", "bay"}}),
    ],
)
def test_areas_are_those_of_the_librarys_own_assembler(
    monaco: Path, kind: str, tags: dict[str, set[str]], plan: StreetPlan
) -> None:
    factory = osmium.geom.WKBFactory()
    whole = []
    for area in osmium.FileProcessor(str(monaco)).with_areas():
        if isinstance(area, osmium.osm.Area) and any(
            area.tags.get(key) in values for key, values in tags.items()
        ):
            whole.append(shapely.from_wkb(factory.create_multipolygon(area)))
    assert len(whole) > 5
    ours = shapely.union_all(list(getattr(plan, kind)))
    for shape in whole:
        missed = shapely.difference(shape, ours)
        assert abs(GEOD.geometry_area_perimeter(missed)[0]) < 1.0, "square metres"


def test_a_park_has_its_holes_and_its_area(tmp_path: Path) -> None:
    nodes = SQUARE | {5: (0.27, 0.27), 6: (0.33, 0.27), 7: (0.33, 0.33), 8: (0.27, 0.33)}
    path = write_osm(
        tmp_path / "park.osm",
        nodes,
        [(1, [1, 2, 3], {}), (2, [3, 4, 1], {}), (3, [5, 6, 7, 8, 5], {})],
        [
            (
                1,
                [(1, "outer"), (2, "outer"), (3, "inner")],
                {"type": "multipolygon", "leisure": "park"},
            )
        ],
    )
    (park,) = read_extract(str(path), FRAME).parks
    expected = shapely.box(0.2, 0.2, 0.4, 0.4).difference(shapely.box(0.27, 0.27, 0.33, 0.33))
    assert shapely.equals(park, expected)


def test_a_park_that_the_extract_cuts_open_is_left_out_and_nothing_breaks(tmp_path: Path) -> None:
    path = write_osm(
        tmp_path / "park.osm",
        SQUARE,
        [(1, [1, 2, 3], {}), (3, [1, 3], {"highway": "path"})],
        [(1, [(1, "outer"), (2, "outer")], {"type": "multipolygon", "leisure": "park"})],
    )
    plan = read_extract(str(path), FRAME)
    assert plan.parks == ()
    assert len(plan.streets) == 1


def test_only_what_touches_the_frame_is_kept(tmp_path: Path) -> None:
    nodes = {1: (-5.0, 0.5), 2: (5.0, 0.5), 3: (-5.0, 3.0), 4: (5.0, 3.0), 5: (0.5, 0.5)}
    path = write_osm(
        tmp_path / "frame.osm",
        nodes,
        [
            (1, [1, 2], {"highway": "primary", "name": "Through, with no node inside"}),
            (2, [3, 4], {"highway": "primary", "name": "Outside"}),
            (3, [5, 4], {"highway": "service", "name": "A drive"}),
        ],
    )
    plan = read_extract(str(path), FRAME)
    assert [street.name for street in plan.streets] == ["Through, with no node inside"]
    assert plan.streets[0].rank == 1


def test_a_way_over_the_date_line_is_in_one_piece(tmp_path: Path) -> None:
    nodes = {1: (179.99, -16.8), 2: (-179.99, -16.8)}
    path = write_osm(tmp_path / "fiji.osm", nodes, [(1, [1, 2], {"highway": "track"})])
    (street,) = read_extract(str(path), Extent(179.9, -16.9, 180.1, -16.7)).streets
    assert street.line.length == pytest.approx(0.02)
    # The same frame, its longitudes counted the other way round.
    (street,) = read_extract(str(path), Extent(-180.1, -16.9, -179.9, -16.7)).streets
    assert street.line.length == pytest.approx(0.02)


def test_nodes_that_the_extract_lacks_are_passed_over(tmp_path: Path) -> None:
    path = write_osm(
        tmp_path / "rim.osm",
        SQUARE,
        [(1, [1, 99, 2], {"highway": "path"}), (2, [98, 99], {"highway": "path"})],
    )
    (street,) = read_extract(str(path), FRAME).streets
    assert list(street.line.coords) == [(0.2, 0.2), (0.4, 0.2)]


def test_nodes_on_disk_give_the_same_plan(monaco: Path, plan: StreetPlan, tmp_path: Path) -> None:
    other = read_extract(str(monaco), MONACO, index=str(tmp_path / "nodes"))
    assert [s.line.wkb for s in other.streets] == [s.line.wkb for s in plan.streets]
    assert [p.wkb for p in other.parks] == [p.wkb for p in plan.parks]


def test_a_file_many_times_as_large_takes_no_more_memory(monaco: Path, tmp_path: Path) -> None:
    """An .osm.pbf is a row of blobs (wiki, PBF Format): repeating them makes a large one."""
    data = monaco.read_bytes()
    head = 4 + int.from_bytes(data[:4], "big")
    # The header's blob: its size is the last varint of the blob header (datasize, field 3).
    size, shift = 0, 0
    for byte in data[4:head][data[4:head].rindex(b"\x18") + 1 :]:
        size |= (byte & 0x7F) << shift
        shift += 7
    first, rest = data[: head + size], data[head + size :]
    peaks = []
    elsewhere = Extent(9.0, 40.0, 9.1, 40.1)
    for times in (3, 24):
        path = tmp_path / f"{times}.osm.pbf"
        path.write_bytes(first + rest * times)
        tracemalloc.start()
        plan = read_extract(str(path), elsewhere, index=str(tmp_path / f"{times}.nodes"))
        peaks.append(tracemalloc.get_traced_memory()[1])
        tracemalloc.stop()
        assert plan.is_empty
    assert peaks[1] < 1.5 * peaks[0]


def test_an_extract_of_somewhere_else_says_where_it_is(monaco: Path) -> None:
    plan = read_extract(str(monaco), Extent(11.0, 43.0, 12.0, 44.0))
    assert plan.is_empty
    (finding,) = plan.findings
    assert "7.40° E" in finding.message and "43.72° N" in finding.message


def test_an_extract_of_nothing_is_a_finding(tmp_path: Path) -> None:
    (finding,) = read_extract(str(write_osm(tmp_path / "none.osm", {})), FRAME).findings
    assert "no street, water or park at all" in finding.message


def test_water_without_streets_is_a_finding(tmp_path: Path) -> None:
    path = write_osm(tmp_path / "lake.osm", SQUARE, [(1, [1, 2, 3, 4, 1], {"natural": "water"})])
    plan = read_extract(str(path), FRAME)
    assert len(plan.water) == 1
    assert "no street" in plan.findings[0].message


def test_an_absent_file_is_not_found(tmp_path: Path) -> None:
    with pytest.raises(NotFoundError):
        read_extract(str(tmp_path / "absent.osm.pbf"), FRAME)


BOMB = (
    '<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa">'
    + "".join(f'<!ENTITY a{n} "{f"&a{n - 1 if n > 1 else str()};" * 10}">' for n in range(1, 10))
    + "]>"
)
HOSTILE = {
    "nothing.osm": "",
    "nothing.osm.pbf": "",
    "page.osm": "<!DOCTYPE html><html><body>Not found</body></html>",
    "page.osm.pbf": "<!DOCTYPE html><html><body>Not found</body></html>" * 50,
    "track.osm": '<gpx version="1.1"><trk/></gpx>',
    "cut.osm": '<osm version="0.6"><node id="1" lat="9" lon="1"/>',
    "old.osm": '<osm version="0.5"/>',
    "place.osm": '<osm version="0.6"><node id="1" lat="x" lon="1"/></osm>',
    "number.osm": '<osm version="0.6"><node id="one" lat="9" lon="1"/></osm>',
    "junk.osm.bz2": "junk",
    "junk.osm.gz": "junk",
    "map.jpg": "junk",
    "bomb.osm": f'{BOMB}<osm version="0.6"><node id="1" lat="9" lon="1">'
    '<tag k="name" v="&a9;"/></node></osm>',
    "outside.osm": '<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/passwd">]><osm version="0.6">'
    '<node id="1" lat="9" lon="1"><tag k="name" v="&a;"/></node></osm>',
}


@pytest.mark.parametrize("name", HOSTILE)
def test_what_is_no_extract_is_refused_with_a_remedy(name: str, tmp_path: Path) -> None:
    path = tmp_path / name
    path.write_text(HOSTILE[name])
    with pytest.raises(UserError) as caught:
        read_extract(str(path), FRAME)
    assert caught.value.where == str(path)
    assert ".osm.pbf" in caught.value.remedy
    assert "root:" not in str(caught.value)


def test_a_broken_extract_is_refused(monaco: Path, tmp_path: Path) -> None:
    path = tmp_path / "broken.osm.pbf"
    path.write_bytes(monaco.read_bytes()[:300_000])
    with pytest.raises(UserError, match="cannot be read"):
        read_extract(str(path), MONACO)


def test_a_place_off_the_earth_is_passed_over(tmp_path: Path) -> None:
    nodes = SQUARE | {9: (0.3, 95.0)}
    path = write_osm(tmp_path / "off.osm", nodes, [(1, [1, 9, 2], {"highway": "path"})])
    (street,) = read_extract(str(path), FRAME).streets
    assert len(street.line.coords) == 2
