"""Calendars: other people's files, the standard's own examples, and bad input.

- Sample files: the wheel of icalendar (BSD-2), ``icalendar/tests/calendars``, all of them.
- Repetition: the examples of RFC 5545, section 3.8.5.3, with the dates it lists.
- Instants: zoneinfo with the tz database (package tzdata).
"""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, time, timedelta
from importlib.resources import files
from zoneinfo import ZoneInfo

import pytest
from dateutil.rrule import rrulestr
from hypothesis import given
from hypothesis import strategies as st

from wayfold.trip.calendars.model import Calendar, Event
from wayfold.trip.calendars.read import read_calendar

EARLY, LATE = date(1990, 1, 1), date(2050, 1, 1)
NEW_YORK = ZoneInfo("America/New_York")


def wrap(*events: str, head: str = "") -> bytes:
    body = "".join(f"BEGIN:VEVENT\n{e.strip()}\nEND:VEVENT\n" for e in events)
    return f"BEGIN:VCALENDAR\nVERSION:2.0\n{head}{body}END:VCALENDAR\n".encode()


def read(*events: str, first: date = EARLY, last: date = LATE, head: str = "") -> Calendar:
    return read_calendar(wrap(*events, head=head), "a.ics", first, last)


def only(*events: str) -> Event:
    (event,) = read(*events).events
    return event


def rules(calendar: Calendar) -> set[str]:
    return {f.rule for f in calendar.findings}


SAMPLES = sorted(
    path.name
    for path in files("icalendar").joinpath("tests/calendars").iterdir()
    if path.name.endswith(".ics")
)


def test_there_are_as_many_samples_as_ever() -> None:
    assert len(SAMPLES) >= 110


@pytest.mark.parametrize("name", SAMPLES)
def test_every_sample_is_read_or_refused_with_a_reason(name: str) -> None:
    data = files("icalendar").joinpath("tests/calendars", name).read_bytes()
    calendar = read_calendar(data, name, date(1900, 1, 1), date(2100, 1, 1))
    text = data.decode("utf-8", errors="replace")
    written = len(re.findall(r"^BEGIN:VEVENT\s*$", text, re.MULTILINE))
    if len(calendar.events) < written:
        said = rules(calendar)
        assert (
            said
            & {
                "calendar.unreadable",
                "calendar.unusable",
                "calendar.broken",
                "calendar.cancelled",
            }
            or "RECURRENCE-ID" in text
            or re.search(r"^UID:(.*)$(?=[\s\S]*^UID:\1$)", text, re.M)
        ), name
    if not calendar.events:
        assert calendar.findings, name
    for finding in calendar.findings:
        assert finding.message
        assert finding.where == name


def dates(calendar: Calendar) -> list[date]:
    return [event.start.day for event in calendar.events]


def rfc(rule: str, start: str = "19970902T090000") -> list[date]:
    text = f"UID:1\nDTSTART;TZID=America/New_York:{start}\n{rule}\nSUMMARY:x"
    return dates(read(text, first=date(1997, 1, 1), last=date(1998, 12, 31)))


def days(month: int, *numbers: int, year: int = 1997) -> list[date]:
    return [date(year, month, n) for n in numbers]


def test_examples_of_the_standard() -> None:
    # RFC 5545, 3.8.5.3, in its order.
    assert rfc("RRULE:FREQ=DAILY;COUNT=10") == days(9, *range(2, 12))
    until_december = rfc("RRULE:FREQ=DAILY;UNTIL=19971224T000000Z")
    assert until_december[-1] == date(1997, 12, 23)
    assert len(until_december) == 113
    assert rfc("RRULE:FREQ=DAILY;INTERVAL=10;COUNT=5") == [
        *days(9, 2, 12, 22),
        *days(10, 2, 12),
    ]
    assert rfc("RRULE:FREQ=WEEKLY;UNTIL=19971007T000000Z;WKST=SU;BYDAY=TU,TH") == [
        *days(9, 2, 4, 9, 11, 16, 18, 23, 25, 30),
        *days(10, 2),
    ]
    assert rfc("RRULE:FREQ=MONTHLY;COUNT=10;BYDAY=1FR", "19970905T090000") == [
        *days(9, 5), *days(10, 3), *days(11, 7), *days(12, 5), *days(1, 2, year=1998),
        *days(2, 6, year=1998), *days(3, 6, year=1998), *days(4, 3, year=1998),
        *days(5, 1, year=1998), *days(6, 5, year=1998),
    ]  # fmt: skip
    assert rfc("RRULE:FREQ=MONTHLY;COUNT=3;BYDAY=TU,WE,TH;BYSETPOS=3", "19970904T090000") == [
        *days(9, 4), *days(10, 7), *days(11, 6),
    ]  # fmt: skip
    assert rfc("EXDATE;TZID=America/New_York:19970902T090000\n"
               "RRULE:FREQ=MONTHLY;BYDAY=FR;BYMONTHDAY=13") == [
        *days(2, 13, year=1998), *days(3, 13, year=1998), *days(11, 13, year=1998),
    ]  # fmt: skip


def test_repeated_times_stay_on_the_clock_over_summer_time() -> None:
    text = "UID:1\nDTSTART;TZID=America/New_York:19971024T090000\nRRULE:FREQ=DAILY;COUNT=4"
    for event in read(text).events:
        assert event.start.wall is not None
        assert event.start.wall.hour == 9
        assert event.start.utc == event.start.wall.replace(tzinfo=NEW_YORK)
    assert len({e.start.utc.hour for e in read(text).events if e.start.utc}) == 2


def test_an_instance_that_was_moved_stands_for_itself_alone() -> None:
    series = "UID:1\nSUMMARY:walk\nDTSTART:20250501T080000Z\nRRULE:FREQ=DAILY;COUNT=3"
    moved = "UID:1\nSUMMARY:late walk\nRECURRENCE-ID:20250502T080000Z\nDTSTART:20250502T110000Z"
    found = [(e.summary, e.start.utc) for e in read(series, moved).events]
    assert found == [
        ("walk", datetime(2025, 5, 1, 8, tzinfo=UTC)),
        ("late walk", datetime(2025, 5, 2, 11, tzinfo=UTC)),
        ("walk", datetime(2025, 5, 3, 8, tzinfo=UTC)),
    ]


def test_rules_without_end_are_followed_through_the_journey_only() -> None:
    text = "UID:1\nDTSTART:19000101T080000\nRRULE:FREQ=DAILY"
    calendar = read(text, first=date(2025, 5, 1), last=date(2025, 5, 4))
    assert dates(calendar) == [date(2025, 5, n) for n in range(1, 5)]
    never = "UID:1\nDTSTART:20250501T080000\nRRULE:FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30"
    assert dates(read(never)) == [date(2025, 5, 1)]  # the start itself always counts


FREQUENCIES = st.sampled_from(["DAILY", "WEEKLY", "MONTHLY", "YEARLY"])
LIMITS = st.sampled_from(
    [
        "", ";BYDAY=MO,TH", ";BYDAY=SU;WKST=SU", ";BYMONTHDAY=31", ";BYMONTHDAY=-1,15",
        ";BYMONTH=2,5,11", ";BYMONTH=3;BYMONTHDAY=29", ";BYDAY=MO,TU,WE;BYSETPOS=-1",
        ";BYHOUR=7,19", ";BYWEEKNO=1,53;BYDAY=MO", ";BYYEARDAY=-1,60",
    ]
)  # fmt: skip


@given(
    FREQUENCIES,
    st.integers(1, 5),
    LIMITS,
    st.datetimes(datetime(1960, 1, 1), datetime(2025, 6, 1)),
    st.dates(date(1999, 1, 1), date(2026, 6, 1)),
)
def test_a_rule_is_followed_as_from_its_beginning(
    often: str, step: int, limits: str, anchor: datetime, first: date
) -> None:
    """dateutil, walking from the event's own start, is the reference."""
    anchor, last = anchor.replace(microsecond=0), first + timedelta(days=400)
    rule = f"FREQ={often};INTERVAL={step}{limits}"
    text = f"UID:1\nDTSTART:{anchor:%Y%m%dT%H%M%S}\nRRULE:{rule}"
    ends = datetime.combine(first, time()), datetime.combine(last, time.max)
    wanted = set(rrulestr(rule, dtstart=anchor).between(*ends, inc=True))
    if ends[0] <= anchor <= ends[1]:
        wanted.add(anchor)  # the start itself always counts
    found = [event.start.wall for event in read(text, first=first, last=last).events]
    assert found == sorted(wanted)[: len(found)]
    assert len(found) == min(len(wanted), 400)


def test_a_count_from_long_ago_is_not_followed_and_said() -> None:
    text = "UID:1\nSUMMARY:tide\nDTSTART:18500501T080000\nRRULE:FREQ=DAILY;COUNT=99999"
    calendar = read(text)
    assert "too long ago" in calendar.findings[0].message


def test_rules_within_a_day_are_not_followed_and_said() -> None:
    calendar = read("UID:1\nSUMMARY:pill\nDTSTART:20250501T080000Z\nRRULE:FREQ=SECONDLY")
    assert len(calendar.events) == 1
    assert rules(calendar) == {"calendar.damaged"}
    assert "repeats within a day" in calendar.findings[0].message


def test_whole_days_end_on_their_last_day() -> None:
    # RFC 5545, 3.6.1: DTEND is the non-inclusive end.
    event = only("UID:1\nDTSTART;VALUE=DATE:20250503\nDTEND;VALUE=DATE:20250506")
    assert (event.start.day, event.end.day) == (date(2025, 5, 3), date(2025, 5, 5))
    assert event.start.whole_day
    assert only("UID:1\nDTSTART;VALUE=DATE:20250503").end.day == date(2025, 5, 3)
    assert only("UID:1\nDTSTART;VALUE=DATE:20250503\nDURATION:P3D").end.day == date(2025, 5, 5)


def test_floating_times_have_no_instant() -> None:
    event = only("UID:1\nDTSTART:20250503T070500\nDTEND:20250503T081000")
    assert event.start.utc is None
    assert event.start.wall == datetime(2025, 5, 3, 7, 5)


def test_unknown_zones_are_said_and_taken_as_floating() -> None:
    calendar = read("UID:1\nDTSTART;TZID=Middle-earth/Shire:20250503T070500")
    (event,) = calendar.events
    assert event.start.utc is None
    assert rules(calendar) == {"calendar.zone"}
    assert "Middle-earth/Shire" in calendar.findings[0].message


def test_zones_defined_in_the_file_are_used() -> None:
    zone = (
        "BEGIN:VTIMEZONE\nTZID:Ours\nBEGIN:STANDARD\nDTSTART:19700101T000000\n"
        "TZOFFSETFROM:+0545\nTZOFFSETTO:+0545\nEND:STANDARD\nEND:VTIMEZONE\n"
    )
    (event,) = read("UID:1\nDTSTART;TZID=Ours:20250503T120000", head=zone).events
    assert event.start.utc == datetime(2025, 5, 3, 6, 15, tzinfo=UTC)


def test_a_flight_keeps_both_zones() -> None:
    event = only(
        "UID:1\nDTSTART;TZID=Asia/Tokyo:20250503T170000\nDTEND;TZID=America/Los_Angeles:20250503T105500"
    )
    assert event.start.utc and event.end.utc
    assert event.end.utc - event.start.utc == timedelta(hours=9, minutes=55)
    assert (event.start.zone, event.end.zone) == ("Asia/Tokyo", "America/Los_Angeles")


def test_wrong_encodings_are_read_and_said() -> None:
    data = wrap("UID:1\nSUMMARY:Hôtel à Orléans\nDTSTART;VALUE=DATE:20250503")
    latin = data.decode().encode("latin-1")
    calendar = read_calendar(latin, "a.ics", EARLY, LATE)
    assert calendar.events[0].summary == "Hôtel à Orléans"
    assert rules(calendar) == {"calendar.encoding"}
    wide = read_calendar(data.decode().encode("utf-16"), "a.ics", EARLY, LATE)
    assert wide.events[0].summary == "Hôtel à Orléans"


@pytest.mark.parametrize("data", [b"", b"\x00\x01\x02", b"hello", b"<html></html>"])
def test_what_is_no_calendar_is_refused(data: bytes) -> None:
    calendar = read_calendar(data, "a.ics", EARLY, LATE)
    assert calendar.events == ()
    assert rules(calendar) == {"calendar.unreadable"}
    assert calendar.findings[0].remedy


def test_one_broken_event_does_not_lose_the_others() -> None:
    good = "UID:{}\nSUMMARY:good\nDTSTART:2025050{}T080000Z"
    data = wrap(good.format(1, 1), "UID:9\nSUMMARY:cut", good.format(2, 2), head="X\n")
    calendar = read_calendar(data, "a.ics", EARLY, LATE)
    assert [e.summary for e in calendar.events] == ["good", "good"]
    assert rules(calendar) == {"calendar.broken", "calendar.unusable"}
    assert "“cut”: it has no start" in " ".join(f.message for f in calendar.findings)


def test_events_that_end_before_they_start_are_named() -> None:
    calendar = read("UID:1\nSUMMARY:x\nDTSTART:20250503T080000Z\nDTEND:20250502T080000Z")
    assert calendar.events == ()
    assert "ends before it starts" in calendar.findings[0].message


def test_cancelled_events_are_left_out_and_counted() -> None:
    calendar = read("UID:1\nSTATUS:CANCELLED\nDTSTART:20250503T080000Z")
    assert calendar.events == ()
    assert rules(calendar) == {"calendar.cancelled"}


def test_coordinates() -> None:
    event = only("UID:1\nDTSTART:20250503T080000Z\nGEO:43.2630;-2.9350")
    assert event.place
    assert (event.place.latitude, event.place.longitude) == (43.263, -2.935)
    uri = only("UID:1\nDTSTART:20250503T080000Z\nX-PLACE:geo:43.2630,-2.9350")
    assert uri.place == event.place
    for wrong in ("0.0;0.0", "143.26;-2.93", "nan;1.0"):
        calendar = read(f"UID:1\nDTSTART:20250503T080000Z\nGEO:{wrong}")
        assert calendar.events[0].place is None
        assert rules(calendar) == {"calendar.damaged"}
