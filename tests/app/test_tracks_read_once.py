"""Recorded tracks are read when they come or change, not with every look at the journey."""

from __future__ import annotations

from pathlib import Path

from wayfold.app.evidence import read_tracks
from wayfold.base.memory import Memory
from wayfold.project.files import BookFolder

TRACK = """<gpx version="1.1" creator="tests" xmlns="http://www.topografix.com/GPX/1/1"><trk>
<name>{name}</name><trkseg>
<trkpt lat="38.7223" lon="-9.1393"><time>2025-05-12T09:30:00Z</time></trkpt>
<trkpt lat="38.7300" lon="-9.1400"><time>2025-05-12T09:40:00Z</time></trkpt>
</trkseg></trk></gpx>"""


def test_only_a_track_that_changed_is_read_again(tmp_path: Path) -> None:
    tracks = tmp_path / "tracks"
    tracks.mkdir()
    for name in ("first", "second"):
        (tracks / f"{name}.gpx").write_text(TRACK.format(name=name), encoding="utf-8")
    folder, memory = BookFolder(tmp_path), Memory()
    first, second = read_tracks(folder, memory)
    (tracks / "second.gpx").write_text(TRACK.format(name="the other"), encoding="utf-8")
    again, other = read_tracks(folder, memory)
    assert again is first
    assert (second.name, other.name) == ("second", "the other")
    (tracks / "first.gpx").unlink()
    (only,) = read_tracks(folder, memory)
    assert only is other
    assert read_tracks(folder, memory) == read_tracks(folder)
