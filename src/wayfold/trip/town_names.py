"""Towns by their names, however these are written: for what calendars and people call places."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from difflib import SequenceMatcher
from typing import Protocol

from wayfold.base.world import LonLat
from wayfold.trip.earth import distance_m
from wayfold.trip.gazetteer import Gazetteer, Town

NEAR_JOURNEY_M = 100_000.0
"""A town of that name this near to where the journey went is the one that is meant."""
LARGE_TOWN = 50_000
"""Far from the journey, only a town this large is meant without its country."""
ALIKE = 0.6
"""Names of one town in two languages begin alike and share this much (own measure, on a dozen
Italian, Portuguese and German towns); only towns of the journey come into question."""
_POST_CODE = re.compile(r"\b[A-Z]{0,3}-?\d[\w-]*\b")


class NameFinder(Protocol):
    """Says which towns bear a name, and which town a place is named after."""

    def find(self, place: LonLat) -> Town | None:
        """Give the town that ``place`` is named after, or None far from any."""

    def named(self, name: str) -> Sequence[Town]:
        """Give the towns called ``name``, accents and capitals aside, the largest first."""


class NoNames:
    """Knows no names."""

    def find(self, place: LonLat) -> Town | None:  # noqa: ARG002
        """Nothing is known."""
        return None

    def named(self, name: str) -> Sequence[Town]:  # noqa: ARG002
        """Nothing is known."""
        return ()


class TownNames:
    """All towns of a gazetteer by name; the index is made when first asked."""

    def __init__(self, gazetteer: Gazetteer) -> None:
        """Look names up in ``gazetteer``."""
        self._gazetteer = gazetteer
        self._index: dict[str, list[int]] = {}

    def find(self, place: LonLat) -> Town | None:
        """Give the town that ``place`` is named after, or None far from any."""
        return self._gazetteer.find(place)

    def named(self, name: str) -> Sequence[Town]:
        """Give the towns called ``name``, accents and capitals aside, the largest first."""
        if not self._index:
            for number in range(len(self._gazetteer)):
                key = fold_name(self._gazetteer.town(number).name)
                self._index.setdefault(key, []).append(number)
        towns = [self._gazetteer.town(n) for n in self._index.get(fold_name(name), ())]
        return sorted(towns, key=lambda t: -t.population)


def fold_name(name: str) -> str:
    """Give a name without accents, capitals and hyphens, for comparing."""
    plain = unicodedata.normalize("NFKD", name).casefold()
    letters = "".join(c for c in plain if not unicodedata.combining(c))
    return " ".join(letters.replace("-", " ").replace("’", "'").split())


def find_meant(text: str, near: Sequence[LonLat], finder: NameFinder) -> Town | None:
    """Give the town that an address or a name means, or None where that cannot be told.

    Of all towns that any part of the text names, the one nearest to the journey's places, within
    ``NEAR_JOURNEY_M``; a later part of an address wins over an earlier one as near. Elsewhere
    only a name that one large town bears is clear enough. A name that no town bears may be that
    of a town of the journey in another language: "Lisboa" is Lisbon, "Torino" Turin.
    """
    candidates = list(_list_candidates(text, finder))
    if not candidates:
        return _find_alike(text, near, finder)
    away = [
        (min((distance_m(town.place, place) for place in near), default=float("inf")), -part, town)
        for part, town in candidates
    ]
    nearest = min(away, key=lambda a: (round(a[0], -3), a[1], -a[2].population))
    if nearest[0] <= NEAR_JOURNEY_M:
        return nearest[2]
    large = {town for _, town in candidates if town.population >= LARGE_TOWN}
    return large.pop() if len(large) == 1 else None


def _find_alike(text: str, near: Sequence[LonLat], finder: NameFinder) -> Town | None:
    towns = {town for place in near if (town := finder.find(place))}
    best = 0.0
    found = None
    for part in _split(text):
        name = fold_name(part)
        for town in sorted(towns, key=lambda t: t.name):
            other = fold_name(town.name)
            match = SequenceMatcher(None, name, other)
            if name[:1] != other[:1] or match.real_quick_ratio() < ALIKE:
                continue
            likeness = match.ratio()
            if likeness >= ALIKE and likeness > best:
                best, found = likeness, town
    return found


def _list_candidates(text: str, finder: NameFinder) -> Iterator[tuple[int, Town]]:
    for number, part in enumerate(_split(text)):
        for town in finder.named(part):
            yield number, town


def _split(text: str) -> Iterable[str]:
    parts = [text, *re.split(r"[,;\n()/|]| - | – ", text)]
    parts += [_POST_CODE.sub(" ", part) for part in parts]
    cleaned = (" ".join(part.split()).strip(" .:-–") for part in parts)
    return dict.fromkeys(part for part in cleaned if len(part) > 1)
