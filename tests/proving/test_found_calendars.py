"""What long runs found in calendars: each case as a test."""

from __future__ import annotations

from datetime import date, datetime

import pytest
from dateutil.rrule import rrulestr

from wayfold.app.rooms.journey_files import EVER
from wayfold.trip.bookings.read import read_bookings
from wayfold.trip.calendars import rules
from wayfold.trip.calendars.read import read_calendar
from wayfold.trip.town_names import NoNames

HOURS, TENS = ",".join(map(str, range(24))), "0,5,10,15,20,25,30,35,40,45"
EVENT = (
    "BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nUID:1\r\nSUMMARY:S\r\n"
    "{lines}\r\nEND:VEVENT\r\nEND:VCALENDAR"
)


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ("DTSTART:20250504T090000Z\r\nRRULE:FREQ=DAILY;INTERVAL=0", "after no time"),
        ("DTSTART:19000504T090000Z\r\nRRULE:FREQ=DAILY;BYHOUR=1,2,3;BYSECOND=1,2", ""),
        ("DTSTART:18800504T090000Z\r\nRRULE:FREQ=DAILY;COUNT=90000;BYHOUR=1,2,3", "too often"),
        (
            f"DTSTART:18800531T090000Z\r\nRRULE:FREQ=MONTHLY;BYHOUR={HOURS};BYMINUTE={TENS}",
            "too often",
        ),
        ("DTSTART:20250504T090000Z" + 300 * "\r\nRRULE:FREQ=DAILY;UNTIL=20250506T090000Z", ""),
        (
            "DTSTART:20250504T090000Z"
            + "".join(f"\r\nRRULE:FREQ=DAILY;INTERVAL={n}" for n in range(1, 10)),
            "too many rules",
        ),
        ("DTSTART:20250504T090000Z\r\nDTEND:99991231", ""),
        (
            "DTSTART:20250504T090000Z\r\nDTEND:99991231T090000Z\r\nRRULE:FREQ=DAILY;COUNT=3",
            "year 9999",
        ),
        (
            "DTSTART;TZID=Asia/Tokyo:20250504T090000\r\nEXDATE:99991231T235959Z\r\nRRULE:FREQ=DAILY",
            "",
        ),
        ("DTSTART;TZID=America/Lima:20250504T090000\r\nRDATE:00010101T000000Z", ""),
        ("DTSTART:99991231\r\nDTEND:20250504T090000", ""),
        ("DTSTART:20250504T090000Z\r\nX-PLACE:geo:1.2.3,4.5.6", ""),
    ],
)
def test_calendars_that_cannot_be_followed(lines: str, words: str) -> None:
    data = EVENT.format(lines=lines).encode()
    read = read_calendar(data, "a.ics", *EVER)
    assert words in " ".join(finding.message for finding in read.findings)


def test_the_library_never_walks_to_the_last_year_there_is(monkeypatch: pytest.MonkeyPatch) -> None:
    begun: list[datetime] = []

    def follow(rule: str, **more: datetime) -> object:
        begun.append(more["dtstart"])
        return rrulestr(rule, **more)

    monkeypatch.setattr(rules, "rrulestr", follow)
    never = "DTSTART:20250504T090000Z\r\nRRULE:FREQ=MONTHLY;BYDAY=5MO;BYSETPOS=-366"
    copies = "\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\n".join(f"UID:{n}\r\n{never}" for n in range(50))
    read = read_calendar(EVENT.format(lines=copies).encode(), "a", *EVER)
    assert len(read.events) == 50
    assert [(at.year, at.month, at.weekday()) for at in begun] == [(9625, 5, 6)]


def test_what_hundreds_of_repetitions_mean_is_sought_once(monkeypatch: pytest.MonkeyPatch) -> None:
    sought: list[str] = []

    def find(text: str, *_: object) -> None:
        sought.append(text)

    monkeypatch.setattr("wayfold.trip.bookings.read.find_meant", find)
    data = EVENT.format(lines="DTSTART:20250504T090000Z\r\nRRULE:FREQ=DAILY").encode()
    calendar = read_calendar(data, "a.ics", date(2025, 5, 4), date(2026, 5, 4))
    read_bookings([calendar], [], NoNames())
    assert (len(calendar.events), sought) == (366, ["S"])


def test_a_rule_that_is_said_hundreds_of_times_is_followed_once(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    followed: list[str] = []

    def follow(rule: str, **more: object) -> object:
        followed.append(rule)
        return rrulestr(rule, **more)

    monkeypatch.setattr(rules, "rrulestr", follow)
    written = "\r\nRRULE:FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30" * 300
    read = read_calendar(
        EVENT.format(lines="DTSTART:20250504T090000Z" + written).encode(), "a", *EVER
    )
    assert len(followed) == 1
    assert len(read.events) == 1
