"""Gives the demo's book the map of its one town: street data, places to number, and a walk."""

from __future__ import annotations

import shutil
import tomllib
from collections.abc import Iterable
from datetime import UTC
from pathlib import Path

from wayfold.base.progress import Progress
from wayfold.base.world import LonLat
from wayfold.demo.gather import default_cache_folder
from wayfold.demo.scenario import read_journey_file
from wayfold.demo.streets import fetch_streets
from wayfold.demo.tracks import write_track
from wayfold.demo.walk import Stop, walk_streets
from wayfold.disk.placing import write_whole
from wayfold.project.files import BookFolder

TOWN = "monaco"
"""The chapter that has a map of its town, and a walk."""


def add_town(folder: BookFolder, progress: Progress, cache: Path | None = None) -> tuple[str, ...]:
    """Put street data, places and a walk into a fresh book; give what there is to tell of it.

    ``cache`` keeps what was fetched (the person's cache folder where None). Where there is no
    street data the book does without the map, and says so.
    """
    extract, outcome = fetch_streets((cache or default_cache_folder()) / "streets", progress)
    if extract is None:
        return (f"No map of Monaco: package {outcome.package}: {outcome.problem}",)
    kept = folder.root / "streets" / extract.name
    kept.parent.mkdir(exist_ok=True)
    shutil.copyfile(extract, kept)
    said = folder.trip_file.read_bytes()
    write_whole(folder.trip_file, said + b"\n" + _places_alone(read_journey_file("town.toml")))
    fixes = walk_streets(kept, tuple(_read_stops()))
    write_track(folder.root / "tracks" / "Monaco on foot.gpx", "Monaco on foot", fixes)
    return ()


def _places_alone(text: bytes) -> bytes:
    """Leave out the first lines, which speak to the reader of the demo's code."""
    return text[text.index(b"[[place]]") :]


def _read_stops() -> Iterable[Stop]:
    for stop in tomllib.loads(read_journey_file("town_walk.toml").decode())["stop"]:
        at, until = (stop[key].astimezone(UTC) for key in ("at", "until"))
        yield Stop(LonLat(*stop["place"]), at, until)
