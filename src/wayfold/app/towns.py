"""The towns of the book's places, kept from one run to the next."""

from __future__ import annotations

import dataclasses
import json
from functools import cached_property
from typing import Any

from wayfold.app.identity import code_key
from wayfold.base.cache import Cache
from wayfold.base.hashing import hash_values
from wayfold.base.world import LonLat
from wayfold.trip.gazetteer import Gazetteer, Town, load_gazetteer


class KeptTowns:
    """Knows the towns of places asked for before; only a new place has the world's towns loaded."""

    def __init__(self, cache: Cache) -> None:
        """Take up what ``cache`` holds."""
        self._cache = cache
        self._key = hash_values("towns", code_key("trip"))
        kept = json.loads(cache.get(self._key) or b"[]")
        self._known = {LonLat(*place): read_town(row) for place, row in kept}
        self._asked: dict[LonLat, Town | None] = {}

    @cached_property
    def _world(self) -> Gazetteer:
        return load_gazetteer()

    def find(self, place: LonLat) -> Town | None:
        """Give the town a picture taken at ``place`` is named after, or None far from any.

        Raises UserError where the gazetteer is wanted and cannot be read.
        """
        if place not in self._asked:
            known = place in self._known
            self._asked[place] = self._known[place] if known else self._world.find(place)
        return self._asked[place]

    def keep(self) -> None:
        """Keep the towns of the places asked for, if any was new."""
        if self._asked.keys() <= self._known.keys():
            return
        rows = [
            ((place.longitude, place.latitude), dataclasses.asdict(town) if town else None)
            for place, town in self._asked.items()
        ]
        self._cache.put(self._key, json.dumps(rows).encode())


def read_town(row: dict[str, Any] | None) -> Town | None:
    """Give the town that a row of the cache holds."""
    return Town(**{**row, "place": LonLat(**row["place"])}) if row else None
