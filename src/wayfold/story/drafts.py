"""Chapters in the making: runs of pictures by place or by days, and how small ones join."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from itertools import groupby

from wayfold.base.world import LonLat
from wayfold.story.entries import Entry
from wayfold.story.names import name_days
from wayfold.trip.earth import distance_m
from wayfold.trip.model import Stop, Trip

TINY = 3
"""A place with fewer pictures joins its neighbour, unless the person speaks of it."""
NEAR_M = 30_000.0
"""So far round a place the person speaks of, a stop before or after belongs to its chapter."""
DAYS_PICTURES = 16
"""Where there are no places, a chapter of days has about so many pictures."""


@dataclass(frozen=True, slots=True)
class Draft:
    """A run of pictures that may become a chapter; ``name`` is that of its place or its days."""

    name: str
    country_name: str
    entries: tuple[Entry, ...]
    place: LonLat | None = None
    country: str = ""


def draft_places(entries: Sequence[Entry], stops: Sequence[Stop]) -> list[Draft]:
    """Give a draft for each run of stops of one name; at least one entry has a stop."""
    placed = zip(entries, (stops[i] for i in _lend_stops(entries)), strict=True)
    drafts = []
    for name, group in groupby(placed, key=lambda p: p[1].name):
        run = list(group)
        stop = run[0][1]
        drafts.append(
            Draft(name, stop.country_name, tuple(e for e, _ in run), stop.place, stop.country)
        )
    return drafts


def _lend_stops(entries: Sequence[Entry]) -> list[int]:
    """Give each entry's stop; one without takes that of the nearest in time that has one."""
    lent = []
    known = [(e.local, e.stop) for e in entries if e.local and e.stop is not None]
    upto = 0
    for entry in entries:
        local = entry.local or datetime.min
        while upto < len(known) and known[upto][0] <= local:
            upto += 1
        near = known[max(upto - 1, 0) : upto + 1]
        lent.append(
            entry.stop
            if entry.stop is not None
            else min(near, key=lambda k: (abs(k[0] - local), k[0]))[1]
        )
    return lent


def join_surroundings(drafts: list[Draft], spoken_of: frozenset[str]) -> list[Draft]:
    """Join stops near a place the person speaks of to its chapter, one neighbour at a time."""
    joined = list(drafts)
    index = 0
    while index < len(joined) - 1:
        one, other = joined[index : index + 2]
        if (one.name in spoken_of) != (other.name in spoken_of) and _are_near(one, other):
            joined[index : index + 2] = [_merge(one, other, spoken_of)]
            joined = _merge_namesakes(joined, spoken_of)
            index = max(0, index - 1)
        else:
            index += 1
    return joined


def _are_near(one: Draft, other: Draft) -> bool:
    return bool(one.place and other.place and distance_m(one.place, other.place) <= NEAR_M)


def join_tiny(drafts: list[Draft], spoken_of: frozenset[str]) -> list[Draft]:
    """Join each place of fewer than ``TINY`` pictures to the neighbour nearer in time."""
    joined = list(drafts)
    while len(joined) > 1:
        tiny = [
            i for i, d in enumerate(joined) if len(d.entries) < TINY and d.name not in spoken_of
        ]
        if not tiny:
            break
        least = min(tiny, key=lambda i: (len(joined[i].entries), i))
        before, after = _pause(joined, least - 1), _pause(joined, least)
        first = least - 1 if before <= after and least else least
        joined[first : first + 2] = [_merge(joined[first], joined[first + 1], spoken_of)]
        joined = _merge_namesakes(joined, spoken_of)
    return joined


def _pause(drafts: Sequence[Draft], index: int) -> timedelta:
    """Give the time between a draft and the next; the longest there is where one is missing."""
    if not 0 <= index < len(drafts) - 1:
        return timedelta.max
    end, start = drafts[index].entries[-1].local, drafts[index + 1].entries[0].local
    return start - end if start and end else timedelta.max


def _merge(one: Draft, other: Draft, spoken_of: frozenset[str]) -> Draft:
    """Join two drafts under the name spoken of, else of the greater, else of the earlier."""
    host = max((one, other), key=lambda d: (d.name in spoken_of, len(d.entries)))
    return replace(host, entries=one.entries + other.entries)


def _merge_namesakes(drafts: Sequence[Draft], spoken_of: frozenset[str]) -> list[Draft]:
    merged: list[Draft] = []
    for draft in drafts:
        if merged and merged[-1].name == draft.name:
            merged[-1] = _merge(merged[-1], draft, spoken_of)
        else:
            merged.append(draft)
    return merged


def draft_days(entries: Sequence[Entry], trip: Trip, language: str) -> list[Draft]:
    """Divide whole days into chapters of about equal numbers of pictures."""
    numbers = {day.date: day.number for day in trip.days}
    count = max(1, round(len(entries) / DAYS_PICTURES))
    drafts: list[tuple[Entry, ...]] = []
    upto, taken = 0, 0
    for _, run in groupby(entries, key=lambda e: e.day):
        day = tuple(run)
        # The chapter in whose share of all pictures the middle of this day falls.
        share = int((taken + len(day) / 2) * count / len(entries))
        taken += len(day)
        if drafts and share == upto:
            drafts[-1] += day
        else:
            drafts.append(day)
        upto = share
    return [
        Draft(name_days(numbers[d[0].day], numbers[d[-1].day], language), "", d)
        for d in drafts
        if d[0].day and d[-1].day
    ]
