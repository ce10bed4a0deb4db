"""The demo's wrong clocks are found from its tracks: the truth is that of the invented journey."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from types import SimpleNamespace

import pytest

from wayfold.app.clocks import read_book_clocks
from wayfold.base.progress import NoProgress
from wayfold.book.state import Book
from wayfold.demo.copies import PHOTOGRAPHS, write_copies
from wayfold.demo.scenario import read_journey, read_journey_file
from wayfold.demo.strolls import write_strolls
from wayfold.project.files import BookFolder
from wayfold.project.store import start_book
from wayfold.trip.clocks.model import ClockReading, State

WITHIN_S = 60.0
SUMMER_S, WINTER_S = 7200, 3600


@pytest.fixture(scope="module")
def readings(
    tmp_path_factory: pytest.TempPathFactory, stand_ins: SimpleNamespace
) -> dict[str, ClockReading]:
    root: Path = tmp_path_factory.mktemp("demo")
    gathered = stand_ins.gather(root / "fetched")
    folder = BookFolder(root / "book")
    write_copies(folder.root, gathered, NoProgress())
    start_book(folder, Book("Clocks", photographs=(PHOTOGRAPHS,)))
    folder.trip_file.write_bytes(read_journey_file("trip.toml"))
    write_strolls(folder.root / "tracks", read_journey())
    return {r.body.key: r for r in read_book_clocks(folder.root, NoProgress())}


def test_a_clock_that_is_wrong_is_read_from_tracks(readings: dict[str, ClockReading]) -> None:
    body = next(b for b in read_journey().bodies if b.key == "h7")
    reading = readings["Halden H7 70421985"]
    assert reading.state is State.KNOWN
    for wall, zone_s in (
        (datetime(2025, 10, 20), SUMMER_S),
        (datetime(2025, 10, 27, 12), WINTER_S),
    ):
        span = reading.span_at(wall)
        assert span is not None
        # Its makers set it back with the clocks on 26 October, and it stayed as wrong as it was.
        assert abs(span.ahead_at(wall) - (zone_s + body.clock_error_s)) <= WITHIN_S


def test_the_makers_word_holds_for_the_other(readings: dict[str, ClockReading]) -> None:
    body = next(b for b in read_journey().bodies if b.key == "k35")
    reading = readings["Kestle 35 K35-00817"]
    assert reading.state is State.CHOSEN
    assert reading.choice is not None
    assert reading.choice.slip_s == body.clock_error_s


def test_the_telephone_needs_nobody(readings: dict[str, ClockReading]) -> None:
    states = {r.state for key, r in readings.items() if key.startswith("Sundby")}
    assert states == {State.OWN}
