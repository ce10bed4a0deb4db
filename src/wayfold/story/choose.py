"""Which photographs the book takes, and which of them stand across two pages or alone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Size
from wayfold.base.memory import Memory
from wayfold.base.mends import Mend
from wayfold.base.units import ppi_of
from wayfold.book.state import Book, PhotoChoice, Pick
from wayfold.photos.model import Photo
from wayfold.photos.sets import NO_SETS, PANORAMA_ASPECT, PhotoSets
from wayfold.story.entries import Entry, Role, spread_evenly
from wayfold.story.selection import BEARABLE, Verdict, propose_selection
from wayfold.trip.events import find_events
from wayfold.trip.model import Moment, Trip

HERO_ASPECT = 1.25
"""A picture across the fold is at least this much wider than high."""
HERO_SHARE_OF_SPREAD = 0.6
"""And at least this share of the aspect of two facing pages, so that wide books do not halve it."""
HERO_PPI = 150.0
"""Coarser than this over two pages, a picture looks soft at arm's length."""

PORTRAIT_RATING = 4
HERO_RATING = 5
RATED_SHARE = 8
"""Of so many pictures taken, ratings alone lift at most one to a hero and one to its own page."""


def choose_entries(
    trip: Trip,
    book: Book,
    photos: Mapping[str, Photo],
    sets: PhotoSets = NO_SETS,
    memory: Memory | None = None,
) -> tuple[tuple[Entry, ...], tuple[Finding, ...]]:
    """Give the photographs the book takes, in the trip's order, and what was left to say.

    Taken are those the person takes or makes heroes, and of the undecided what
    ``propose_selection`` says. Heroes are the person's own; where there are none, undecided
    pictures rated 5. A picture too narrow or too coarse for two pages gets one to itself, and so
    does one that asks for an interleaf; a hero that does is one without it, for the leaf would
    hide half of it. Which are taken hangs on nothing but picks and pictures, so with a ``memory``
    of the last time other decisions leave thousands unread.
    """
    memory = memory or Memory()
    verdicts = memory.recall(judge_photos, trip, _bare_of_all_but_picks(book), photos, sets)
    chosen = {v.photo for v in verdicts if v.taken}
    events = memory.recall(_number_events, trip.moments)
    taken = [
        _make_entry(m, book, photos[m.photo], events.get(m.photo))
        for m in trip.moments
        if m.photo in chosen
    ]
    findings = _tell_selection(verdicts)
    taken, refused = _name_heroes(taken, book, photos)
    veiled = [e for e in taken if e.role is Role.HERO and book.choice(e.photo).interleaf]
    refused += [_explain_veiled_hero(photos[e.photo]) for e in veiled]
    return tuple(_set_apart(_mark_scenes(taken, sets), book)), (*findings, *refused)


def _mark_scenes(entries: Sequence[Entry], sets: PhotoSets) -> list[Entry]:
    scenes = {photo: number for number, series in enumerate(sets.series) for photo in series}
    return [replace(e, scene=scenes[e.photo]) if e.photo in scenes else e for e in entries]


def judge_photos(
    trip: Trip, book: Book, photos: Mapping[str, Photo], sets: PhotoSets = NO_SETS
) -> tuple[Verdict, ...]:
    """Give for every photograph, in the trip's order, whether the book takes it and why."""
    there = [_make_entry(m, book, photos[m.photo], None) for m in trip.moments if m.photo in photos]
    return propose_selection(there, book, photos, sets)


def _bare_of_all_but_picks(book: Book) -> Book:
    picks = {key: PhotoChoice(one.pick) for key, one in book.choices.items()}
    return Book("", choices=picks)


def _number_events(moments: tuple[Moment, ...]) -> Mapping[str, int]:
    """Number the events, told by all pictures: those left out fill the pauses between others."""
    dated = [m for m in moments if m.local]
    return dict(zip((m.photo for m in dated), find_events(dated), strict=True))


def _make_entry(moment: Moment, book: Book, photo: Photo, event: int | None) -> Entry:
    aspect = _shown_size(book, photo).aspect
    rating = min(max(photo.rating or 0, 0), 5)
    named = book.choice(photo.id).text
    text = named if named and book.texts.get(named, "").strip() else None
    return Entry(photo.id, moment.local, moment.stop, aspect, rating, event=event, text=text)


def _shown_size(book: Book, photo: Photo) -> Size:
    """Give the pixels across and down of the part of a picture that is shown."""
    crop, whole = book.choice(photo.id).crop, photo.size
    across, down = (crop.width, crop.height) if crop else (1.0, 1.0)
    return Size(whole.width_px * across, whole.height_px * down)


def _tell_selection(verdicts: Sequence[Verdict]) -> list[Finding]:
    alike = [v for v in verdicts if v.instead]
    undecided = [v for v in verdicts if not v.by_person]
    full = len(undecided) - len(alike) - sum(v.taken for v in undecided)
    findings = []
    if alike:
        kept = len({v.instead for v in alike})
        findings.append(
            Finding(
                "story.alike",
                Severity.NOTE,
                "photographs",
                f"{len(alike)} undecided photographs are left, for {kept} that are nearly the "
                "same or of the same shot are taken.",
                f"They are listed with the reasons: {Mend.CHOOSE}. What you take is always taken.",
            )
        )
    if full:
        findings.append(
            Finding(
                "story.many",
                Severity.WARN,
                "photographs",
                f"Of {len(undecided):,} undecided photographs the book takes {BEARABLE}: the best "
                "rated, and among equals some of every day and place.",
                f"Decide on the pictures that matter: {Mend.PICK}. What you take is always taken.",
            )
        )
    return findings


def _name_heroes(
    entries: Sequence[Entry], book: Book, photos: Mapping[str, Photo]
) -> tuple[list[Entry], list[Finding]]:
    """Give the entries with heroes named, and a finding for each the person named in vain."""
    by_hand = [i for i, e in enumerate(entries) if book.choice(e.photo).pick is Pick.HERO]
    able = [bears_two_pages(book, photos[e.photo]) for e in entries]
    heroes = set(by_hand) or set(_find_rated_heroes(entries, able, book))
    named = [
        replace(e, role=Role.HERO if able[i] else Role.ALONE) if i in heroes else e
        for i, e in enumerate(entries)
    ]
    return named, [
        _explain_coarse(book, photos[entries[i].photo])
        for i in by_hand
        if not able[i] and is_wide(book, photos[entries[i].photo])
    ]


def _find_rated_heroes(entries: Sequence[Entry], able: Sequence[bool], book: Book) -> list[int]:
    rated = [
        i
        for i, e in enumerate(entries)
        if able[i]
        and e.rating >= HERO_RATING
        and book.choice(e.photo).pick is Pick.OPEN
        and not book.choice(e.photo).alone
    ]
    return spread_evenly(rated, max(1, len(entries) // RATED_SHARE))


def is_wide(book: Book, photo: Photo) -> bool:
    """Whether the part shown is wide enough to lie across two facing pages."""
    least = max(HERO_ASPECT, HERO_SHARE_OF_SPREAD * 2.0 * book.trim.aspect)
    return _shown_size(book, photo).aspect >= least


def bears_two_pages(book: Book, photo: Photo) -> bool:
    """Whether a picture is wide enough, and fine enough, to lie across two facing pages."""
    return is_wide(book, photo) and _spread_ppi(book, photo) >= HERO_PPI


def _spread_ppi(book: Book, photo: Photo) -> float:
    return ppi_of(_shown_size(book, photo).width, 2.0 * book.trim.width)


def _explain_coarse(book: Book, photo: Photo) -> Finding:
    return Finding(
        "story.hero",
        Severity.WARN,
        photo.path,
        f"The picture is to be a hero, but across two pages it has {_spread_ppi(book, photo):.0f} "
        f"pixels an inch, and {HERO_PPI:.0f} are the least. It gets one page to itself.",
        "Use the original in full size, or crop it less.",
    )


def _explain_veiled_hero(photo: Photo) -> Finding:
    return Finding(
        "story.interleaf",
        Severity.WARN,
        photo.path,
        "The picture is to be a hero and to lie under a translucent leaf, which would cover only "
        "half of it. It is a hero without a leaf.",
        'Take it instead of making it a hero (pick = "take"), or do without interleaf.',
    )


def _set_apart(entries: Sequence[Entry], book: Book) -> list[Entry]:
    """Give the entries with those named that stand apart from the groups of their day.

    A page to themselves get those the person asked it for and the best rated upright pictures;
    panoramas stand with their neighbours of that kind.
    """
    free = [i for i, e in enumerate(entries) if e.role is Role.TOGETHER]
    apart = {
        i
        for i in free
        if book.choice(entries[i].photo).alone or book.choice(entries[i].photo).interleaf
    }
    wide = {i for i in free if i not in apart and entries[i].aspect >= PANORAMA_ASPECT}
    upright = [
        i
        for i in free
        if i not in apart and entries[i].aspect < 1.0 and entries[i].rating >= PORTRAIT_RATING
    ]
    apart.update(spread_evenly(upright, max(1, len(entries) // RATED_SHARE)))
    told = {i for i in free if entries[i].text}
    roles = dict.fromkeys(wide, Role.PANORAMA) | dict.fromkeys(apart, Role.ALONE)
    roles |= dict.fromkeys(told, Role.ACCOUNT)
    alone = [replace(e, role=roles[i]) if i in roles else e for i, e in enumerate(entries)]
    return [
        replace(e, interleaf=True) if e.role is Role.ALONE and book.choice(e.photo).interleaf else e
        for e in alone
    ]
