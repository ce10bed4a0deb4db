"""Sample files to spoil: third-party ones, out of the packages that the tests use, and ours.

Packages (fetched once, kept in ``~/.cache/wayfold-tests``): pillow 13.0.0 ``Tests/images``
(MIT-CMU), pillow-heif 1.8.1 ``tests/images`` (BSD-3), gpxpy 1.6.2 ``test_files`` (Apache-2.0),
quackosm 0.19.0 (an extract of Monaco, © OpenStreetMap contributors, ODbL). Nothing of them is
stored here: a case is made again of file, seed and number.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import icalendar

from tests.fetching import fetch_sample
from wayfold.demo import profiles

PICTURE_ENDINGS = frozenset((
    ".jpg", ".jpeg", ".png", ".tif", ".tiff", ".webp", ".mpo", ".heic", ".heif", ".hif", ".avif",
    ".dng",
))  # fmt: skip
MOST_BYTES = 60_000
"""Of a sample: small ones are spoilt where it matters, and quickly."""

Sample = tuple[str, bytes]


@cache
def list_pictures() -> tuple[Sample, ...]:
    """Give names and bytes of pictures of every kind."""
    folders = (
        fetch_sample("pillow", "13.0.0", "Tests/images"),
        fetch_sample("pillow-heif", "1.8.1", "tests/images"),
    )
    found = (path for folder in folders for path in sorted(folder.rglob("*")))
    return tuple(_read(p) for p in found if p.suffix.lower() in PICTURE_ENDINGS and _is_small(p))


@cache
def list_tracks() -> tuple[str, ...]:
    """Give GPX files as texts."""
    folder = fetch_sample("gpxpy", "1.6.2", "test_files")
    found = [p.read_bytes() for p in sorted(folder.glob("*.gpx")) if _is_small(p)]
    return tuple(data.decode("utf-8", "replace") for data in found)


@cache
def list_calendars() -> tuple[str, ...]:
    """Give iCalendar files as texts: the demonstration's, and those of the library's own tests."""
    ours = Path(profiles.__file__).with_name("journey") / "bookings.ics"
    theirs = Path(icalendar.__file__).with_name("tests")
    found = [ours, *sorted(p for p in theirs.rglob("*.ics") if _is_small(p))]
    return tuple(p.read_bytes().decode("utf-8", "replace") for p in found)


@cache
def fetch_extract() -> bytes:
    """Give the extract of Monaco (.osm.pbf)."""
    return fetch_sample("quackosm", "0.19.0", "tests/test_files/monaco.osm.pbf").read_bytes()


def _is_small(path: Path) -> bool:
    return path.is_file() and 0 < path.stat().st_size <= MOST_BYTES


def _read(path: Path) -> Sample:
    return path.name, path.read_bytes()
