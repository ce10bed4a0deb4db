"""The journey through the whole path: calendar and words in, table, CSV and iCalendar out."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from wayfold.app.make import make_book
from wayfold.app.tell_journey import (
    describe_journey,
    import_files,
    read_book_journey,
    tell_journey,
)
from wayfold.base.errors import UserError
from wayfold.base.progress import NoProgress

CALENDAR = """BEGIN:VCALENDAR
VERSION:2.0
BEGIN:VEVENT
UID:1
SUMMARY:Train: Lisboa → Porto
DTSTART;TZID=Europe/Lisbon:20250514T043000
DTEND;TZID=Europe/Lisbon:20250514T073900
END:VEVENT
BEGIN:VEVENT
UID:2
SUMMARY:Pensão Ninho
LOCATION:Rua 1\\, Lisbon
DTSTART;VALUE=DATE:20250512
DTEND;VALUE=DATE:20250514
END:VEVENT
END:VCALENDAR
"""


def copy_with_calendar(made_once: Path, tmp_path: Path) -> Path:
    root = tmp_path / "book"
    shutil.copytree(made_once, root)
    (root / "calendars").mkdir()
    (root / "calendars" / "trip.ics").write_text(CALENDAR, encoding="utf-8")
    return root


def test_bookings_bring_an_itinerary(made_once: Path, tmp_path: Path) -> None:
    assert not (made_once / "out" / "itinerary.csv").exists()
    root = copy_with_calendar(made_once, tmp_path)
    report = make_book(root, NoProgress())
    assert not report.nothing_to_do
    assert "out/itinerary.csv" in report.outputs
    rows = (root / "out" / "itinerary.csv").read_text(encoding="utf-8-sig")
    assert "Pensão Ninho" in rows
    assert "2025-05-14T04:30+01:00" in rows
    assert (root / "out" / "itinerary.ics").read_bytes().startswith(b"BEGIN:VCALENDAR")
    assert make_book(root, NoProgress()).nothing_to_do


def test_importing_the_same_again_changes_nothing(made_once: Path, tmp_path: Path) -> None:
    root = copy_with_calendar(made_once, tmp_path)
    make_book(root, NoProgress())
    before = {p: p.read_bytes() for p in root.rglob("*") if p.is_file() and "out" in p.parts}
    # The planner tells in plan.json how the plan came about: another thing the second time.
    del before[root / "out" / "plan.json"]
    said = (root / "trip.toml").read_bytes()
    # The same events in a second file, as another export of the same calendar has them.
    (root / "calendars" / "again.ics").write_text(CALENDAR, encoding="utf-8")
    report = make_book(root, NoProgress())
    assert not report.nothing_to_do
    assert report.pages == ()
    assert report.sheets == ()
    assert (root / "trip.toml").read_bytes() == said
    for path, data in before.items():
        assert path.read_bytes() == data, path


def test_what_the_person_says_wins_and_comes_to_the_page(made_once: Path, tmp_path: Path) -> None:
    root = copy_with_calendar(made_once, tmp_path)
    words = '\n[[stop]]\nplace = "Lisbon"\nname = "Lisboa"\n'
    words += '\n[[leg]]\nfrom = "Lisboa"\nto = "Porto"\nmode = "road"\n'
    with (root / "trip.toml").open("a", encoding="utf-8") as file:
        file.write(words)
    make_book(root, NoProgress())
    rows = (root / "out" / "itinerary.csv").read_text(encoding="utf-8-sig")
    assert ",Lisboa,Porto,road," in rows
    assert "Lisbon," not in rows


def test_a_bad_calendar_is_a_finding_and_the_book_is_made(made_once: Path, tmp_path: Path) -> None:
    root = copy_with_calendar(made_once, tmp_path)
    (root / "calendars" / "bad.ics").write_bytes(b"\x00\x01 no calendar")
    report = make_book(root, NoProgress())
    (finding,) = (f for f in report.findings if f.rule == "calendar.unreadable")
    assert finding.where == "calendars/bad.ics"
    assert "out/reading.pdf" in report.outputs


def test_importing_copies_each_file_once(made_once: Path, tmp_path: Path) -> None:
    root = tmp_path / "book"
    shutil.copytree(made_once, root)
    given = tmp_path / "trip.ics"
    given.write_text(CALENDAR, encoding="utf-8")
    assert import_files(root, [given]) == ("trip.ics: copied to calendars/trip.ics",)
    assert import_files(root, [given]) == ("trip.ics: is there already, as calendars/trip.ics",)
    given.write_text(CALENDAR.replace("Ninho", "Pinho"), encoding="utf-8")
    assert import_files(root, [given]) == ("trip.ics: copied to calendars/trip 2.ics",)
    with pytest.raises(UserError, match="neither a calendar nor a track"):
        import_files(root, [root / "book.toml"])


def test_the_journey_is_told_with_how_it_is_known(made_once: Path, tmp_path: Path) -> None:
    root = copy_with_calendar(made_once, tmp_path)
    journey, unit, findings = read_book_journey(root, NoProgress())
    lines = list(tell_journey(journey, unit))
    assert lines[0].startswith("Lisbon, Portugal: 2025-05-12 to 2025-05-14, 2 nights")
    assert (
        "train (calendar), 2025-05-14 04:30 to 2025-05-14 07:39, 3\u00a0h\u00a09\u00a0min"
        in lines[1]
    )
    told = describe_journey(journey, findings)
    assert told["legs"][0]["known_by"] == "booking"
    assert told["stays"][0]["nights"] == 2
