"""From places to stops: which town each moment belongs to, and where one stayed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from itertools import groupby

from wayfold.trip.earth import distance_m
from wayfold.trip.gazetteer import Town

BORROW_WITHIN = timedelta(hours=6)
"""A picture without a place takes that of the nearest one in time, on the same day, up to this."""

FILL_WITHIN = timedelta(hours=36)
"""Between two pictures of one stop no more apart than this, those without a place are of it."""

EXCURSION_PICTURES = 2
EXCURSION_M = 30_000.0
"""So few pictures, so near, in the middle of a stay, are an excursion and no stop of their own."""


@dataclass(frozen=True, slots=True)
class Sighting:
    """A dated picture and the town it is named after, if any is known."""

    photo: str
    local: datetime
    town: Town | None


@dataclass(frozen=True, slots=True)
class Stay:
    """A run of pictures at one town, by the first and last index into the sightings."""

    town: Town
    first: int
    last: int
    pictures: int


def borrow_places(sightings: Sequence[Sighting]) -> list[Sighting]:
    """Give each picture without a town that of its nearest neighbour in time.

    Only from the same local day and within ``BORROW_WITHIN``; of two equally near the earlier.
    ``sightings`` are in order of time.
    """
    before = _last_known(sightings)
    after = _last_known(sightings[::-1])[::-1]
    return [
        one if one.town else replace(one, town=_nearer(one, earlier, later))
        for one, earlier, later in zip(sightings, before, after, strict=True)
    ]


def _last_known(sightings: Sequence[Sighting]) -> list[Sighting | None]:
    known: list[Sighting | None] = []
    last: Sighting | None = None
    for sighting in sightings:
        last = sighting if sighting.town else last
        known.append(last)
    return known


def _nearer(one: Sighting, earlier: Sighting | None, later: Sighting | None) -> Town | None:
    near = [
        (abs(other.local - one.local), order, other.town)
        for order, other in enumerate((earlier, later))
        if other
        and other.local.date() == one.local.date()
        and abs(other.local - one.local) <= BORROW_WITHIN
    ]
    return min(near, key=lambda n: n[:2])[2] if near else None


def find_stays(sightings: Sequence[Sighting]) -> tuple[Stay, ...]:
    """Give the stays in order: one a run of pictures at one town, small excursions joined."""
    placed = [(i, s.town) for i, s in enumerate(sightings) if s.town]
    stays: list[Stay] = []
    for town, run in groupby(placed, key=lambda p: p[1]):
        indices = [i for i, _ in run]
        if town:
            stays.append(Stay(town, indices[0], indices[-1], len(indices)))
            _join_excursions(stays)
    return tuple(stays)


def _join_excursions(stays: list[Stay]) -> None:
    """Join the last stay to an earlier one at the same town if only excursions lie between."""
    newest = stays[-1]
    for back in range(len(stays) - 2, -1, -1):
        stay = stays[back]
        if stay.town == newest.town:
            pictures = sum(s.pictures for s in stays[back:])
            stays[back:] = [Stay(stay.town, stay.first, newest.last, pictures)]
            return
        away_m = distance_m(stay.town.place, newest.town.place)
        if stay.pictures > EXCURSION_PICTURES or away_m > EXCURSION_M:
            return


def assign_stays(sightings: Sequence[Sighting], stays: Sequence[Stay]) -> list[int | None]:
    """Give each picture the index of its stay, or None."""
    before, after = _last_known(sightings), _last_known(sightings[::-1])[::-1]
    assigned: list[int | None] = [None] * len(sightings)
    for number, stay in enumerate(stays):
        for index in range(stay.first, stay.last + 1):
            # A stay begins and ends with a known town, so its inside has one on both sides.
            earlier, later = before[index], after[index]
            if earlier and later and later.local - earlier.local <= FILL_WITHIN:
                assigned[index] = number
    return assigned
