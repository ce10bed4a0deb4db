"""Which photographs the book takes, day by day, with a reason for each taken and each left."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path
from typing import Any

from wayfold.app.journey import derive_journey
from wayfold.app.sets import list_sets
from wayfold.app.stages import read_looks
from wayfold.base.progress import Progress
from wayfold.photos.model import Photo
from wayfold.photos.sets import PhotoSets
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book, remember_photos
from wayfold.story.choose import judge_photos
from wayfold.story.selection import Verdict
from wayfold.trip.model import Moment

SCHEMA = "wayfold.choosing/1"


@dataclass(frozen=True, slots=True)
class Choosing:
    """Verdicts in the trip's order, with what they are about."""

    verdicts: tuple[Verdict, ...]
    moments: tuple[Moment, ...]
    places: tuple[str, ...]
    """The names of the trip's stops."""
    photos: dict[str, Photo]
    sets: PhotoSets

    def day_of(self, index: int) -> str:
        """The day of a verdict, in words."""
        local = self.moments[index].local
        return local.date().isoformat() if local else "no day known"

    def place_of(self, index: int) -> str:
        """The place of a verdict, or nothing."""
        stop = self.moments[index].stop
        return "" if stop is None else self.places[stop]


def choose_photos(root: Path, progress: Progress) -> Choosing:
    """Give what the book in ``root`` takes and leaves.

    Raises UserError for what the person has to mend first.
    """
    folder = BookFolder(root.resolve())
    stored = load_book(folder)
    catalogue = read_looks(folder, stored, progress)
    remember_photos(folder, stored.known, catalogue.photos)
    trip, _ = derive_journey(folder, stored.book, catalogue)
    photos = {photo.id: photo for photo in catalogue.photos}
    sets = list_sets(catalogue.photos)
    verdicts = judge_photos(trip, stored.book, photos, sets)
    moments = {m.photo: m for m in trip.moments}
    return Choosing(
        verdicts,
        tuple(moments[v.photo] for v in verdicts),
        tuple(stop.name for stop in trip.stops),
        photos,
        sets,
    )


def tell_choosing(choosing: Choosing) -> Iterator[str]:
    """Give the choice in lines, a heading for every day."""
    numbered = list(enumerate(choosing.verdicts))
    for day, run in groupby(numbered, key=lambda pair: choosing.day_of(pair[0])):
        rows = list(run)
        places = dict.fromkeys(p for i, _ in rows if (p := choosing.place_of(i)))
        taken = sum(v.taken for _, v in rows)
        head = " · ".join(filter(None, (day, ", ".join(places))))
        yield f"{head}: {taken} of {len(rows)} taken"
        for _, verdict in rows:
            yield _tell_verdict(verdict, choosing)
    taken = sum(v.taken for v in choosing.verdicts)
    yield f"In all {taken} of {len(choosing.verdicts)} photographs are taken."


def _tell_verdict(verdict: Verdict, choosing: Choosing) -> str:
    def name(photo: str) -> str:
        return f"{Path(choosing.photos[photo].path).name} ({photo})"

    line = f"  {'take ' if verdict.taken else 'leave'}  {name(verdict.photo)}: {verdict.reason}"
    if verdict.instead:
        line += f" Taken: {name(verdict.instead)}."
    if verdict.runner_up:
        line += f" Runner-up: {name(verdict.runner_up)}."
    return line


def describe_choosing(choosing: Choosing) -> dict[str, Any]:
    """Give the choice as plain values."""
    sets = choosing.sets
    return {
        "schema": SCHEMA,
        "photographs": [
            {
                "photo": v.photo,
                "file": choosing.photos[v.photo].path,
                "day": choosing.day_of(i) if choosing.moments[i].local else None,
                "place": choosing.place_of(i) or None,
                "taken": v.taken,
                "by_person": v.by_person,
                "reason": v.reason,
                "instead": v.instead,
                "runner_up": v.runner_up,
            }
            for i, v in enumerate(choosing.verdicts)
        ],
        "sets": {
            "shots": [list(s) for s in sets.shots],
            "alike": [list(s) for s in sets.alike],
            "series": [list(s) for s in sets.series],
            "panoramas": list(sets.panoramas),
        },
    }
