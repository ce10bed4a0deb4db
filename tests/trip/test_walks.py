"""Walks out of tracks: near the places, at a walker's pace, long enough to show."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from wayfold.base.world import LonLat
from wayfold.trip.tracks import Fix, Track
from wayfold.trip.walks import find_walks

HERE = LonLat(7.42, 43.73)
# One thousandth of a degree of latitude is 111 m (mean meridian degree of WGS84: 111.1 km).
START = datetime(2025, 5, 12, 8, 0, tzinfo=UTC)


def record(seconds: float, *latitudes: float) -> Track:
    fixes = tuple(
        Fix(START + timedelta(seconds=seconds * n), LonLat(7.42, lat))
        for n, lat in enumerate(latitudes)
    )
    return Track("track.gpx", (fixes,))


def test_a_walk_by_the_places_is_found() -> None:
    (walk,) = find_walks([record(120, 43.730, 43.731, 43.732)], [HERE])
    assert [p.latitude for p in walk] == [43.730, 43.731, 43.732]


def test_a_drive_is_no_walk() -> None:
    assert find_walks([record(10, 43.730, 43.731, 43.732)], [HERE]) == ()


def test_a_few_steps_are_no_walk() -> None:
    assert find_walks([record(120, 43.730, 43.7305)], [HERE]) == ()


def test_what_is_far_off_is_left_out() -> None:
    (walk,) = find_walks([record(120, 43.730, 43.731, 43.732, 43.90, 43.91)], [HERE])
    assert max(p.latitude for p in walk) < 43.74


def test_a_line_without_times_is_taken_where_it_lies_near() -> None:
    line = (LonLat(7.42, 43.73), LonLat(7.421, 43.731))
    far = (LonLat(7.42, 43.73), LonLat(8.421, 43.731))
    assert find_walks([Track("line.gpx", lines=(line, far))], [HERE]) == (line,)
