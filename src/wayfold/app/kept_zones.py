"""Time zones of places, kept from one run to the next: the map of all takes a while to load."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from wayfold.app.code_reach import function_key
from wayfold.app.identity import library_key
from wayfold.base.hashing import hash_bytes, hash_values
from wayfold.base.world import LonLat
from wayfold.project.cache import RecordCache
from wayfold.project.files import BookFolder
from wayfold.trip.zones import Zones, ask_map, ask_zones, find_zones


@contextmanager
def keep_zones(folder: BookFolder) -> Iterator[None]:
    """Have zones that a book's cache knows taken from there, and those that it lacks kept there."""
    about = hash_values(function_key(find_zones), library_key())
    records = RecordCache(folder.cache, "zones", about)
    known: dict[LonLat, Zones] = {}
    new: dict[str, bytes] = {}

    def find(place: LonLat) -> Zones:
        if place not in known:
            key = hash_bytes(f"{place.longitude!r} {place.latitude!r}".encode())
            kept = records.get(key)
            known[place] = ask_map(place) if kept is None else tuple(kept.decode().split())
            if kept is None:
                new[key] = " ".join(known[place]).encode()
        return known[place]

    with ask_zones(find):
        yield
    if new:
        records.put_all(new)
