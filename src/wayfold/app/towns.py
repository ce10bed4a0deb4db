"""The towns of the book's places, kept from one run to the next."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Iterable
from typing import Any

from wayfold.app.identity import code_key
from wayfold.base.cache import Cache
from wayfold.base.hashing import hash_values
from wayfold.base.world import LonLat
from wayfold.trip.gazetteer import Town, load_gazetteer


class KeptTowns:
    """Knows the towns of some places; the world's towns are loaded only when places are new."""

    def __init__(self, places: Iterable[LonLat], cache: Cache) -> None:
        """Find the towns of ``places`` in ``cache``, or else in the gazetteer, and keep them.

        Raises UserError where the gazetteer is wanted and cannot be read.
        """
        wanted = sorted(set(places), key=lambda p: (p.longitude, p.latitude))
        key = hash_values(code_key("trip"), wanted)
        kept = cache.get(key)
        if kept is None:
            world = load_gazetteer()
            towns = [world.find(place) for place in wanted]
            rows = [dataclasses.asdict(town) if town else None for town in towns]
            cache.put(key, json.dumps(rows).encode())
        else:
            towns = [_read_town(row) for row in json.loads(kept)]
        self._towns = dict(zip(wanted, towns, strict=True))

    def find(self, place: LonLat) -> Town | None:
        """Give the town a picture taken at one of the places is named after."""
        return self._towns[place]


def _read_town(row: dict[str, Any] | None) -> Town | None:
    return Town(**{**row, "place": LonLat(**row["place"])}) if row else None
