"""Cameras' clocks in a whole book: read from evidence, shown, overruled, and used for its times."""

import json
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from tests.app.conftest import LISBON, paint
from wayfold.app.check import check_folder
from wayfold.app.make import make_book
from wayfold.app.new import begin_book
from wayfold.base.progress import NoProgress
from wayfold.cli.main import run
from wayfold.project.files import BookFolder

# Lisbon kept UTC+1 on that day (the tz database, Europe/Lisbon).
NOON_UTC = datetime(2025, 5, 12, 12, 0)
FAST = timedelta(hours=2, minutes=3, seconds=20)
"""The camera was at Madrid's summer time and 3 min 20 s fast."""


def shoot(path: Path, utc: datetime, *, receiver: bool) -> None:
    """A picture of the camera whose clock is wrong; with ``receiver`` it holds GPS time."""
    paint(path, (600, 400), hash(path.name) % 255, utc + FAST, LISBON)
    with Image.open(path) as picture:
        picture.load()
        exif = picture.getexif()
        exif[0x010F], exif[0x0110] = "Halden", "Halden H7"
        # EXIF 2.32: BodySerialNumber; GPSTimeStamp and GPSDateStamp, in UTC.
        exif.get_ifd(0x8769)[0xA431] = "6021"
        if receiver:
            gps = exif.get_ifd(0x8825)
            gps[7] = (float(utc.hour), float(utc.minute), float(utc.second))
            gps[29] = utc.strftime("%Y:%m:%d")
        picture.save(path, quality=90, exif=exif)


def begin_party(root: Path, received: int) -> Path:
    """Eight pictures, the first ``received`` of them with the receiver's time."""
    for i in range(8):
        at = NOON_UTC + timedelta(minutes=37 * i)
        shoot(root / "photographs" / f"DSC_{i:04}.JPG", at, receiver=i < received)
    begin_book(root, "A Day", [root / "photographs"])
    return root


@pytest.fixture
def party(tmp_path: Path) -> Path:
    return begin_party(tmp_path / "book", received=5)


def ask(capsys: pytest.CaptureFixture[str], *arguments: str) -> Any:
    assert run([*arguments, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def say_of_journey(root: Path, words: str) -> None:
    (root / "trip.toml").write_text(f"version = 1\n{words}\n", encoding="utf-8")


def test_a_wrong_clock_is_read_and_shown_with_its_evidence(
    party: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (clock,) = ask(capsys, "clocks", str(party))["clocks"]
    assert clock["camera"] == "Halden H7 6021"
    assert clock["state"] == "known"
    (span,) = clock["spans"]
    assert span["ahead_s"] == pytest.approx(FAST.total_seconds(), abs=60)
    assert sum(row["agreeing"] for row in clock["evidence"]) >= 5
    assert run(["clocks", str(party)]) == 0
    assert "+02:00, 3 min 20 s fast" in capsys.readouterr().out


def test_one_line_overrules_all_evidence(party: Path, capsys: pytest.CaptureFixture[str]) -> None:
    say_of_journey(party, '[clocks]\n"Halden H7 6021" = "+05:30, 2m slow"')
    (clock,) = ask(capsys, "clocks", str(party))["clocks"]
    assert clock["state"] == "chosen by you"
    assert clock["spans"][0]["ahead_s"] == 5.5 * 3600 - 120


def test_a_picture_of_a_clock_tells_what_nothing_else_does(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    root = begin_party(tmp_path / "book", received=0)
    (clock,) = ask(capsys, "clocks", str(root))["clocks"]
    assert (clock["state"], clock["spans"]) == ("not known", [])
    # The third picture was taken 74 minutes after noon UTC, at 14:14 in Lisbon.
    say_of_journey(root, '[[clock_picture]]\nphoto = "DSC_0002.JPG"\nshows = 2025-05-12T14:14:10')
    (clock,) = ask(capsys, "clocks", str(root))["clocks"]
    assert clock["spans"][0]["ahead_s"] == pytest.approx(FAST.total_seconds() - 10, abs=1)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ('[clocks]\n"Halden H7 6021" = "two hours fast"', "is no setting of a clock"),
        ('[[clock_picture]]\nphoto = "none.jpg"\nshows = 2025-05-12T15:20:00', "none.jpg"),
        ('[[clock_picture]]\nphoto = "a"\nshows = 2025-05-12T15:20:00Z', "without a zone"),
        ('[[clock_picture]]\nphoto = "DSC_0002.JPG"\nshows = 2025-05-12T15:20:00\nzone = "X/Y"',
         "X/Y"),
    ],
)  # fmt: skip
def test_a_line_that_is_none_is_named(
    party: Path, capsys: pytest.CaptureFixture[str], words: str, told: str
) -> None:
    say_of_journey(party, words)
    assert run(["clocks", str(party)]) == 2
    error = capsys.readouterr().err
    assert "trip.toml" in error
    assert told in error


def test_a_track_that_is_none_is_a_finding_and_a_new_one_has_the_book_made_again(
    party: Path,
) -> None:
    make_book(party, NoProgress())
    assert make_book(party, NoProgress()).nothing_to_do
    tracks = party / "tracks"
    tracks.mkdir()
    (tracks / "broken.gpx").write_text("<gpx><trk>", encoding="utf-8")
    assert not make_book(party, NoProgress()).nothing_to_do
    found = [f for f in check_folder(party, NoProgress()) if f.where == "tracks/broken.gpx"]
    assert [f.rule for f in found] == ["tracks.unread"]
    assert BookFolder(party).list_tracks() == [tracks.resolve() / "broken.gpx"]
