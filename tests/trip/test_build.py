"""Small timelines, each worked out by hand."""

from datetime import date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.findings import Severity
from wayfold.base.world import LonLat
from wayfold.photos.model import Camera, CaptureTime, Photo, SizePx
from wayfold.trip.build import build_trip
from wayfold.trip.gazetteer import Gazetteer, Town


def list_stops(trip):
    return [stop.name for stop in trip.stops]


def name_stops(trip):
    """Photo id -> name of its stop."""
    return {m.photo: None if m.stop is None else trip.stops[m.stop].name for m in trip.moments}


def rules(trip):
    return {f.rule for f in trip.findings}


def test_moments_go_by_local_time_and_undated_last_by_path(timeline, gazetteer):
    photos = timeline("""
        z ?                A
        c 2025-05-03T10:00 A
        a 2025-05-03T12:00 A
        b 2025-05-03T10:00 A
        y ?                A
    """)
    trip = build_trip(photos, gazetteer)
    assert [m.photo for m in trip.moments] == ["b", "c", "a", "y", "z"]
    assert trip.undated == ("y", "z")
    assert "trip.undated" in rules(trip)


def test_bodies_are_merged_by_wall_time_whatever_their_offsets(gazetteer):
    def photo(name: str, hour: int, offset: int | None, body: str) -> Photo:
        taken = CaptureTime(datetime(2025, 5, 3, hour), offset)
        camera = Camera("Maker", body)
        return Photo(name, name, f"/{name}", SizePx(9, 6), taken=taken, camera=camera)

    photos = [photo("phone", 11, 120, "phone"), photo("late", 12, None, "reflex")]
    photos.append(photo("early", 10, -300, "other phone"))
    trip = build_trip(photos, gazetteer)
    assert [m.photo for m in trip.moments] == ["early", "phone", "late"]
    assert trip.moments[1].local == datetime(2025, 5, 3, 11)


def test_days_end_at_local_midnight_and_count_by_the_calendar(timeline, gazetteer):
    photos = timeline("""
        a 2025-02-28T23:59:59 A
        b 2025-03-01T00:00:00 A
        c 2025-03-03T12:00:00 A
    """)
    trip = build_trip(photos, gazetteer)
    # 2025 is no leap year: 1 March follows 28 February.
    assert [(d.number, d.date, d.photos) for d in trip.days] == [
        (1, date(2025, 2, 28), ("a",)),
        (2, date(2025, 3, 1), ("b",)),
        (4, date(2025, 3, 3), ("c",)),
    ]


def test_stops_follow_the_way_and_a_place_seen_again_is_a_second_stop(timeline, gazetteer):
    photos = timeline("""
        a 2025-05-03T10:00 A
        b 2025-05-03T11:00 A
        c 2025-05-04T10:00 F
        d 2025-05-06T10:00 F
        e 2025-05-07T10:00 A
    """)
    trip = build_trip(photos, gazetteer)
    assert [(s.name, s.country, s.country_name, s.first.day, s.last.day) for s in trip.stops] == [
        ("Alba", "IT", "Italy", 3, 3),
        ("Far", "CH", "Switzerland", 4, 6),
        ("Alba", "IT", "Italy", 7, 7),
    ]
    assert [m.stop for m in trip.moments] == [0, 0, 1, 1, 2]


@pytest.mark.parametrize(
    ("away", "stops"),
    [
        ("N", ["Alba"]),
        ("NN", ["Alba"]),
        ("NNN", ["Alba", "Near", "Alba"]),
        ("F", ["Alba", "Far", "Alba"]),
    ],
    ids=["one near", "two near", "three near", "one far"],
)
def test_small_excursions_join_the_stay(timeline, gazetteer, away, stops):
    towns = ["A", "A", *away, "A", "A"]
    lines = "\n".join(f"p{i} 2025-05-03T{10 + i}:00 {town}" for i, town in enumerate(towns))
    assert list_stops(build_trip(timeline(lines), gazetteer)) == stops


def test_an_excursion_at_the_end_of_the_journey_is_a_stop(timeline, gazetteer):
    photos = timeline("""
        a 2025-05-03T10:00 A
        b 2025-05-03T11:00 A
        c 2025-05-03T12:00 N
    """)
    assert list_stops(build_trip(photos, gazetteer)) == ["Alba", "Near"]


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        ("a 2025-05-03T10:00 A\n x 2025-05-03T11:00 -\n b 2025-05-03T15:00 F", "Alba"),
        ("a 2025-05-03T10:00 A\n x 2025-05-03T14:00 -\n b 2025-05-03T15:00 F", "Far"),
        ("a 2025-05-03T10:00 A\n x 2025-05-03T12:30 -\n b 2025-05-03T15:00 F", "Alba"),
        ("a 2025-05-03T10:00 A\n x 2025-05-03T16:00 -", "Alba"),
        ("a 2025-05-03T10:00 A\n x 2025-05-03T16:01 -", None),
        ("a 2025-05-03T23:00 A\n x 2025-05-04T00:30 -\n b 2025-05-04T06:00 F", "Far"),
        ("a 2025-05-03T23:00 A\n x 2025-05-04T12:00 -\n b 2025-05-05T10:00 A", "Alba"),
        ("a 2025-05-03T10:00 A\n x 2025-05-04T12:00 -\n b 2025-05-05T10:00 A", None),
    ],
    ids=[
        "the nearer before",
        "the nearer after",
        "equally near: the earlier",
        "six hours",
        "a minute more",
        "same day only",
        "between two of one stop",
        "two days between",
    ],
)
def test_a_picture_without_place_borrows_one(timeline, gazetteer, lines, expected):
    assert name_stops(build_trip(timeline(lines), gazetteer))["x"] == expected


def test_an_undated_picture_goes_to_the_only_stop_at_its_town(timeline, gazetteer):
    photos = timeline("""
        a 2025-05-03T10:00 A
        b 2025-05-04T10:00 F
        c 2025-05-05T10:00 A
        u ?                F
        v ?                A
    """)
    stops = name_stops(build_trip(photos, gazetteer))
    assert stops["u"] == "Far"
    assert stops["v"] is None


def test_no_photographs(gazetteer):
    trip = build_trip([], gazetteer)
    assert (trip.moments, trip.days, trip.stops) == ((), (), ())
    assert rules(trip) == {"trip.empty"}


def test_one_photograph(timeline, gazetteer):
    trip = build_trip(timeline("a 2025-05-03T10:00 A"), gazetteer)
    assert (len(trip.moments), len(trip.days), list_stops(trip)) == (1, 1, ["Alba"])
    assert rules(trip) == {"trip.single", "trip.clock-unknown"}


def test_nothing_but_names(timeline, gazetteer):
    trip = build_trip(timeline("b ? -\n a ? -\n c ? -"), gazetteer)
    assert [m.photo for m in trip.moments] == ["a", "b", "c"]
    assert (trip.days, trip.stops) == ((), ())
    (undated,) = [f for f in trip.findings if f.rule == "trip.undated"]
    assert undated.severity is Severity.WARN
    assert undated.message.startswith("None of your 3 photographs tells its time")
    assert undated.remedy


def test_places_without_times_make_no_stops(timeline, gazetteer):
    trip = build_trip(timeline("a ? A\n b ? F"), gazetteer)
    assert trip.stops == ()
    assert rules(trip) == {"trip.undated"}


def test_times_without_places(timeline, gazetteer):
    trip = build_trip(timeline("a 2025-05-03T10:00 -\n b 2025-05-04T10:00 -"), gazetteer)
    assert len(trip.days) == 2
    assert rules(trip) == {"trip.placeless", "trip.clock-unknown"}


def test_far_at_sea(gazetteer):
    sea = Photo(
        "sea",
        "c",
        "/sea.jpg",
        SizePx(9, 6),
        taken=CaptureTime(datetime(2025, 5, 3)),
        place=LonLat(-40.0, 40.0),
    )
    trip = build_trip([sea], gazetteer)
    assert trip.moments[0].stop is None
    assert "trip.lost" in rules(trip)


def test_a_clock_of_another_year_is_pointed_out(timeline, gazetteer):
    trip = build_trip(timeline("a 2000-01-01T00:00 A\n b 2025-05-04T10:00 A"), gazetteer)
    (pause,) = [f for f in trip.findings if f.rule == "trip.pause"]
    # From 1 January 2000 to 4 May 2025: 25 years with 7 leap days, and 123 days.
    assert f"{25 * 365 + 7 + 123} days" in pause.message


def test_countries_in_the_books_language(timeline, gazetteer):
    trip = build_trip(timeline("a 2025-05-03T10:00 F"), gazetteer, language="de")
    assert trip.stops[0].country_name == "Schweiz"


SMALL = Gazetteer(
    [
        Town("Alba", "IT", LonLat(8.0, 45.0), 30_000),
        Town("Near", "IT", LonLat(8.0, 45.2), 5_000),
        Town("Far", "CH", LonLat(8.0, 46.0), 50_000),
    ]
)
minutes = st.none() | st.integers(0, 6 * 24 * 60)
spots = st.none() | st.sampled_from([SMALL.town(i).place for i in range(3)] + [LonLat(-40, 40)])


@st.composite
def photographs(draw):
    rows = draw(st.lists(st.tuples(minutes, spots), max_size=25))
    photos = []
    for number, (minute, spot) in enumerate(rows):
        local = None if minute is None else datetime(2025, 5, 3) + timedelta(minutes=minute)
        taken = None if local is None else CaptureTime(local)
        size = SizePx(6, 4)
        photos.append(Photo(str(number), "", f"/{number}", size, taken=taken, place=spot))
    return draw(st.permutations(photos))


@given(photographs())
def test_whatever_comes_the_trip_holds_together(photos):
    trip = build_trip(photos, SMALL)
    assert sorted(m.photo for m in trip.moments) == sorted(p.id for p in photos)
    times = [m.local for m in trip.moments if m.local]
    assert times == sorted(times)
    assert all(m.local for m in trip.moments[: len(times)])
    assert [p for day in trip.days for p in day.photos] == [
        m.photo for m in trip.moments if m.local
    ]
    stops = [m.stop for m in trip.moments if m.local and m.stop is not None]
    assert stops == sorted(stops)
    assert set(stops) == set(range(len(trip.stops)))
    for one, other in zip(trip.stops, trip.stops[1:], strict=False):
        assert one.name != other.name
        assert one.last <= other.first
    assert trip == build_trip(sorted(photos, key=lambda p: p.content + p.path), SMALL)
