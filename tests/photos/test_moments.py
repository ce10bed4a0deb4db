"""Dates and times in all the spellings of picture files."""

from __future__ import annotations

from datetime import datetime

import pytest

from wayfold.photos.moments import (
    parse_exif_time,
    parse_iptc_time,
    parse_name_time,
    parse_offset,
    parse_xmp_time,
)


def test_exif_time_with_fraction_and_offset() -> None:
    # Form of EXIF 2.32 (CIPA DC-008), 4.6.6.2: DateTimeOriginal, SubSecTimeOriginal, OffsetTime.
    taken = parse_exif_time("2003:08:11 16:45:32", "25", "+09:00")
    assert taken is not None
    assert taken.local == datetime(2003, 8, 11, 16, 45, 32, 250_000)
    assert taken.offset_minutes == 9 * 60


@pytest.mark.parametrize(
    "text",
    ["0000:00:00 00:00:00", "    :  :     :  :  ", "", "2024:13:01 10:00:00", "2024:02:30 10:00:00",
     "1970-01-01", "2024:06:01 25:00:00", "0001:01:01 00:00:00", "nonsense"],
)  # fmt: skip
def test_exif_time_of_an_unset_or_broken_clock_is_none(text: str) -> None:
    assert parse_exif_time(text) is None


@pytest.mark.parametrize(
    ("text", "local", "offset"),
    [  # Examples of the W3C note "Date and Time Formats" (1997), which XMP refers to
        ("1997-07-16T19:20+01:00", datetime(1997, 7, 16, 19, 20), 60),
        ("1997-07-16T19:20:30+01:00", datetime(1997, 7, 16, 19, 20, 30), 60),
        ("1997-07-16T19:20:30.45+01:00", datetime(1997, 7, 16, 19, 20, 30, 450_000), 60),
        ("1994-11-05T13:15:30Z", datetime(1994, 11, 5, 13, 15, 30), 0),
        ("1994-11-05T08:15:30-05:00", datetime(1994, 11, 5, 8, 15, 30), -300),
    ],
)
def test_xmp_time(text: str, local: datetime, offset: int) -> None:
    taken = parse_xmp_time(text)
    assert taken is not None
    assert (taken.local, taken.offset_minutes) == (local, offset)


def test_xmp_date_without_time_is_no_moment() -> None:
    assert parse_xmp_time("1997-07-16") is None  # a legal form of the same note


def test_iptc_time() -> None:
    # IPTC-NAA IIM 4.2, data sets 2:55 and 2:60: 13:30:15 in Frankfurt, an hour ahead of UTC.
    taken = parse_iptc_time("19900127", "133015+0100")
    assert taken is not None
    assert (taken.local, taken.offset_minutes) == (datetime(1990, 1, 27, 13, 30, 15), 60)
    assert parse_iptc_time("19900000", "133015+0100") is None  # day unknown, allowed there
    assert parse_iptc_time("", "") is None


@pytest.mark.parametrize(
    ("text", "minutes"),
    [("+05:45", 345), ("-03:30", -210), ("Z", 0), ("+0200", 120), ("+14:00", 840)],
)
def test_offset(text: str, minutes: int) -> None:
    assert parse_offset(text) == minutes


@pytest.mark.parametrize("text", ["", "+15:00", "+02:75", "   :  ", "two hours"])
def test_senseless_offset_is_none(text: str) -> None:
    assert parse_offset(text) is None


@pytest.mark.parametrize(
    ("name", "local", "offset"),
    [  # Names as telephones write them; from memory, no single source
        ("IMG_20230514_143012.jpg", datetime(2023, 5, 14, 14, 30, 12), None),
        ("20230514_143012(1).jpg", datetime(2023, 5, 14, 14, 30, 12), None),
        ("PXL_20230514_123012345.jpg", datetime(2023, 5, 14, 12, 30, 12, 345_000), 0),
        ("2023-05-14 14.30.12.jpg", datetime(2023, 5, 14, 14, 30, 12), None),
        ("Screenshot_2023-05-14-14-30-12.png", datetime(2023, 5, 14, 14, 30, 12), None),
        ("photo 2023-05-14 at 14.30.12.heic", datetime(2023, 5, 14, 14, 30, 12), None),
    ],
)
def test_time_stamp_in_a_name(name: str, local: datetime, offset: int | None) -> None:
    taken = parse_name_time(name)
    assert taken is not None
    assert (taken.local, taken.offset_minutes) == (local, offset)


@pytest.mark.parametrize(
    "name",
    ["IMG-20230514-WA0003.jpg", "DSC_0042.jpg", "20230514.jpg", "1234567890123456.jpg",
     "12020230514_143012.jpg", "IMG_20231514_143012.jpg", "holiday 2023-05-14.jpg"],
)  # fmt: skip
def test_what_is_no_full_time_stamp_is_none(name: str) -> None:
    assert parse_name_time(name) is None
