"""OpenStreetMap files for these tests: written here, or taken from a package.

Monaco comes out of the source package of quackosm 0.19.0, ``tests/test_files/monaco.osm.pbf``
(© OpenStreetMap contributors, ODbL 1.0; 538 kB). It is fetched once with pip and kept in
``~/.cache/wayfold-tests``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from xml.etree import ElementTree

from tests.fetching import fetch_sample


def fetch_monaco() -> Path:
    """Give the extract of Monaco, fetching its package the first time."""
    return fetch_sample("quackosm", "0.19.0", "tests/test_files/monaco.osm.pbf")


Places = Mapping[int, tuple[float, float]]
Ways = Iterable[tuple[int, Sequence[int], Mapping[str, str]]]
Relations = Iterable[tuple[int, Sequence[tuple[int, str]], Mapping[str, str]]]


def write_osm(path: Path, nodes: Places, ways: Ways = (), relations: Relations = ()) -> Path:
    """Write an .osm file; nodes are (longitude, latitude) by number."""
    root = ElementTree.Element("osm", version="0.6", generator="tests")
    for number, (lon, lat) in nodes.items():
        ElementTree.SubElement(root, "node", id=str(number), lon=repr(lon), lat=repr(lat))
    for number, refs, tags in ways:
        way = ElementTree.SubElement(root, "way", id=str(number))
        for ref in refs:
            ElementTree.SubElement(way, "nd", ref=str(ref))
        _tag(way, tags)
    for number, members, tags in relations:
        relation = ElementTree.SubElement(root, "relation", id=str(number))
        for ref, role in members:
            ElementTree.SubElement(relation, "member", type="way", ref=str(ref), role=role)
        _tag(relation, tags)
    ElementTree.ElementTree(root).write(path, encoding="utf-8", xml_declaration=True)
    return path


def _tag(parent: ElementTree.Element, tags: Mapping[str, str]) -> None:
    for key, value in tags.items():
        ElementTree.SubElement(parent, "tag", k=key, v=value)
