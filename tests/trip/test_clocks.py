"""Clocks: single rules worked out by hand, and other people's pictures against their receiver.

Pictures: source package of geovisio 2.15.1, ``tests/data`` (action cameras, telephones, cameras).
"""

from __future__ import annotations

import shutil
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from tests.fetching import fetch_sample
from wayfold.base.cache import NoCache
from wayfold.base.errors import UserError
from wayfold.base.progress import NoProgress
from wayfold.base.world import LonLat
from wayfold.photos.crew import Crew
from wayfold.photos.exif import read_gps_time
from wayfold.photos.model import Camera, CaptureTime, Photo, SizePx
from wayfold.photos.read import read_photographs
from wayfold.trip.build import build_trip
from wayfold.trip.clocks.bodies import list_bodies
from wayfold.trip.clocks.chosen import read_clock_line
from wayfold.trip.clocks.evidence import Evidence
from wayfold.trip.clocks.model import (
    Anchor,
    ClockChoice,
    ClockPicture,
    Hint,
    Kind,
    ScenePair,
    State,
)
from wayfold.trip.clocks.read import Clocks, read_clocks
from wayfold.trip.clocks.rhythm import compare_rhythms
from wayfold.trip.clocks.spans import find_drift, split_zone
from wayfold.trip.clocks.words import tell_reading
from wayfold.trip.gazetteer import load_gazetteer
from wayfold.trip.tracks import Fix, Track

MADRID, TOKYO = LonLat(-3.7, 40.42), LonLat(139.7, 35.68)
NOON = datetime(2025, 5, 3, 12, tzinfo=UTC)
REFLEX, PHONE = Camera("Maker", "Reflex", "77"), Camera("Phone", "P1")


def shot(
    name: str, utc: datetime, ahead_s: float, camera: Camera = REFLEX, **more: object
) -> Photo:
    local = (utc + timedelta(seconds=ahead_s)).replace(tzinfo=None)
    offset = more.pop("offset", None)
    taken = CaptureTime(local, offset)  # type: ignore[arg-type]
    return Photo(name, name, f"/{name}.jpg", SizePx(6, 4), taken=taken, camera=camera, **more)  # type: ignore[arg-type]


def phone(name: str, utc: datetime, place: LonLat = MADRID, minutes: int = 120) -> Photo:
    return shot(name, utc, minutes * 60, PHONE, place=place, offset=minutes)


def find(clocks: Clocks, key: str):
    return next(r for r in clocks.readings if r.body.key == key)


def party(ahead_s: float, count: int = 6) -> tuple[list[Photo], Evidence]:
    """A telephone and a camera that took the same scenes, an hour apart each."""
    photos: list[Photo] = []
    pairs = []
    for n in range(count):
        at = NOON + timedelta(hours=n)
        photos += [phone(f"p{n}", at), shot(f"c{n}", at + timedelta(seconds=5), ahead_s)]
        pairs.append(ScenePair(f"c{n}", f"p{n}"))
    return photos, Evidence(pairs=tuple(pairs))


def test_a_camera_is_read_from_scenes_it_shares_with_a_telephone() -> None:
    clocks = read_clocks(*party(7200 + 125))
    reading = find(clocks, "Maker Reflex 77")
    assert reading.state is State.KNOWN
    (span,) = reading.spans
    assert (span.zone_minutes, round(span.slip_s)) == (120, 130)  # the pictures lie 5 s apart
    assert clocks.instants["c0"] == NOON + timedelta(seconds=5 - 5)
    said = "\n".join(tell_reading(reading))
    assert "+02:00, 2 min 10 s fast" in said
    assert "6 of 6 agree" in said


@pytest.mark.parametrize("shift", [0, 3600, -86_400 * 400, 12_345])
def test_a_constant_added_to_all_camera_times_changes_only_the_offset(shift: int) -> None:
    photos, evidence = party(7200)
    moved = [
        replace(p, taken=CaptureTime(p.taken.local + timedelta(seconds=shift)))
        if p.camera is REFLEX and p.taken
        else p
        for p in photos
    ]
    before, after = read_clocks(photos, evidence), read_clocks(moved, evidence)
    assert before.instants == after.instants
    one, other = (find(c, "Maker Reflex 77").spans[0] for c in (before, after))
    assert other.ahead_s - one.ahead_s == pytest.approx(shift)
    assert other.error_s == pytest.approx(one.error_s)
    assert other.drift_s_day == one.drift_s_day


def test_sign_of_the_offset_tag() -> None:
    # EXIF 2.31, OffsetTimeOriginal: "+02:00" is local time two hours ahead of UTC.
    clocks = read_clocks([phone("p", NOON, minutes=120)])
    assert clocks.instants["p"] == NOON
    assert find(clocks, "Phone P1 P*").state is State.OWN


def test_without_evidence_a_clock_is_not_known_and_left_alone() -> None:
    photos = [shot("a", NOON, 0), shot("b", NOON + timedelta(hours=1), 0)]
    reading = find(read_clocks(photos), "Maker Reflex 77")
    assert (reading.state, reading.spans) == (State.UNKNOWN, ())
    assert "not known" in reading.words
    trip = build_trip(photos, load_gazetteer())
    assert [m.local for m in trip.moments] == [p.taken.local for p in photos if p.taken]
    assert all(m.utc is None for m in trip.moments)
    assert "trip.clock-unknown" in {f.rule for f in trip.findings}


def test_evidence_that_contradicts_itself_is_none() -> None:
    photos, _ = party(7200)
    # Three scenes say one thing, three another.
    pairs = [ScenePair(f"c{n}", f"p{n}") for n in range(3)]
    pairs += [ScenePair(f"c{n}", f"p{n - 1}") for n in range(3, 6)]
    reading = find(read_clocks(photos, Evidence(pairs=tuple(pairs))), "Maker Reflex 77")
    assert reading.state is State.UNKNOWN
    assert "contradict each other" in reading.words
    assert [(row.kind, row.pieces) for row in reading.evidence] == [(Kind.SCENE, 6)]


def test_one_receivers_time_alone_is_too_little_but_the_local_hour_backs_it() -> None:
    lone = shot("a", NOON, 5000, gps_utc=NOON)
    assert find(read_clocks([lone]), "Maker Reflex 77").state is State.UNKNOWN
    local = shot("a", NOON, 7200 + 30, gps_utc=NOON, place=MADRID)
    clocks = read_clocks([local])
    assert find(clocks, "Maker Reflex 77").state is State.KNOWN
    assert clocks.instants["a"] == NOON


def test_a_receiver_that_repeats_its_last_fix() -> None:
    """Four pictures over an hour with one stamp are one piece, told by the first of them."""
    later = [
        shot(f"b{n}", NOON + timedelta(minutes=10 * n), 3600, gps_utc=NOON) for n in range(1, 5)
    ]
    early = shot("b0", NOON, 3600, gps_utc=NOON)
    other = shot("c", NOON + timedelta(hours=3), 3600, gps_utc=NOON + timedelta(hours=3))
    clocks = read_clocks([*later, early, other])
    assert find(clocks, "Maker Reflex 77").spans[0].ahead_s == pytest.approx(3600)


def test_a_clock_in_a_picture_is_enough() -> None:
    photos = [shot("a", NOON, 4000, place=MADRID), shot("b", NOON + timedelta(days=2), 4000)]
    seen = ClockPicture("a", datetime(2025, 5, 3, 14, 0, 10))  # 12:00:10 UTC in Madrid's summer
    clocks = read_clocks(photos, Evidence(clock_pictures=(seen,)))
    assert find(clocks, "Maker Reflex 77").spans[0].ahead_s == pytest.approx(3990)
    minute = ClockPicture("a", datetime(2025, 5, 3, 14, 0))
    clocks = read_clocks(photos, Evidence(clock_pictures=(minute,)))
    # Some second of that minute: the middle is 30 s from either end.
    assert find(clocks, "Maker Reflex 77").spans[0].ahead_s == pytest.approx(4000 - 30)
    assert find(clocks, "Maker Reflex 77").spans[0].error_s >= 30


def test_a_clock_set_on_the_way() -> None:
    """Madrid to Tokyo (seven hours in summer), and the camera set to Tokyo's time there."""
    photos: list[Photo] = []
    pairs = []
    for n in range(10):
        abroad = n >= 5
        at = NOON + timedelta(hours=n, days=2 if abroad else 0)
        place, minutes = (TOKYO, 540) if abroad else (MADRID, 120)
        photos += [phone(f"p{n}", at, place, minutes), shot(f"c{n}", at, minutes * 60 + 40)]
        pairs.append(ScenePair(f"c{n}", f"p{n}"))
    evidence = Evidence(pairs=tuple(pairs))
    clocks = read_clocks(photos, evidence)
    spans = find(clocks, "Maker Reflex 77").spans
    assert [(s.zone_minutes, round(s.slip_s)) for s in spans] == [(120, 40), (540, 40)]
    assert spans[1].since == photos[11].taken.local  # the first picture in Tokyo
    assert [clocks.instants[f"c{n}"] for n in range(10)] == [
        clocks.instants[f"p{n}"] for n in range(10)
    ]
    # With nothing to tell by in Tokyo, that part is not known, and is said not to be.
    half = replace(evidence, pairs=tuple(pairs[:5]))
    clocks = read_clocks(photos, half)
    assert "c4" in clocks.instants
    assert not {f"c{n}" for n in range(5, 10)} & clocks.instants.keys()
    assert "not known" in find(clocks, "Maker Reflex 77").words


def test_two_cameras_do_not_vouch_for_each_other() -> None:
    other = Camera("Maker", "Second", "88")
    photos = [shot(f"a{n}", NOON + timedelta(hours=n), 0) for n in range(6)]
    photos += [shot(f"b{n}", NOON + timedelta(hours=n), 0, other) for n in range(6)]
    pairs = tuple(ScenePair(f"a{n}", f"b{n}") for n in range(6))
    clocks = read_clocks(photos, Evidence(pairs=pairs))
    assert {r.state for r in clocks.readings} == {State.UNKNOWN}


def test_a_camera_known_from_the_telephone_bears_witness_for_the_next() -> None:
    photos, evidence = party(0)
    other = Camera("Maker", "Second", "88")
    photos += [shot(f"d{n}", NOON + timedelta(hours=n), -900, other) for n in range(6)]
    pairs = (*evidence.pairs, *(ScenePair(f"d{n}", f"c{n}") for n in range(6)))
    clocks = read_clocks(photos, Evidence(pairs=pairs))
    assert find(clocks, "Maker Second 88").state is State.KNOWN
    assert abs(clocks.instants["d0"] - NOON) <= timedelta(seconds=10)


def test_places_on_a_track() -> None:
    fixes = tuple(
        Fix(NOON + timedelta(seconds=30 * n), LonLat(-3.7 + n * 0.0005, 40.42)) for n in range(400)
    )
    photos = [
        shot(f"c{n}", fixes[n].utc, 3600 + 77, place=fixes[n].place) for n in (40, 110, 205, 333)
    ]
    clocks = read_clocks(photos, Evidence(tracks=(Track("walk", (fixes,)),)))
    span = find(clocks, "Maker Reflex 77").spans[0]
    assert span.ahead_s == pytest.approx(3677, abs=30)
    assert span.error_s <= 60


def test_an_event_of_the_calendar_alone_does_not_tell_the_minute() -> None:
    photos = [shot("a", NOON, 3600, place=MADRID)]
    dinner = Anchor(NOON - timedelta(hours=1), NOON + timedelta(hours=2), MADRID, "dinner")
    reading = find(read_clocks(photos, Evidence(anchors=(dinner,))), "Maker Reflex 77")
    assert reading.state is State.UNKNOWN
    assert [row.kind for row in reading.evidence] == [Kind.EVENT]


def test_rhythm_finds_the_offset_of_two_busy_cameras() -> None:
    import random

    rng = random.Random(5)
    moments = [datetime(2025, 5, 3, 7) + timedelta(days=d, seconds=rng.uniform(0, 40_000))
               for d in range(6) for _ in range(20)]  # fmt: skip
    one = [m + timedelta(seconds=5400 + rng.gauss(0, 20)) for m in moments]
    found = compare_rhythms(one, moments)
    assert found is not None
    assert found.ahead_s == pytest.approx(5400, abs=30)
    stranger = [datetime(2025, 5, 3, 7) + timedelta(days=d, seconds=rng.uniform(0, 40_000))
                for d in range(6) for _ in range(20)]  # fmt: skip
    assert compare_rhythms(stranger, moments) is None


def drifting(slope: float, days: int, step: int = 1) -> list[Hint]:
    return [
        Hint(Kind.SCENE, NOON.replace(tzinfo=None) + timedelta(days=d), v, v, 1.0, "")
        for d in range(0, days, step)
        for v in [slope * d + (3 if d % 2 else -3)]
    ]


@pytest.mark.parametrize(
    ("slope", "days", "expected"),
    [(4.0, 14, 4.0), (-3.0, 14, -3.0), (0.3, 14, 0.0), (4.0, 7, 0.0), (30.0, 14, 0.0)],
    ids=["gains", "loses", "too little", "too short", "no quartz does that"],
)
def test_drift_only_on_strong_evidence(slope: float, days: int, expected: float) -> None:
    assert find_drift(drifting(slope, days)) == pytest.approx(expected, abs=0.5)


@pytest.mark.parametrize(
    ("ahead_s", "zone", "slip_s"),
    [(7320, 120, 120), (-12_600, -210, 0), (20_700 - 40, 345, -40), (7200 + 590, 120, 590),
     (7200 + 800, 135, -100), (86_400 * 300, None, 86_400 * 300)],
)  # fmt: skip
def test_zone_and_slip(ahead_s: float, zone: int | None, slip_s: float) -> None:
    assert split_zone(ahead_s) == (zone, slip_s)


def test_bodies_by_serial_or_by_letters() -> None:
    plain = Camera("Maker", "Maker Reflex")
    photos = [
        replace(shot("x", NOON, 0), path="/a/IMG_1.JPG", camera=Camera("Maker", "Reflex", "1")),
        replace(shot("y", NOON, 0), path="/a/IMG_2.JPG", camera=Camera("Maker", "Reflex", "2")),
        replace(shot("z", NOON, 0), path="/a/DSC_3.JPG", camera=plain),
        replace(shot("w", NOON, 0), path="/a/dsc_4.JPG", camera=plain),
        replace(shot("v", NOON, 0), path="/a/_5.JPG", camera=None),
    ]
    assert [(b.key, len(b.photos)) for b in list_bodies(photos)] == [
        ("Maker Reflex 1", 1),
        ("Maker Reflex 2", 1),
        ("Maker Reflex DSC*", 2),
        ("unnamed camera #*", 1),
    ]


@pytest.mark.parametrize(
    ("line", "choice"),
    [
        ("+02:00", ClockChoice("b", 120.0)),
        ("-03:30, 2m10s fast", ClockChoice("b", -210.0, slip_s=130.0)),
        ("UTC, 1h slow", ClockChoice("b", 0.0, slip_s=-3600.0)),
        ("UTC+5:45", ClockChoice("b", 345.0)),
        ("Europe/Madrid, 90 s slow", ClockChoice("b", zone="Europe/Madrid", slip_s=-90.0)),
        ("local", ClockChoice("b", local=True)),
        ("own, 45s fast", ClockChoice("b", slip_s=45.0)),
    ],
)
def test_a_line_of_the_persons(line: str, choice: ClockChoice) -> None:
    assert read_clock_line("b", line) == choice


@pytest.mark.parametrize(
    "line", ["", "2", "+25:00", "+02:75", "Atlantis", "+02:00, fast", "+02:00, 3x"]
)
def test_a_line_that_says_nothing_is_refused(line: str) -> None:
    with pytest.raises(UserError) as caught:
        read_clock_line("b", line, "trip.toml: clocks")
    assert caught.value.where == "trip.toml: clocks"
    assert "+02:00" in caught.value.remedy


def test_the_persons_word_wins_and_the_evidence_is_still_shown() -> None:
    photos, evidence = party(7200)
    chosen = replace(evidence, choices=(ClockChoice("Maker Reflex 77", 60.0, slip_s=30.0),))
    clocks = read_clocks(photos, chosen)
    reading = find(clocks, "Maker Reflex 77")
    assert reading.state is State.CHOSEN
    assert clocks.instants["c0"] == NOON + timedelta(seconds=5 + 7200 - 3600 - 30)
    assert [row.pieces for row in reading.evidence] == [6]


def test_a_zone_chosen_by_name_follows_its_summer_time() -> None:
    night = datetime(2025, 3, 29, 12, tzinfo=UTC)
    photos = [shot("a", night, 3600), shot("b", night + timedelta(days=1), 7200)]
    choice = ClockChoice("Maker Reflex 77", zone="Europe/Madrid")
    clocks = read_clocks(photos, Evidence(choices=(choice,)))
    assert clocks.instants == {"a": night, "b": night + timedelta(days=1)}


def test_captions_tell_the_local_time_of_the_place() -> None:
    """A camera left at Madrid's time: at 12:00 UTC it shows 14:00, and Tokyo has 21:00."""
    photos = [shot(f"c{n}", NOON + timedelta(hours=n), 7200, gps_utc=NOON + timedelta(hours=n),
                   place=TOKYO) for n in range(3)]  # fmt: skip
    trip = build_trip(photos, load_gazetteer())
    assert [m.local for m in trip.moments] == [datetime(2025, 5, 3, 21 + n) for n in range(3)]
    assert {m.zone for m in trip.moments} == {"Asia/Tokyo"}
    assert "trip.clock" in {f.rule for f in trip.findings}


def test_a_track_gives_the_place_to_a_camera_without_receiver() -> None:
    photos, evidence = party(7200)
    walk = tuple(Fix(NOON + timedelta(minutes=2 * n), MADRID) for n in range(200))
    trip = build_trip(
        photos, load_gazetteer(), evidence=replace(evidence, tracks=(Track("t", (walk,)),))
    )
    assert all(m.place == MADRID and not m.doubtful for m in trip.moments)


def test_eastwards_over_the_date_line_a_date_is_lived_twice() -> None:
    fiji, honolulu = LonLat(177.44, -17.76), LonLat(-157.86, 21.31)
    photos = [
        phone("a", datetime(2025, 5, 4, 22, tzinfo=UTC), fiji, 720),  # 5 May, 10:00
        phone("b", datetime(2025, 5, 5, 13, tzinfo=UTC), fiji, 720),  # 6 May, 1:00
        phone("c", datetime(2025, 5, 5, 21, tzinfo=UTC), honolulu, -600),  # 5 May, 11:00
        phone("d", datetime(2025, 5, 6, 21, tzinfo=UTC), honolulu, -600),  # 6 May, 11:00
    ]
    trip = build_trip(photos, load_gazetteer())
    assert [m.photo for m in trip.moments] == ["a", "b", "c", "d"]
    assert [(d.number, d.date.day) for d in trip.days] == [(1, 5), (2, 6), (3, 5), (4, 6)]


def test_a_journey_nobody_could_have_made_is_found() -> None:
    photos = [phone("a", NOON), phone("b", NOON + timedelta(minutes=10), TOKYO, 540)]
    assert "trip.leap" in {f.rule for f in build_trip(photos, load_gazetteer()).findings}


@pytest.mark.parametrize(
    ("gps", "expected"),
    [  # EXIF 2.32, 4.6.7: GPSTimeStamp three rationals, GPSDateStamp "YYYY:MM:DD"
        ({7: (9.0, 16.0, 54.0), 29: "2021:07:29"}, datetime(2021, 7, 29, 9, 16, 54, tzinfo=UTC)),
        ({7: (9.0, 16.0, 54.0), 29: "2021:07:29", 9: "V"}, None),  # GPSStatus: void
        ({7: (9.0, 16.0, 54.0)}, None),
        ({29: "2021:07:29"}, None),
        ({7: (25.0, 0.0, 0.0), 29: "2021:07:29"}, None),
        ({7: (0.0, 0.0, 0.0), 29: "1980:01:06"}, None),  # the receiver's own beginning of time
        ({7: ("x", 0.0, 0.0), 29: "2021:07:29"}, None),
        ({7: 5, 29: "2021:07:29"}, None),
    ],
)
def test_receivers_time(gps: dict, expected: datetime | None) -> None:
    assert read_gps_time(gps) == expected


def test_other_peoples_pictures_against_their_own_receiver(tmp_path: Path) -> None:
    """Every picture with a receiver's time is dated within a minute of it, and placed there.

    One receiver had repeated a fix that was 5 min 22 s old (``d1.jpg``): there the file's own
    zone holds, and the stamp lies before the picture, as an old fix must.
    """
    for picture in fetch_sample("geovisio", "2.15.1", "tests/data").glob("*.jpg"):
        shutil.copy(picture, tmp_path)
    catalogue = read_photographs([tmp_path], {}, NoCache(), NoProgress(), Crew(0))
    stamped = {p.id: p for p in catalogue.photos if p.gps_utc}
    assert len(stamped) >= 14
    trip = build_trip(catalogue.photos, load_gazetteer())
    moments = {m.photo: m for m in trip.moments}
    for key, photo in stamped.items():
        moment = moments[key]
        assert moment.utc is not None, photo.path
        assert photo.gps_utc is not None
        old = 330 if photo.path.endswith("/d1.jpg") else 60
        assert timedelta(seconds=-60) <= moment.utc - photo.gps_utc <= timedelta(seconds=old)
        assert moment.place == photo.place
        assert moment.zone in ("Europe/Paris", "Europe/London")
        # France and England in the months these were taken: from their legal times
        hours = {"Europe/Paris": 2, "Europe/London": 1}[moment.zone] - (moment.utc.month == 12)
        assert moment.local == (moment.utc + timedelta(hours=hours)).replace(tzinfo=None)
    without = [
        p for p in catalogue.photos if p.taken and not p.gps_utc and not p.taken.offset_minutes
    ]
    assert without
    for photo in without:  # nothing tells, so nothing is changed
        assert moments[photo.id].utc is None
        assert photo.taken is not None
        assert moments[photo.id].local == photo.taken.local
