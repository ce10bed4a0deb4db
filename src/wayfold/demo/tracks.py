"""Writes tracks as a receiver would leave them: GPX 1.1."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from xml.etree import ElementTree

from wayfold.trip.tracks import Fix

_SPACE = "http://www.topografix.com/GPX/1/1"


def write_track(path: Path, name: str, fixes: Iterable[Fix]) -> None:
    """Write fixes as one track with one segment, at most one a second."""
    root = ElementTree.Element("gpx", xmlns=_SPACE, version="1.1", creator="Wayfold demo")
    track = ElementTree.SubElement(root, "trk")
    ElementTree.SubElement(track, "name").text = name
    segment = ElementTree.SubElement(track, "trkseg")
    noted = {fix.utc.replace(microsecond=0): fix for fix in fixes}
    for fix in noted.values():
        place = {"lat": f"{fix.place.latitude:.6f}", "lon": f"{fix.place.longitude:.6f}"}
        point = ElementTree.SubElement(segment, "trkpt", place)
        if fix.elevation_m is not None:
            ElementTree.SubElement(point, "ele").text = f"{fix.elevation_m:.1f}"
        ElementTree.SubElement(point, "time").text = f"{fix.utc:%Y-%m-%dT%H:%M:%SZ}"
    ElementTree.indent(root)
    path.parent.mkdir(parents=True, exist_ok=True)
    ElementTree.ElementTree(root).write(path, encoding="utf-8", xml_declaration=True)
