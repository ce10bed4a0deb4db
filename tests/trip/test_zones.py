"""Zones of places and wall times, on hard cases that are public knowledge."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo, available_timezones

import airportsdata
import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.errors import UserError
from wayfold.base.world import LonLat
from wayfold.trip.zones import (
    find_zone,
    find_zones,
    instant_of,
    is_repeated,
    is_skipped,
    load_zone,
    offset_minutes,
    wall_time,
)
from wayfold.trip.zones_timeline import trace_zones


def utc(*parts: int) -> datetime:
    return datetime(*parts, tzinfo=UTC)  # type: ignore[misc]


@pytest.mark.parametrize(
    ("zone", "at", "minutes"),
    [  # Legal times, as the tz database 2026 records them in the sources it cites
        ("Asia/Kathmandu", utc(2025, 5, 1), 345),
        ("Asia/Kolkata", utc(2025, 5, 1), 330),
        ("America/St_Johns", utc(2025, 1, 1), -210),
        ("America/St_Johns", utc(2025, 7, 1), -150),
        ("Pacific/Chatham", utc(2025, 1, 1), 825),
        ("Pacific/Chatham", utc(2025, 7, 1), 765),
        ("Australia/Eucla", utc(2025, 1, 1), 525),
        ("Australia/Lord_Howe", utc(2025, 1, 1), 660),  # puts its clocks on by half an hour
        ("Australia/Lord_Howe", utc(2025, 7, 1), 630),
        ("Australia/Adelaide", utc(2025, 1, 1), 630),
        ("Pacific/Marquesas", utc(2025, 1, 1), -570),
        ("Pacific/Kiritimati", utc(2025, 1, 1), 840),
        ("Asia/Pyongyang", utc(2016, 1, 1), 510),  # half an hour back from August 2015 to May 2018
        ("America/Caracas", utc(2010, 1, 1), -270),  # December 2007 to May 2016
        ("Europe/Dublin", utc(2025, 7, 1), 60),
        ("Africa/Casablanca", utc(2025, 3, 15), 0),  # an hour back for Ramadan 2025
        ("Africa/Casablanca", utc(2025, 5, 15), 60),
    ],
)
def test_offset(zone: str, at: datetime, minutes: float) -> None:
    assert offset_minutes(at, zone) == minutes


@pytest.mark.parametrize(
    ("zone", "skipped", "repeated"),
    [
        # Directive 2000/84/EC: last Sundays of March and October, at 1:00 UTC
        ("Europe/Madrid", datetime(2025, 3, 30, 2, 30), datetime(2025, 10, 26, 2, 30)),
        ("Europe/Lisbon", datetime(2025, 3, 30, 1, 30), datetime(2025, 10, 26, 1, 30)),
        # Energy Policy Act of 2005 (US): second Sunday of March, first of November, at 2:00
        ("America/New_York", datetime(2025, 3, 9, 2, 30), datetime(2025, 11, 2, 1, 30)),
        # Lord Howe Island: half an hour, first Sundays of October and April, at 2:00
        ("Australia/Lord_Howe", datetime(2025, 10, 5, 2, 15), datetime(2025, 4, 6, 1, 45)),
    ],
)
def test_nights_of_daylight_saving(zone: str, skipped: datetime, repeated: datetime) -> None:
    assert is_skipped(skipped, zone)
    assert not is_repeated(skipped, zone)
    assert is_repeated(repeated, zone)
    assert not is_skipped(repeated, zone)
    first, second = instant_of(repeated, zone), instant_of(repeated.replace(fold=1), zone)
    assert second - first == timedelta(minutes=30 if "Lord_Howe" in zone else 60)
    assert wall_time(first, zone).fold == 0
    assert wall_time(second, zone).fold == 1


def test_days_that_never_were() -> None:
    # Samoa went from 29 to 31 December 2011, Kwajalein from 20 to 22 August 1993.
    assert wall_time(utc(2011, 12, 30, 9, 59), "Pacific/Apia").date() == date(2011, 12, 29)
    assert wall_time(utc(2011, 12, 30, 10, 1), "Pacific/Apia").date() == date(2011, 12, 31)
    assert is_skipped(datetime(2011, 12, 30, 12), "Pacific/Apia")
    assert is_skipped(datetime(1993, 8, 21, 12), "Pacific/Kwajalein")


def test_over_the_date_line() -> None:
    # The 9:00 flight from Nadi (+12) reaches Honolulu (-10) after 6 h 30 min, on the day before.
    leaves = instant_of(datetime(2025, 5, 6, 9), "Pacific/Fiji")
    lands = wall_time(leaves + timedelta(hours=6, minutes=30), "Pacific/Honolulu")
    assert lands == datetime(2025, 5, 5, 17, 30)


@pytest.mark.parametrize(
    ("longitude", "latitude", "zone"),
    [
        (85.324, 27.717, "Asia/Kathmandu"),
        (2.170, 41.387, "Europe/Madrid"),
        (178.44, -18.14, "Pacific/Fiji"),
        (-179.95, -16.8, "Pacific/Fiji"),  # Taveuni, beyond the 180th meridian
        (-176.56, -43.95, "Pacific/Chatham"),
        (159.08, -31.53, "Australia/Lord_Howe"),
        (-157.86, 21.31, "Pacific/Honolulu"),
        (9.0, 46.0, "Europe/Zurich"),
        (-63.1, 46.24, "America/Halifax"),
        (-15.43, 28.12, "Atlantic/Canary"),
    ],
)
def test_zone_of_a_place(longitude: float, latitude: float, zone: str) -> None:
    assert find_zone(LonLat(longitude, latitude)) == zone


def test_no_zone_on_the_open_sea() -> None:
    for place in (LonLat(-40, 40), LonLat(180, 0), LonLat(-180, 0), LonLat(0, 90)):
        assert find_zone(place) is None
        assert find_zones(place) == ()


def test_zones_of_the_airports_of_the_world() -> None:
    # airportsdata (MIT) gives each airport its zone; compared by the hour in January and July.
    # Of its 7,884 records 49 differ (2026-09): most are older than a change of law (Bougainville
    # 2014, Sakhalin 2016, Yukon 2020, Chihuahua 2022, Coyhaique 2025), some lie at a border.
    wrong, counted = [], 0
    for airport in airportsdata.load("IATA").values():
        zone = find_zone(LonLat(airport["lon"], airport["lat"]))
        if not airport["tz"]:
            continue
        counted += 1
        same = zone is not None and all(
            offset_minutes(utc(2025, month, 15), zone)
            == offset_minutes(utc(2025, month, 15), airport["tz"])
            for month in (1, 7)
        )
        if not same:
            wrong.append((airport["iata"], airport["tz"], zone))
    assert counted > 7000
    assert len(wrong) <= 0.01 * counted, wrong


def test_every_zone_agrees_with_the_standard_library() -> None:
    # zoneinfo.ZoneInfo may read the machine's own tables; the rules of 2010-2020 are settled.
    names = sorted(n for n in available_timezones() if "/" in n and not n.startswith("Etc/"))
    assert len(names) > 400
    for name in names:
        for year in range(2010, 2021, 2):
            for month in (1, 4, 7, 10):
                at = utc(year, month, 17, 12)
                reference = at.astimezone(ZoneInfo(name)).replace(tzinfo=None)
                assert wall_time(at, name) == reference, name


@pytest.mark.parametrize(
    "name", ["", "Madrid", "Europe/Atlantis", "../../etc/passwd", "Europe", "zone.tab", "/etc/x"]
)
def test_a_name_that_is_no_zone_is_refused(name: str) -> None:
    with pytest.raises(UserError, match="no time zone"):
        load_zone(name)


@given(
    st.datetimes(datetime(1980, 1, 1), datetime(2037, 1, 1)),
    st.sampled_from(["Europe/Madrid", "Asia/Kathmandu", "Australia/Lord_Howe", "Pacific/Apia"]),
)
def test_wall_time_and_back(at: datetime, zone: str) -> None:
    instant = at.replace(tzinfo=UTC)
    assert instant_of(wall_time(instant, zone), zone) == instant


MADRID, LONDON, SEA = LonLat(-3.7, 40.42), LonLat(-0.12, 51.5), LonLat(-20.0, 45.0)


def test_the_nearest_fix_on_land_tells_the_zone_at_sea() -> None:
    zones = trace_zones(
        [(utc(2025, 5, 1, 8), MADRID), (utc(2025, 5, 1, 20), SEA), (utc(2025, 5, 3, 8), LONDON)]
    )
    assert zones.zone_at(utc(2025, 5, 1, 20)) == "Europe/Madrid"
    assert zones.zone_at(utc(2025, 5, 2, 9)) == "Europe/London"
    assert zones.zone_at(utc(2025, 5, 9)) is None  # nobody knows where they were


def test_changes_are_borders_and_daylight_saving_but_no_stopover() -> None:
    border = trace_zones([(utc(2025, 5, 1), MADRID), (utc(2025, 5, 2), LONDON)]).changes()
    assert [c.step_s for c in border] == [-3600.0]
    summer = trace_zones([(utc(2025, 3, 29), MADRID), (utc(2025, 3, 31), MADRID)]).changes()
    assert [c.step_s for c in summer] == [3600.0]
    stopover = [
        (utc(2025, 5, 1), MADRID),
        (utc(2025, 5, 2, 8), LONDON),
        (utc(2025, 5, 2, 10), LONDON),
        (utc(2025, 5, 2, 14), MADRID),
        (utc(2025, 5, 4), MADRID),
    ]
    assert trace_zones(stopover).changes() == ()
