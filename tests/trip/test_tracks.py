"""Tracks: other people's files against another reader, bad input, and the rules of position.

Sample files: source package of gpxpy 1.6.2 (Apache-2.0), ``test_files``, 30 of them; the library
itself is the reference reader. Distances: geographiclib (MIT), the reference of Karney 2013.
"""

from __future__ import annotations

import itertools
from datetime import UTC, datetime, timedelta

import gpxpy
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st

from tests.fetching import fetch_sample
from wayfold.base.errors import UserError
from wayfold.base.world import LonLat
from wayfold.trip.tracks import Fix, Track
from wayfold.trip.tracks_clean import clean_segments, order_fixes
from wayfold.trip.tracks_gpx import parse_gpx, parse_time
from wayfold.trip.tracks_pauses import find_pauses
from wayfold.trip.tracks_place import How, Tracks, interpolate

START = datetime(2025, 5, 3, 8, tzinfo=UTC)
METRE = 1.0 / 111_320.0  # degrees of longitude on the equator


def fix(seconds: float, metres: float = 0.0, hdop: float | None = None) -> Fix:
    return Fix(START + timedelta(seconds=seconds), LonLat(10 + metres * METRE, 0.0), hdop=hdop)


@pytest.fixture(scope="module")
def samples() -> dict[str, bytes]:
    folder = fetch_sample("gpxpy", "1.6.2", "test_files")
    return {path.name: path.read_bytes() for path in sorted(folder.glob("*.gpx"))}


def list_points(data: bytes) -> list[tuple[float, float, datetime | None]]:
    """All points of tracks and routes as gpxpy reads them."""
    gpx = gpxpy.parse(data.decode("utf-8-sig"))
    points = [p for t in gpx.tracks for s in t.segments for p in s.points]
    points += [p for r in gpx.routes for p in r.points]
    return [(p.longitude, p.latitude, p.time and p.time.astimezone(UTC)) for p in points]


def test_all_sample_files_are_read_as_another_reader_reads_them(samples: dict[str, bytes]) -> None:
    assert len(samples) == 30
    for name, data in samples.items():
        track = parse_gpx(data, name)
        theirs = list_points(data)
        timed = {p for p in theirs if p[2] is not None and p[2].year >= 1990}
        ours = {(f.place.longitude, f.place.latitude, f.utc) for f in track.fixes}
        assert ours <= timed, name
        told = {f.rule for f in track.findings}
        if ours != timed:
            assert told & {"tracks.disordered", "tracks.dilute", "tracks.leap"}, name
        if len(timed) < len(theirs):
            assert told & {"tracks.timeless", "tracks.unset", "tracks.mistimed"}, name
        if not theirs:
            assert told == {"tracks.empty"}, name


def test_lengths_of_sample_files(samples: dict[str, bytes]) -> None:
    for name in ("around-visnjan-with-car.gpx", "track_with_speed.gpx", "cerknicko-jezero.gpx"):
        track = parse_gpx(samples[name], name)
        metres = 0.0
        for segment in track.segments:
            for one, other in itertools.pairwise(segment):
                metres += Geodesic.WGS84.Inverse(
                    one.place.latitude, one.place.longitude,
                    other.place.latitude, other.place.longitude,
                )["s12"]  # fmt: skip
        assert track.length_m == pytest.approx(metres, rel=1e-6), name


def gpx(points: str, kind: str = "trk") -> bytes:
    inner = f"<trk><trkseg>{points}</trkseg></trk>" if kind == "trk" else points
    head = '<?xml version="1.0"?><gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1">'
    return f"{head}{inner}</gpx>".encode()


def point(lat: object, lon: object, time: str = "2025-05-03T08:00:00Z") -> str:
    return f'<trkpt lat="{lat}" lon="{lon}"><time>{time}</time></trkpt>'


BOMB = b"""<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY a "aaaaaaaaaa">
<!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;">]>
<gpx>&c;</gpx>"""
OUTSIDE = b"""<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY x SYSTEM "file:///etc/passwd">]>
<gpx><trk><name>&x;</name></trk></gpx>"""
PLAIN_DOCTYPE = b'<?xml version="1.0"?><!DOCTYPE gpx SYSTEM "gpx.dtd"><gpx></gpx>'


@pytest.mark.parametrize("data", [BOMB, OUTSIDE, PLAIN_DOCTYPE])
def test_document_types_and_entities_are_refused(data: bytes) -> None:
    with pytest.raises(UserError, match="document type or entities") as caught:
        parse_gpx(data, "walk.gpx")
    assert caught.value.where == "walk.gpx"
    assert caught.value.remedy


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"", "no whole XML"),
        (b"not xml at all", "no whole XML"),
        (gpx(point(45, 7))[:-20], "no whole XML"),
        (b"<kml></kml>", "no GPX"),
        (b"\xff\xfe\x00garbage", "no whole XML"),
        (b'<?xml version="1.0" encoding="klingon"?><gpx/>', "no whole XML"),
    ],
)
def test_what_is_no_gpx_is_refused(data: bytes, message: str) -> None:
    with pytest.raises(UserError, match=message):
        parse_gpx(data, "x.gpx")


@pytest.mark.parametrize(
    ("points", "rule", "kept"),
    [
        (point(0, 0), "tracks.null", 1),
        (point(120.5, 45), "tracks.swapped", 1),
        (point(200, 45), "tracks.outside", 1),
        (point("nan", 45), "tracks.placeless", 1),
        (point("", ""), "tracks.placeless", 1),
        (point(45, 7, "1901-12-13T20:45:52Z"), "tracks.unset", 1),
        (point(45, 7, "yesterday"), "tracks.mistimed", 1),
        (point(45, 7, "2025-13-45T00:00:00Z"), "tracks.mistimed", 1),
        (point(45, 7, ""), "tracks.timeless", 1),
        (point(45, 7.0001), "tracks.disordered", 1),
    ],
)
def test_a_bad_point_costs_itself_only(points: str, rule: str, kept: int) -> None:
    track = parse_gpx(gpx(point(45, 7) + points), "x.gpx")
    assert len(track.fixes) == kept
    assert rule in {f.rule for f in track.findings}
    assert all(f.where == "x.gpx" for f in track.findings)


@pytest.mark.parametrize(
    ("text", "expected"),
    [  # XML Schema part 2, 3.2.7: forms of dateTime
        ("2002-10-10T12:00:00-05:00", datetime(2002, 10, 10, 17, tzinfo=UTC)),
        ("2002-10-10T17:00:00Z", datetime(2002, 10, 10, 17, tzinfo=UTC)),
        ("2002-10-10T17:00:00", datetime(2002, 10, 10, 17, tzinfo=UTC)),  # UTC by GPX 1.1
        ("2002-10-10T17:00:00.25Z", datetime(2002, 10, 10, 17, 0, 0, 250_000, UTC)),
        ("2016-12-31T23:59:60Z", datetime(2016, 12, 31, 23, 59, 59, tzinfo=UTC)),  # leap second
        ("2002-10-10", None),
    ],
)
def test_times(text: str, expected: datetime | None) -> None:
    assert parse_time(text) == expected


def test_thousands_of_segments() -> None:
    segments = "".join(
        f"<trkseg>{point(45 + n * 1e-5, 7, f'{START + timedelta(seconds=n):%Y-%m-%dT%H:%M:%SZ}')}"
        "</trkseg>"
        for n in range(5000)
    )
    track = parse_gpx(gpx(f"<trk>{segments}</trk>", "raw"), "x.gpx")
    assert (len(track.segments), len(track.fixes)) == (5000, 5000)


def test_a_track_recorded_backwards_is_turned() -> None:
    track, remarks = clean_segments([[fix(30, 30), fix(20, 20), fix(10, 10), fix(0)]])
    assert [f.place.longitude for s in track for f in s] == sorted(
        f.place.longitude for s in track for f in s
    )
    assert [r.rule for r in remarks] == ["reversed"]


def test_one_wrong_time_costs_one_fix() -> None:
    ordered, turned = order_fixes([fix(0), fix(10), fix(9999), fix(20), fix(30)])
    assert [f.utc for f in ordered] == [fix(s).utc for s in (0, 10, 20, 30)]
    assert not turned


@pytest.mark.parametrize("bad", [0, 2, 4])
def test_a_fix_nobody_could_have_reached_goes(bad: int) -> None:
    fixes = [fix(10 * n, 50_000 if n == bad else 10 * n) for n in range(5)]
    segments, remarks = clean_segments([fixes])
    assert sum(len(s) for s in segments) == 4
    assert [r.rule for r in remarks] == ["leap"]


def test_poor_satellite_geometry_goes() -> None:
    segments, remarks = clean_segments([[fix(0, hdop=1.2), fix(10, hdop=25.0), fix(20)]])
    assert [len(s) for s in segments] == [2]
    assert [r.rule for r in remarks] == ["dilute"]


@given(
    st.lists(st.lists(st.tuples(st.integers(0, 5000), st.integers(0, 90_000)), max_size=12)),
)
def test_whatever_comes_times_rise_and_speeds_are_possible(rows: list) -> None:
    runs = [[fix(s, m) for s, m in run] for run in rows]
    segments, _ = clean_segments(runs)
    times = [f.utc for s in segments for f in s]
    assert times == sorted(set(times))
    for segment in segments:
        for one, other in itertools.pairwise(segment):
            away = other.place.longitude - one.place.longitude
            seconds = (other.utc - one.utc).total_seconds()
            assert abs(away) / METRE / seconds <= 300.5


# The rules of position; gap, distance and speed limits as tracks_place states them.
@pytest.mark.parametrize(
    ("gap_s", "way_m", "at_s", "how", "metres"),
    [
        (300, 3000, 150, How.BETWEEN, 1500),
        (301, 3000, 100, How.NEAREST, 0),
        (1800, 199, 600, How.HELD, 0),
        (1800, 201, 1200, How.NEAREST, 201),
        (3600, 100_000, 1800, How.IN_TRANSIT, None),  # 27.8 m/s
        (3600, 89_000, 100, How.NEAREST, 0),  # 24.7 m/s
        (7200, 100, 3600, How.UNKNOWN, None),  # two hours apart, an hour from each
    ],
)
def test_position_between_two_fixes(
    gap_s: float, way_m: float, at_s: float, how: How, metres: float | None
) -> None:
    track = Track("t", ((fix(0), fix(gap_s, way_m)),))
    located = Tracks([track]).locate(START + timedelta(seconds=at_s))
    assert located.how is how
    assert located.doubtful == (how is How.NEAREST)
    if metres is None:
        assert located.place is None
    else:
        assert located.place is not None
        assert located.place.longitude == pytest.approx(10 + metres * METRE, abs=1e-6)


@pytest.mark.parametrize(
    ("at_s", "how"),
    [(-60, How.BEYOND), (-61, How.NEAREST), (-1800, How.NEAREST), (-1801, How.UNKNOWN),
     (60, How.BEYOND), (1801, How.UNKNOWN), (0, How.BETWEEN)],
)  # fmt: skip
def test_position_before_and_after_a_track(at_s: float, how: How) -> None:
    tracks = Tracks([Track("t", ((fix(0),),))])
    assert tracks.locate(START + timedelta(seconds=at_s)).how is how


def test_of_two_receivers_the_surer_one_is_asked() -> None:
    sparse = Track("watch", ((fix(0), fix(1700, 5000)),))
    dense = Track("phone", ((fix(500, 800), fix(520, 820)),))
    assert Tracks([sparse, dense]).locate(START + timedelta(seconds=510)).how is How.BETWEEN
    assert Tracks([]).locate(START).how is How.UNKNOWN


@given(
    st.floats(-180, 180), st.floats(-85, 85), st.floats(0, 360), st.floats(1, 80_000),
    st.floats(0, 1),
)  # fmt: skip
def test_interpolation_against_the_geodesic(
    lon: float, lat: float, azimuth: float, way_m: float, share: float
) -> None:
    line = Geodesic.WGS84.Direct(lat, lon, azimuth, way_m)
    end = LonLat((line["lon2"] + 540) % 360 - 180, line["lat2"])
    true = Geodesic.WGS84.Direct(lat, lon, azimuth, way_m * share)
    got = interpolate(LonLat(lon, lat), end, share)
    off = Geodesic.WGS84.Inverse(true["lat2"], true["lon2"], got.latitude, got.longitude)["s12"]
    assert off <= 0.002 * way_m + 0.01  # a sphere's line in place of the ellipsoid's


def test_over_the_date_line() -> None:
    middle = interpolate(LonLat(179.9, -17.0), LonLat(-179.9, -17.0), 0.5)
    assert abs(middle.longitude) == pytest.approx(180.0)


def walk_with_rest(rest_s: int, step_s: int = 20) -> list[Fix]:
    """Ten minutes' walk at 1.3 m/s, a rest (a fix wanders by 5 m), ten minutes' walk."""
    fixes = []
    for second in range(0, 1200 + rest_s, step_s):
        walked_s = second - min(max(second - 600, 0), rest_s)
        fixes.append(fix(second, 1.3 * walked_s + 5 * (second // step_s % 2)))
    return fixes


@pytest.mark.parametrize("step_s", [1, 20, 45])
def test_a_pause_is_found_by_its_middle(step_s: int) -> None:
    (pause,) = find_pauses(walk_with_rest(240, step_s))
    assert abs((pause.first + (pause.last - pause.first) / 2 - START).total_seconds() - 720) <= 30


def test_a_walk_has_no_pause_nor_has_a_meal_or_a_silence() -> None:
    assert find_pauses([]) == ()
    assert find_pauses(walk_with_rest(0)) == ()
    # A rest of an hour does not leave a pause at its end or beginning either.
    assert find_pauses(walk_with_rest(3600)) == ()
    # Two fixes at one spot with half an hour of no recording between: nobody knows what was there.
    assert find_pauses([fix(0), fix(60, 80), fix(1860, 80), fix(1920, 160)]) == ()
