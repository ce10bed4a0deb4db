"""The doors for what tells of the journey: tracks, calendars, and extracts of OpenStreetMap."""

from __future__ import annotations

import bz2
import gzip
import re
from datetime import UTC, date, datetime
from pathlib import Path
from random import Random
from xml.sax.saxutils import escape

from proving.fuzz.door import APART, STAGE, Door, Entrance
from proving.fuzz.mutate import NUMBERS, hostile_string, spoil, spoil_text
from proving.fuzz.samples import fetch_extract, list_calendars, list_tracks
from tests.maps.osm_files import write_osm
from wayfold.app.journey_files import FileKind, clean_name
from wayfold.app.rooms.journey_files import EVER
from wayfold.base.errors import UserError
from wayfold.base.world import LonLat
from wayfold.book.trip_choices import Unit
from wayfold.maps.extract import read_extract
from wayfold.maps.projection import Extent
from wayfold.trip.bookings.anchors import list_anchors
from wayfold.trip.bookings.presences import list_presences
from wayfold.trip.bookings.read import read_bookings
from wayfold.trip.calendars.read import read_calendar
from wayfold.trip.gazetteer import Gazetteer, Town
from wayfold.trip.town_names import TownNames
from wayfold.trip.tracks_gpx import parse_gpx
from wayfold.trip.tracks_place import Tracks
from wayfold.words.numbers import write_distance

_VALUE = re.compile('"')
_NO_XML = dict.fromkeys((*range(9), 11, 12, *range(14, 32), 0xFFFE, 0xFFFF))
NEAR = (LonLat(-2.93, 43.26), LonLat(2.17, 41.39))
TOWNS = (
    Town("Bilbao", "ES", NEAR[0], 345_000), Town("Barcelona", "ES", NEAR[1], 1_620_000),
    Town("Barcelona", "VE", LonLat(-64.69, 10.13), 424_000),
)  # fmt: skip
"""Few of the world's: how many there are is no matter of a calendar's."""
DAYS = date(2025, 4, 1), date(2025, 6, 30)
MONACO = Extent(7.40, 43.72, 7.44, 43.76)
RULES = (
    "RRULE:FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30", "RRULE:FREQ=DAILY;INTERVAL=0",
    "RRULE:FREQ=WEEKLY;COUNT=99999999", "RRULE:FREQ=SECONDLY", "RRULE:FREQ=DAILY;BYSECOND=0,1,2",
    "RRULE:FREQ=MONTHLY;BYDAY=5MO;BYSETPOS=-366", "RRULE:FREQ=DAILY;BYHOUR=0,1,2,3;BYMINUTE=1,2,3",
    "RDATE;VALUE=PERIOD:20250504T090000Z/PT1H", "EXDATE;TZID=Nowhere/Here:20250504T090000",
    "RECURRENCE-ID:20250504T090000Z", "DURATION:-P1D", "DURATION:P99999999999D", "GEO:91;181",
    "DTSTART:00010101T000000Z", "DTEND:99991231T235959Z",
    "DTSTART;TZID=Europe/Madrid:20250330T023000", "CATEGORIES:a,b,,", "SUMMARY;LANGUAGE=\"",
    "X-A-GEO:geo:1.2.3,4.5.6", "BEGIN:VALARM",
)  # fmt: skip


def prepare_tracks(_room: Path) -> Entrance:
    """Make the door for GPX files ready."""

    def make(rng: Random) -> bytes:
        return spoil_text(rng.choice(list_tracks()), rng)

    def enter(case: bytes) -> None:
        name = clean_name(case[:80].decode("utf-8", "replace"), FileKind.TRACK)
        track = parse_gpx(case, name)
        write_distance(track.length_m, Unit.KM, "en")
        tracks = Tracks((track,))
        for fix in track.fixes[:3]:
            tracks.locate(fix.utc)
        tracks.locate(datetime(2025, 5, 4, 9, 20, tzinfo=UTC))

    return Entrance(make, enter)


def prepare_calendars(_room: Path) -> Entrance:
    """Make the door for calendars ready."""
    towns = TownNames(Gazetteer(TOWNS))

    def make(rng: Random) -> bytes:
        text = rng.choice(list_calendars())
        if rng.random() < 0.3:
            lines = text.splitlines()
            at = rng.randrange(len(lines) + 1)
            lines[at:at] = [rng.choice(RULES)]
            text = "\r\n".join(lines)
        return spoil_text(text, rng)

    def enter(case: bytes) -> None:
        first, last = EVER if len(case) % 3 == 0 else DAYS
        calendar = read_calendar(case, "calendars/a.ics", first, last)
        bookings = read_bookings([calendar], NEAR, towns)
        list_presences(bookings)
        list_anchors(bookings)
        said = [f for f in calendar.findings if f.rule == "calendar.unreadable"]
        if said:
            raise UserError(said[0].message, where=said[0].where, remedy=said[0].remedy)

    return Entrance(make, enter)


def prepare_streets(room: Path) -> Entrance:
    """Make the door for street data ready: small files of ours, and seldom a whole town."""
    text = _write_town(room / "town.osm").read_text(encoding="utf-8")
    packed = _pack(room / "town.osm", room / "town.osm.pbf")

    def make(rng: Random) -> bytes:
        kind = rng.choice((".osm", ".osm", ".osm.pbf", ".osm.pbf", ".osm.gz", ".osm.bz2", ".pbf"))
        if kind in (".osm.pbf", ".pbf"):
            whole = fetch_extract() if rng.random() < 0.02 else packed
            return f"{kind}\n".encode() + spoil(whole, rng, head=rng.random() < 0.5)
        data = _spoil_values(text, rng) if rng.random() < 0.6 else spoil_text(text, rng)
        if kind == ".osm.gz":
            data = gzip.compress(data, mtime=0)
            data = spoil(data, rng) if rng.random() < 0.6 else data
        if kind == ".osm.bz2":
            data = bz2.compress(data, 1)
            data = spoil(data, rng) if rng.random() < 0.6 else data
        return f"{kind}\n".encode() + data

    def enter(case: bytes) -> None:
        kind, _, data = case.partition(b"\n")
        ending = kind.decode("ascii", "replace")
        ending = ending if ending in (".osm", ".osm.pbf", ".pbf", ".osm.gz", ".osm.bz2") else ".osm"
        path = room / f"case{ending}"
        path.write_bytes(data)
        (room / STAGE).write_text(APART, encoding="utf-8")
        index = str(room / "index") if len(case) % 5 == 0 else ""
        try:
            read_extract(str(path), MONACO, index=index, name=f"streets/case{ending}")
        finally:
            path.unlink()
            Path(room / "index").unlink(missing_ok=True)

    return Entrance(make, enter)


def _write_town(path: Path) -> Path:
    """Write a few streets, a river, a park of two rings, and a coast, in Monaco's frame."""
    nodes = {n: (7.41 + 0.002 * (n % 6), 43.73 + 0.002 * (n // 6)) for n in range(1, 31)}
    ways = (
        (1, (1, 2, 3, 4), {"highway": "primary", "name": "Quay"}),
        (2, (7, 8, 9, 15), {"highway": "residential", "name": "Steps \u05d0"}),
        (3, (13, 14, 20), {"waterway": "river"}),
        (4, (1, 2, 8, 7, 1), {"leisure": "park"}),
        (5, (19, 20, 26), {}),
        (6, (26, 25, 19), {}),
        (7, (28, 29, 30), {"natural": "coastline"}),
    )
    relations = (
        (1, ((5, "outer"), (6, "outer")), {"type": "multipolygon", "natural": "water"}),
        (2, ((4, "inner"), (99, "outer")), {"type": "multipolygon", "leisure": "park"}),
    )
    return write_osm(path, nodes, ways, relations)


def _spoil_values(text: str, rng: Random) -> bytes:
    """Change values of attributes, and leave the XML whole."""
    parts = _VALUE.split(text)
    for _ in range(rng.choice((1, 2, 8))):
        one = rng.randrange(len(parts) // 2) * 2 + 1
        new = rng.choice((*NUMBERS, hostile_string(rng), rng.choice(parts[1::2])))
        parts[one] = escape(new, {'"': "&quot;"}).translate(_NO_XML)
    return '"'.join(parts).encode("utf-8", "replace")


def _pack(source: Path, target: Path) -> bytes:
    """Pack an extract as PBF, its blocks plain: packed ones would all be refused unread."""
    import osmium

    with osmium.SimpleWriter(osmium.io.File(str(target), "pbf,pbf_compression=none")) as writer:
        for one in osmium.FileProcessor(str(source)):
            writer.add(one)
    return target.read_bytes()


TRACKS = Door("tracks", "recorded tracks (GPX)", prepare_tracks)
CALENDARS = Door("calendars", "calendars (iCalendar)", prepare_calendars)
STREETS = Door("streets", "extracts of OpenStreetMap (XML, PBF, packed)", prepare_streets)
