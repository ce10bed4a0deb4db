"""Towns by place and by name, kept from one run to the next."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Callable, Sequence
from functools import cached_property
from typing import Any

from wayfold.app.identity import code_key
from wayfold.base.cache import Cache
from wayfold.base.hashing import hash_values
from wayfold.base.world import LonLat
from wayfold.trip.gazetteer import Town, load_gazetteer
from wayfold.trip.town_names import TownNames, fold_name


class KeptTowns:
    """Knows what was asked before; only for something new are the world's towns loaded.

    Its questions raise UserError where the gazetteer is wanted and cannot be read.
    """

    def __init__(self, cache: Cache) -> None:
        """Take up what ``cache`` holds."""
        self._cache = cache
        self._key = hash_values("towns", code_key("trip"))
        kept = json.loads(cache.get(self._key) or b"{}")
        self._known = {asked: [_read_town(row) for row in rows] for asked, rows in kept.items()}
        self._answers: dict[str, list[Town | None]] = {}

    @cached_property
    def _world(self) -> TownNames:
        return TownNames(load_gazetteer())

    def find(self, place: LonLat) -> Town | None:
        """Give the town that ``place`` is named after, or None far from any."""
        asked = f"at {place.longitude!r} {place.latitude!r}"
        return self._answer(asked, lambda: [self._world.find(place)])[0]

    def named(self, name: str) -> Sequence[Town]:
        """Give the towns called ``name``, accents and capitals aside, the largest first."""
        found = self._answer(f"called {fold_name(name)}", lambda: list(self._world.named(name)))
        return [town for town in found if town]

    def keep(self) -> None:
        """Keep what was asked, now and before, if anything was new."""
        if self._answers.keys() <= self._known.keys():
            return
        rows = {
            asked: [dataclasses.asdict(town) if town else None for town in towns]
            for asked, towns in (self._known | self._answers).items()
        }
        self._cache.put(self._key, json.dumps(rows).encode())
        self._known |= self._answers

    def _answer(self, asked: str, ask: Callable[[], list[Town | None]]) -> list[Town | None]:
        if asked not in self._answers:
            known = self._known.get(asked)
            self._answers[asked] = ask() if known is None else known
        return self._answers[asked]


def _read_town(row: dict[str, Any] | None) -> Town | None:
    return Town(**{**row, "place": LonLat(**row["place"])}) if row else None
