"""Scenes that two cameras took, sought where a clock would not be known without them."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace

from wayfold.app.code_reach import function_key
from wayfold.app.kept_reading import read_kept
from wayfold.base.hashing import hash_values
from wayfold.photos.crew import Crew
from wayfold.photos.model import Photo
from wayfold.photos.scene_marks import pack_marks, read_scene_marks, unpack_marks
from wayfold.photos.scene_match import find_same_scenes
from wayfold.project.cache import DiskCache
from wayfold.project.files import BookFolder
from wayfold.trip.clocks.evidence import Evidence
from wayfold.trip.clocks.model import ClockReading, ScenePair, State
from wayfold.trip.clocks.read import WITNESSES, Clocks, read_clocks

MOST_PICTURES = 300
"""Of a body, spread over the journey: a clock wants a dozen scenes, not all of them."""
FULL_WEIGHT = 50
"""So many agreeing marks are worth a whole piece of evidence."""


def read_clocks_with_scenes(
    folder: BookFolder, photos: Sequence[Photo], evidence: Evidence
) -> Clocks:
    """Read the clocks, those in doubt by the scenes they share with one of known time as well.

    Nothing is looked at where every clock is known, or none: pictures are read at 0.1 s each, the
    first time.
    """
    clocks = read_clocks(photos, evidence)
    pairs = _find_pairs(folder, photos, clocks.readings)
    if not pairs:
        return clocks
    return read_clocks(photos, replace(evidence, pairs=(*evidence.pairs, *pairs)))


def _find_pairs(
    folder: BookFolder, photos: Sequence[Photo], readings: Sequence[ClockReading]
) -> tuple[ScenePair, ...]:
    doubtful = [r.body.photos for r in readings if r.state in (State.UNKNOWN, State.ROUGH)]
    known = [r.body.photos for r in readings if r.state in WITNESSES]
    if not doubtful or not known:
        return ()
    content = {photo.id: photo.content for photo in photos}
    mine = [n for body in doubtful for n in _spread(body)]
    theirs = [n for body in known for n in _spread(body)]
    # An edit of the book changes none of this, and seeking takes seconds: the answer is kept.
    cache = DiskCache(folder.cache, "scenes")
    code = function_key(_find_pairs)
    key = hash_values(*(f"{n} {content[n]}" for n in mine), "/",
                      *(f"{n} {content[n]}" for n in theirs), code)  # fmt: skip
    kept = cache.get(key)
    if kept is None:
        seen = [photo for photo in photos if photo.id in {*mine, *theirs}]
        with Crew() as crew:
            marks = read_kept(
                cache,
                seen,
                read_scene_marks,
                lambda _, marks: marks,
                pack_marks,
                unpack_marks,
                crew,
            )
        rows = find_same_scenes(
            {n: marks[n] for n in mine if n in marks}, {n: marks[n] for n in theirs if n in marks}
        )
        cache.put(key, json.dumps(rows).encode())
    else:
        rows = tuple((one, other, count) for one, other, count in json.loads(kept))
    return tuple(ScenePair(one, other, min(1.0, count / FULL_WEIGHT)) for one, other, count in rows)


def _spread(names: Sequence[str]) -> Sequence[str]:
    step = max(1.0, len(names) / MOST_PICTURES)
    return [names[int(n * step)] for n in range(min(len(names), MOST_PICTURES))]
