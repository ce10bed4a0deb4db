"""The map of the demo's town: the walk keeps to its streets, and without data there is no map.

The extract of Monaco comes from a package (see tests/maps/osm_files.py; © OpenStreetMap
contributors).
"""

from __future__ import annotations

import shutil
import subprocess
from itertools import pairwise
from pathlib import Path

import gpxpy
import pytest
import shapely

from tests.maps.osm_files import fetch_monaco
from wayfold.base.progress import NoProgress
from wayfold.demo.scenario import read_journey_file
from wayfold.demo.town import add_town
from wayfold.maps.extract import read_extract
from wayfold.maps.projection import Extent
from wayfold.project.files import BookFolder

FASTEST_MS = 2.0
"""Brisk walking is 1.4 to 1.7 m/s (Bohannon 1997, Age and Ageing 26, table 2: up to 2.5 m/s as
fast as one can)."""
OFF_THE_STREET_DEGREES = 2e-6
"""GPX is written to a millionth of a degree, 0.11 m."""


@pytest.fixture
def folder(tmp_path: Path) -> BookFolder:
    folder = BookFolder(tmp_path / "book")
    folder.root.mkdir()
    folder.trip_file.write_bytes(read_journey_file("trip.toml"))
    return folder


def test_the_walk_keeps_to_the_streets_at_a_walkers_pace(
    folder: BookFolder, tmp_path: Path
) -> None:
    (tmp_path / "cache" / "streets").mkdir(parents=True)
    shutil.copy(fetch_monaco(), tmp_path / "cache" / "streets" / "monaco.osm.pbf")
    assert add_town(folder, NoProgress(), tmp_path / "cache") == ()
    (track,) = folder.list_tracks()
    segment = gpxpy.parse(track.read_text("utf-8")).tracks[0].segments[0]
    speeds = [
        a.distance_2d(b) / (b.time - a.time).total_seconds() for a, b in pairwise(segment.points)
    ]
    seconds = sum((b.time - a.time).total_seconds() for a, b in pairwise(segment.points))
    assert segment.length_2d() / seconds > 0.1
    assert sorted(speeds)[len(speeds) * 95 // 100] < FASTEST_MS
    (extract,) = folder.list_extracts()
    plan = read_extract(str(extract), Extent(7.41, 43.72, 7.435, 43.745), progress=NoProgress())
    streets = shapely.union_all([street.line for street in plan.streets])
    points = shapely.points([(p.longitude, p.latitude) for p in segment.points])
    assert shapely.distance(points, streets).max() < OFF_THE_STREET_DEGREES
    assert folder.trip_file.read_text("utf-8").count("[[place]]") == 7


def test_without_street_data_there_is_no_map_and_a_word_why(
    folder: BookFolder, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*words: object, **_: object) -> subprocess.CompletedProcess[str]:
        return subprocess.CompletedProcess(words, 1, "", "no way to the packages\n")

    monkeypatch.setattr(subprocess, "run", refuse)
    before = folder.trip_file.read_bytes()
    (notice,) = add_town(folder, NoProgress(), tmp_path / "cache")
    assert "no way to the packages" in notice
    assert folder.trip_file.read_bytes() == before
    assert not folder.list_tracks() and not folder.list_extracts()
