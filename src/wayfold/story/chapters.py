"""Chapters: a place and the days spent there; by days where there are no places."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from itertools import groupby

from wayfold.base.findings import Finding, Severity
from wayfold.base.world import LonLat
from wayfold.book.state import Book, ChapterChoice
from wayfold.story.entries import Entry
from wayfold.story.model import Chapter
from wayfold.story.names import name_days, name_undated
from wayfold.trip.gazetteer import distance_m
from wayfold.trip.model import Stop, Trip

TINY = 3
"""A place with fewer pictures joins its neighbour, unless the person speaks of it."""
NEAR_M = 30_000.0
"""So far round a place the person speaks of, a stop before or after belongs to its chapter."""
DAYS_PICTURES = 16
"""Where there are no places, a chapter of days has about so many pictures."""


@dataclass(frozen=True, slots=True)
class Section:
    """A chapter, its pictures in order of time, and the key of its text."""

    chapter: Chapter
    entries: tuple[Entry, ...]
    text: str | None = None


@dataclass(frozen=True, slots=True)
class _Draft:
    name: str
    country_name: str
    entries: tuple[Entry, ...]
    place: LonLat | None = None


def divide_into_chapters(
    entries: Sequence[Entry], trip: Trip, book: Book
) -> tuple[tuple[Section, ...], tuple[Finding, ...]]:
    """Give the chapters in order of time, pictures without a day last.

    Consecutive stops at places of one name make a chapter. What the person says of a place
    (``Book.chapters``) keeps it a chapter however small and draws the stops next to it, up to
    ``NEAR_M`` away, into it; said twice, it is of the first and the second visit. A choice for
    a place that no picture was taken at gives a finding.
    """
    dated = [e for e in entries if e.local]
    if any(e.stop is not None for e in dated):
        spoken_of = frozenset(c.place for c in book.chapters)
        drafts = _join_surroundings(_draft_places(dated, trip.stops), spoken_of)
        drafts = _join_tiny(drafts, spoken_of)
    else:
        drafts = _draft_days(dated, trip, book.language)
    undated = tuple(e for e in entries if not e.local)
    if undated:
        drafts.append(_Draft(name_undated(not drafts, book.language), "", undated))
    return _apply_choices(drafts, book)


def _draft_places(entries: Sequence[Entry], stops: Sequence[Stop]) -> list[_Draft]:
    placed = zip(entries, (stops[i] for i in _lend_stops(entries)), strict=True)
    drafts = []
    for name, group in groupby(placed, key=lambda p: p[1].name):
        run = list(group)
        stop = run[0][1]
        drafts.append(_Draft(name, stop.country_name, tuple(e for e, _ in run), stop.place))
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


def _join_surroundings(drafts: list[_Draft], spoken_of: frozenset[str]) -> list[_Draft]:
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


def _are_near(one: _Draft, other: _Draft) -> bool:
    return bool(one.place and other.place and distance_m(one.place, other.place) <= NEAR_M)


def _join_tiny(drafts: list[_Draft], spoken_of: frozenset[str]) -> list[_Draft]:
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


def _pause(drafts: Sequence[_Draft], index: int) -> timedelta:
    """Give the time between a draft and the next; the longest there is where one is missing."""
    if not 0 <= index < len(drafts) - 1:
        return timedelta.max
    end, start = drafts[index].entries[-1].local, drafts[index + 1].entries[0].local
    return start - end if start and end else timedelta.max


def _merge(one: _Draft, other: _Draft, spoken_of: frozenset[str]) -> _Draft:
    """Join two drafts under the name spoken of, else of the greater, else of the earlier."""
    host = max((one, other), key=lambda d: (d.name in spoken_of, len(d.entries)))
    return replace(host, entries=one.entries + other.entries)


def _merge_namesakes(drafts: Sequence[_Draft], spoken_of: frozenset[str]) -> list[_Draft]:
    merged: list[_Draft] = []
    for draft in drafts:
        if merged and merged[-1].name == draft.name:
            merged[-1] = _merge(merged[-1], draft, spoken_of)
        else:
            merged.append(draft)
    return merged


def _draft_days(entries: Sequence[Entry], trip: Trip, language: str) -> list[_Draft]:
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
        _Draft(name_days(numbers[d[0].day], numbers[d[-1].day], language), "", d)
        for d in drafts
        if d[0].day and d[-1].day
    ]


def _apply_choices(
    drafts: Sequence[_Draft], book: Book
) -> tuple[tuple[Section, ...], tuple[Finding, ...]]:
    sections = []
    used: dict[str, int] = {}
    for draft in drafts:
        said = [c for c in book.chapters if c.place == draft.name]
        visit = used.get(draft.name, 0)
        used[draft.name] = visit + 1
        choice = said[visit] if visit < len(said) else ChapterChoice(draft.name)
        accent = choice.accent or (said[-1].accent if said else None)
        days = [e.day for e in draft.entries if e.day]
        chapter = Chapter(
            title=choice.title or draft.name,
            subtitle=choice.subtitle or "",
            country_name=draft.country_name,
            first=days[0] if days else None,
            last=days[-1] if days else None,
            accent=accent,
        )
        sections.append(Section(chapter, draft.entries, choice.text))
    return tuple(sections), tuple(_judge_choices(book, used))


def _judge_choices(book: Book, used: dict[str, int]) -> list[Finding]:
    places = ", ".join(used) or "none"
    return [
        Finding(
            "story.chapter",
            Severity.WARN,
            f"book.toml, chapter {choice.place}",
            f"No picture in the book was taken at {choice.place}, so this chapter is left out.",
            f"Write the place as the journey knows it: {places}.",
        )
        for choice in book.chapters
        if choice.place not in used
    ]
