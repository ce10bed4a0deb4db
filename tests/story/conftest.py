"""Trips and books to order, small enough to work out by hand."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from itertools import groupby

import pytest

from wayfold.base.world import LonLat
from wayfold.book.state import Book
from wayfold.photos.model import CaptureTime, Photo, SizePx
from wayfold.story.model import Story
from wayfold.story.tell import tell_story
from wayfold.trip.model import Day, Moment, Stop, Trip

# Along one meridian: 0.1 degrees of latitude are 11.1 km (WGS84).
PLACES = {"Alba": 45.0, "Beta": 45.2, "Gamma": 46.0, "Delta": 47.0}


def stop(name: str, when: datetime) -> Stop:
    return Stop(name, "IT", "Italy", LonLat(8.0, PLACES[name]), when.date(), when.date())


@dataclass
class Teller:
    """Lines of "id time place [rating] [width x height]" become a trip and its photographs.

    "?" stands for a time and "-" for a place that is not known. Runs of one place are one stop.
    """

    texts: Mapping[str, str] = field(default_factory=dict)

    def read(self, lines: str) -> tuple[Trip, dict[str, Photo]]:
        rows = [line.split() for line in lines.strip().splitlines()]
        photos = {row[0]: self._photo(row) for row in rows}
        moments: list[Moment] = []
        stops: list[Stop] = []
        for place, run in groupby(rows, key=lambda r: r[2]):
            for row in run:
                when = None if row[1] == "?" else datetime.fromisoformat(row[1])
                moments.append(Moment(row[0], when, len(stops) if place != "-" else None))
                latest = when
            if place != "-":
                stops.append(stop(place, latest or datetime(2025, 1, 1)))
        return Trip(tuple(moments), self._days(moments), tuple(stops)), photos

    def _photo(self, row: Sequence[str]) -> Photo:
        rating = int(row[3]) if len(row) > 3 else None
        width, height = (int(v) for v in (row[4] if len(row) > 4 else "6000x4000").split("x"))
        taken = None if row[1] == "?" else CaptureTime(datetime.fromisoformat(row[1]))
        size = SizePx(width, height)
        return Photo(row[0], row[0], f"/p/{row[0]}.jpg", size, taken=taken, rating=rating)

    def _days(self, moments: Sequence[Moment]) -> tuple[Day, ...]:
        dated = [m for m in moments if m.local]
        first = dated[0].local.date() if dated and dated[0].local else None
        days = []
        for day, run in groupby(dated, key=lambda m: m.local.date() if m.local else None):
            if day and first:
                days.append(Day((day - first).days + 1, day, tuple(m.photo for m in run)))
        return tuple(days)

    def tell(
        self, lines: str, book: Book | None = None, pages: Mapping[str, int] | None = None
    ) -> Story:
        trip, photos = self.read(lines)
        return tell_story(trip, book or Book("A Title"), photos, pages or {})


@pytest.fixture
def teller() -> Teller:
    return Teller()
