"""The selection proposed of the undecided photographs, with a reason for each taken or left."""

from __future__ import annotations

import heapq
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from math import sqrt

from wayfold.book.state import Book, Pick
from wayfold.photos.model import Photo
from wayfold.photos.sets import PhotoSets
from wayfold.story.entries import Entry, spread_evenly
from wayfold.story.ranking import Ranked, rank_alike

BEARABLE = 400
"""Undecided pictures beyond this are not all taken: some 130 leaves are a thick hand-sewn book."""
STARRED = 4
"""So many stars keep a picture even where a like one is taken."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What is proposed for one photograph, and why.

    ``instead`` is the picture taken in place of one left; ``runner_up`` the next best of the set
    that a picture taken stands for.
    """

    photo: str
    taken: bool
    reason: str
    instead: str | None = None
    runner_up: str | None = None
    by_person: bool = False


def propose_selection(
    entries: Sequence[Entry],
    book: Book,
    photos: Mapping[str, Photo],
    sets: PhotoSets,
    room: int = BEARABLE,
) -> tuple[Verdict, ...]:
    """Give a verdict for every entry, in their order.

    What the person decided stands. Of pictures nearly alike one is taken, and those with four
    stars; where the rest exceed ``room``, the best rated go first, and within the last rating that
    still has room every day and stop gets its share: by the square root of its pictures, so that a
    busy hour does not crowd out a quiet day.
    """
    verdicts = {
        e.photo: _obey(e, book) for e in entries if book.choice(e.photo).pick is not Pick.OPEN
    }
    known = {e.photo: e for e in entries}
    shot_of = {photo: number for number, shot in enumerate(sets.shots) for photo in shot}
    for group in sets.alike:
        members = [known[photo] for photo in group if photo in known]
        verdicts.update(_judge_set(members, verdicts, photos, shot_of))
    standing = [e for e in entries if e.photo not in verdicts or _is_open_pick(verdicts[e.photo])]
    chosen = _share_room(standing, [e for e in entries if _by_person(verdicts, e)], room)
    full = len(chosen) < len(standing)
    for e in standing:
        verdicts[e.photo] = _judge_room(
            e, verdicts.get(e.photo), taken=e.photo in chosen, full=full
        )
    return tuple(verdicts[e.photo] for e in entries)


def _obey(entry: Entry, book: Book) -> Verdict:
    pick = book.choice(entry.photo).pick
    if pick is Pick.LEAVE:
        return Verdict(entry.photo, taken=False, reason="You leave it.", by_person=True)
    what = "You make it a hero." if pick is Pick.HERO else "You take it."
    return Verdict(entry.photo, taken=True, reason=what, by_person=True)


def _is_open_pick(verdict: Verdict) -> bool:
    return verdict.taken and not verdict.by_person


def _by_person(verdicts: Mapping[str, Verdict], entry: Entry) -> bool:
    found = verdicts.get(entry.photo)
    return found is not None and found.taken and found.by_person


def _judge_set(
    members: Sequence[Entry],
    verdicts: Mapping[str, Verdict],
    photos: Mapping[str, Photo],
    shot_of: Mapping[str, int],
) -> dict[str, Verdict]:
    """Judge the undecided of a set of pictures nearly alike."""
    undecided = [e for e in members if e.photo not in verdicts]
    if len(members) < 2 or not undecided:
        return {}
    mine = next((e.photo for e in members if _by_person(verdicts, e)), None)
    ranked = rank_alike([(e, photos[e.photo]) for e in undecided])
    judged: dict[str, Verdict] = {}
    if mine is None:
        best = ranked[0].entry.photo
        second = ranked[1].entry.photo if len(ranked) > 1 else None
        why = _tell_best(ranked[0], len(members))
        judged[best] = Verdict(best, taken=True, reason=why, runner_up=second)
    taken = mine or ranked[0].entry.photo
    shots_taken: set[int | str] = {
        shot_of.get(e.photo, e.photo) for e in members if _by_person(verdicts, e)
    }
    shots_taken.add(shot_of.get(taken, taken))
    for one in ranked:
        e = one.entry
        if e.photo in judged:
            continue
        same = shot_of.get(e.photo, e.photo) in shots_taken
        if e.rating >= STARRED and not same:
            why = f"You gave it {e.rating} stars, though a like one is taken."
            judged[e.photo] = Verdict(e.photo, taken=True, reason=why)
            shots_taken.add(shot_of.get(e.photo, e.photo))
        else:
            why = "Another file of a shot that is taken." if same else _tell_left(one, mine)
            judged[e.photo] = Verdict(e.photo, taken=False, reason=why, instead=taken)
    return judged


def _tell_best(best: Ranked, count: int) -> str:
    if best.ahead is not None:
        return f"{best.ahead.ahead} of {count} nearly alike."
    return f"The last of {count} nearly alike: look at the runner-up too."


def _tell_left(one: Ranked, mine: str | None) -> str:
    # Beside a picture that the person chose nothing needs to be said against the others.
    if one.lags is None or mine is not None:
        return "Nearly the same as another."
    return f"Nearly the same as another, {one.lags.lags}."


def _share_room(standing: Sequence[Entry], settled: Sequence[Entry], room: int) -> frozenset[str]:
    """Give the pictures that the room is shared among."""
    if len(standing) <= room:
        return frozenset(e.photo for e in standing)
    chosen: list[Entry] = []
    for rating in range(5, -1, -1):
        rated = [e for e in standing if e.rating == rating]
        chosen += _cover(rated, [*settled, *chosen], room - len(chosen))
    return frozenset(e.photo for e in chosen)


def _cell(entry: Entry) -> tuple[date | None, int | None]:
    return (entry.day, entry.stop)


def _cover(entries: Sequence[Entry], there: Sequence[Entry], room: int) -> list[Entry]:
    """Give ``room`` entries at most: always the next to the day and stop that gains most by it.

    A day at a stop that has n pictures of N gains N^(1/4) (sqrt(n + 1) - sqrt(n)), so that in the
    end n goes by the square root of N; one that has none comes before all others.
    """
    if len(entries) <= room:
        return list(entries)
    cells: dict[tuple[date | None, int | None], list[Entry]] = defaultdict(list)
    for e in entries:
        cells[_cell(e)].append(e)
    already = Counter(_cell(e) for e in there)
    names = list(cells)
    shares = [0] * len(names)

    def gain(number: int) -> tuple[bool, float, int]:
        n = already[names[number]] + shares[number]
        worth = len(cells[names[number]]) ** 0.25 * (sqrt(n + 1) - sqrt(n))
        return (n > 0, -worth, number)

    queue = [gain(number) for number in range(len(names))]
    heapq.heapify(queue)
    for _ in range(room):
        *_, number = heapq.heappop(queue)
        shares[number] += 1
        if shares[number] < len(cells[names[number]]):
            heapq.heappush(queue, gain(number))
    return [
        cells[name][i]
        for name, share in zip(names, shares, strict=True)
        for i in spread_evenly(range(len(cells[name])), share)
    ]


def _judge_room(entry: Entry, before: Verdict | None, *, taken: bool, full: bool) -> Verdict:
    if taken and before:
        return before
    if taken and not full:
        return Verdict(entry.photo, taken=True, reason="There is room for it.")
    if taken and entry.rating:
        stars = "1 star" if entry.rating == 1 else f"{entry.rating} stars"
        return Verdict(entry.photo, taken=True, reason=f"It has {stars}.")
    if taken:
        return Verdict(entry.photo, taken=True, reason="It stands for its hour of the day.")
    why = "The book is full: others of its day and place are taken."
    return Verdict(entry.photo, taken=False, reason=why)
