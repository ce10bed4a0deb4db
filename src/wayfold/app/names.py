"""Towns by the names that calendars and the person use, kept from one run to the next."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Callable, Sequence
from functools import cached_property

from wayfold.app.identity import code_key
from wayfold.app.towns import read_town
from wayfold.base.cache import Cache
from wayfold.base.hashing import hash_values
from wayfold.base.world import LonLat
from wayfold.trip.gazetteer import Town, load_gazetteer
from wayfold.trip.town_names import TownNames, fold_name


class KeptNames:
    """Says which towns bear a name; the world's towns are loaded only for one not asked before."""

    def __init__(self, cache: Cache) -> None:
        """Keep in ``cache`` what the gazetteer says."""
        self._cache = cache
        self._code = code_key("trip")

    @cached_property
    def _world(self) -> TownNames:
        return TownNames(load_gazetteer())

    def find(self, place: LonLat) -> Town | None:
        """Give the town that ``place`` is named after, or None far from any."""
        found = self._keep(("place", place), lambda: [self._world.find(place)])
        return found[0]

    def named(self, name: str) -> Sequence[Town]:
        """Give the towns called ``name``, accents and capitals aside, the largest first."""
        found = self._keep(("name", fold_name(name)), lambda: list(self._world.named(name)))
        return [town for town in found if town]

    def _keep(
        self, asked: tuple[str, object], ask: Callable[[], list[Town | None]]
    ) -> list[Town | None]:
        key = hash_values(self._code, asked)
        kept = self._cache.get(key)
        if kept is None:
            towns = ask()
            rows = [dataclasses.asdict(town) if town else None for town in towns]
            self._cache.put(key, json.dumps(rows).encode())
            return towns
        return [read_town(row) for row in json.loads(kept)]
