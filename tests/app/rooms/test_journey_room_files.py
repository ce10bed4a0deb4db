"""Tracks and calendars handed in at the desk: read before they are kept, never over another."""

from datetime import date, timedelta
from pathlib import Path

import pytest

from tests.desk_book import START
from wayfold.app.journey_files import FileKind, clean_name
from wayfold.app.rooms.journey import view_journey
from wayfold.app.rooms.journey_files import (
    bring_file,
    put_file_back,
    take_file_away,
    view_files,
)
from wayfold.app.session import Session
from wayfold.base.errors import NotFoundError, UserError

LISBON, PORTO = (38.7223, -9.1393), (41.1496, -8.6110)
CALENDAR = b"""BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//test//EN\r\nBEGIN:VEVENT\r\nUID:1\r
DTSTAMP:20250101T000000Z\r\nDTSTART:20250513T190900Z\r\nDTEND:20250513T222000Z\r
SUMMARY:Train: Lisbon \xe2\x86\x92 Porto\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"""
# The "billion laughs" and an external entity (OWASP, XML External Entity Prevention).
LAUGHS = b"""<?xml version="1.0"?><!DOCTYPE l [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;">
<!ENTITY c "&b;&b;&b;&b;&b;&b;">]><gpx><name>&c;</name></gpx>"""
READER = b"""<?xml version="1.0"?><!DOCTYPE g [<!ENTITY x SYSTEM "file:///etc/passwd">]>
<gpx><name>&x;</name></gpx>"""


def record_track(fixes: int = 30) -> bytes:
    """A walk of half an hour in Lisbon on the first day, a fix a minute (GPX 1.1)."""
    # Portugal kept UTC+1 in May 2025 (the tz database).
    begin = START - timedelta(hours=1)
    points = "".join(
        f'<trkpt lat="{LISBON[0] + n * 5e-4:.5f}" lon="{LISBON[1]:.5f}">'
        f"<time>{begin + timedelta(minutes=n):%Y-%m-%dT%H:%M:%SZ}</time></trkpt>"
        for n in range(fixes)
    )
    head = '<gpx version="1.1" creator="t" xmlns="http://www.topografix.com/GPX/1/1">'
    return f"{head}<trk><trkseg>{points}</trkseg></trk></gpx>".encode()


def list_all(root: Path) -> set[str]:
    return {
        p.relative_to(root).as_posix()
        for p in root.rglob("*")
        if p.is_file() and p.suffix in (".gpx", ".ics")
    }


def test_a_track_is_taken_in_and_listed(session: Session) -> None:
    brought = bring_file(session, FileKind.TRACK, "Morning walk.gpx", record_track())
    assert brought.fresh
    assert (brought.file.name, brought.file.count) == ("Morning walk.gpx", 30)
    assert (brought.file.first, brought.file.last) == (START.date(), START.date())
    assert (session.folder.root / "tracks" / "Morning walk.gpx").read_bytes() == record_track()
    again = bring_file(session, FileKind.TRACK, "other.gpx", record_track())
    assert (again.fresh, again.file.name) == (False, "Morning walk.gpx")
    other = bring_file(session, FileKind.TRACK, "Morning walk.gpx", record_track(20))
    assert (other.fresh, other.file.name) == (True, "Morning walk 2.gpx")


def test_a_calendar_tells_the_way_until_it_is_taken_away(session: Session) -> None:
    brought = bring_file(session, FileKind.CALENDAR, "bookings.ics", CALENDAR)
    assert (brought.file.count, brought.file.first) == (1, date(2025, 5, 13))
    leg = view_journey(session).legs[0]
    assert (leg.mode, leg.mode_by) == ("train", "calendar")
    away = take_file_away(session, brought.file.handle)
    assert (away.away, view_journey(session).legs[0].mode) == (True, None)
    assert not (session.folder.root / "calendars" / "bookings.ics").exists()
    back = put_file_back(session, away.handle)
    assert (back.away, view_journey(session).legs[0].mode) == (False, "train")
    assert [view.name for view in view_files(session)] == ["bookings.ics"]
    with pytest.raises(NotFoundError):
        take_file_away(session, away.handle)


@pytest.mark.parametrize(
    ("kind", "data", "says"),
    [
        (FileKind.TRACK, LAUGHS, "document type or entities"),
        (FileKind.TRACK, READER, "document type or entities"),
        (FileKind.TRACK, b"", "no whole XML"),
        (FileKind.TRACK, b"\x00\xff\xd8\xff\x00" * 400, "no whole XML"),
        (FileKind.TRACK, b"<html><body/></html>", "no GPX"),
        (FileKind.TRACK, b'<gpx version="1.1"/>', "no track"),
        (FileKind.TRACK, b"<gpx>" * 20_000, "no whole XML"),
        (FileKind.TRACK, record_track()[:-40], "no whole XML"),
        (FileKind.CALENDAR, b"", "no calendar"),
        (FileKind.CALENDAR, b"\x00\xff\xd8\xff\x00" * 400, "no calendar"),
        (FileKind.CALENDAR, record_track(), "no calendar"),
        (FileKind.CALENDAR, b"BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n", "no events"),
        (FileKind.CALENDAR, b"BEGIN:VCALENDAR\r\n" + b" " * 20_000_000, "20 MB"),
        (FileKind.TRACK, b" " * 50_000_001, "50 MB"),
    ],
)
def test_what_is_none_is_refused_and_nothing_written(
    session: Session, kind: FileKind, data: bytes, says: str
) -> None:
    before = list_all(session.folder.root)
    with pytest.raises(UserError, match=says):
        bring_file(session, kind, "x", data)
    assert list_all(session.folder.root) == before


@pytest.mark.parametrize(
    ("name", "kept"),
    [
        ("2025-05-12.gpx", "2025-05-12.gpx"),
        ("Zum Kap (früh).GPX", "Zum Kap (früh).gpx"),
        ("../../../etc/passwd", "passwd.gpx"),
        ("..\\..\\boot.ini", "boot.ini.gpx"),
        ("/absolute/x.gpx", "x.gpx"),
        ("..", "track.gpx"),
        (".hidden.gpx", "hidden.gpx"),
        ("", "track.gpx"),
        ("a\x00b\nc.gpx", "a b c.gpx"),
        ("con.gpx", "track con.gpx"),
        ("C:evil.gpx", "C evil.gpx"),
        ("x" * 400, "x" * 80 + ".gpx"),
        ("\u202egpx.exe", "gpx.exe.gpx"),
    ],
)
def test_names_mean_nothing_to_a_disk(name: str, kept: str) -> None:
    assert clean_name(name, FileKind.TRACK) == kept


@pytest.mark.parametrize("name", ["../../outside.gpx", "/tmp/outside.gpx", "a/../../outside"])
def test_no_name_leads_out_of_the_folder(session: Session, name: str) -> None:
    bring_file(session, FileKind.TRACK, name, record_track())
    assert list_all(session.folder.root.parent) == {"atlantic/tracks/outside.gpx"}
