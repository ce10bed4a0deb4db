"""Pictures that belong together: of one shot, nearly alike, or of one scene; and panoramas."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from itertools import pairwise
from pathlib import PurePosixPath

from wayfold.photos.kinds import Kind
from wayfold.photos.likeness import count_unlike
from wayfold.photos.model import Photo

BURST_SECONDS = 10.0
REPEAT_SECONDS = 600.0
"""Beyond this, going back to a view was on purpose."""
BURST_UNLIKE = 16
REPEAT_UNLIKE = 12
"""Bits of 64. Simulated hand-held repeats differ in 12 at the 95th percentile, and of unrelated
photographs the likest pair in 18: docs/choosing.md."""
SERIES_UNLIKE = 17
SERIES_LEAST = 3
PANORAMA_ASPECT = 2.0
"""As wide as this, a picture was made to be a panorama, whatever made it."""


@dataclass(frozen=True, slots=True)
class PhotoSets:
    """Sets of photo ids, in order of time; each picture stands in at most one set of a kind.

    ``shots``: files of one shot (raw and JPEG, an edited copy). ``alike``: nearly the same
    picture taken again; holds the shots as well, so it is the sets of which one picture is enough.
    ``series``: one scene as it went on, three pictures at least. ``panoramas``: each by itself.
    """

    shots: tuple[tuple[str, ...], ...] = ()
    alike: tuple[tuple[str, ...], ...] = ()
    series: tuple[tuple[str, ...], ...] = ()
    panoramas: tuple[str, ...] = ()


NO_SETS = PhotoSets()


def find_sets(photos: Sequence[Photo], likeness: Mapping[str, str]) -> PhotoSets:
    """Give the sets among ``photos``; ``likeness`` has 16 hexadecimal digits by photo id.

    Times are the camera's own, so only pictures of one camera make a set, whatever its clock.
    Pictures without a time or a likeness stand alone. Nearly alike are pictures each of which is
    like each other (complete linkage), so that a slow turn does not become one set from end to end.
    """
    alike, shots, series = [], [], []
    for run in _divide_by_camera(photos):
        groups = _link(run, likeness)
        alike += [group for group in groups if len(group) > 1]
        shots += [s for group in groups for s in _find_shots(group)]
        series += _find_series([group[0] for group in groups], likeness)
    return PhotoSets(
        _name_in_order(shots),
        _name_in_order(alike),
        _name_in_order(series),
        tuple(p.id for p in photos if p.size.aspect >= PANORAMA_ASPECT),
    )


def _name_in_order(groups: Sequence[Sequence[Photo]]) -> tuple[tuple[str, ...], ...]:
    ordered = sorted(groups, key=lambda group: (_time(group[0]), group[0].path))
    return tuple(tuple(photo.id for photo in group) for group in ordered)


def _divide_by_camera(photos: Sequence[Photo]) -> list[list[Photo]]:
    by_camera: dict[object, list[Photo]] = defaultdict(list)
    for photo in photos:
        if photo.taken:
            by_camera[photo.camera].append(photo)
    return [sorted(run, key=lambda p: (_time(p), p.path)) for run in by_camera.values()]


def _time(photo: Photo) -> datetime:
    return photo.taken.local if photo.taken else datetime.max


def _seconds(one: Photo, other: Photo) -> float:
    return abs((_time(other) - _time(one)).total_seconds())


def _link(run: Sequence[Photo], likeness: Mapping[str, str]) -> list[list[Photo]]:
    """Give the groups of a camera's pictures, lone ones too, in order of time."""
    group_of = {i: [i] for i in range(len(run))}
    unlike = {(i, j): bits for i, j, bits in _list_alike(run, likeness)}
    for i, j in sorted(unlike, key=lambda pair: (unlike[pair], pair)):
        one, other = group_of[i], group_of[j]
        if one is other or any((min(a, b), max(a, b)) not in unlike for a in one for b in other):
            continue
        both = sorted(one + other)
        group_of.update(dict.fromkeys(both, both))
    return [[run[i] for i in group] for i, group in group_of.items() if group[0] == i]


def _list_alike(
    run: Sequence[Photo], likeness: Mapping[str, str]
) -> Iterator[tuple[int, int, int]]:
    for i, one in enumerate(run):
        for j in range(i + 1, len(run)):
            seconds = _seconds(one, run[j])
            if seconds > REPEAT_SECONDS:
                break
            if _is_one_shot(one, run[j]):
                yield i, j, 0
            elif one.id in likeness and run[j].id in likeness and _same_shape(one, run[j]):
                bits = count_unlike(likeness[one.id], likeness[run[j].id])
                if bits <= (BURST_UNLIKE if seconds <= BURST_SECONDS else REPEAT_UNLIKE):
                    yield i, j, bits


def _is_one_shot(one: Photo, other: Photo) -> bool:
    """Whether two files of one second come from one shot: one name, before its ending or number."""
    first, second = _name_of(one.path), _name_of(other.path)
    if len(first) > len(second):
        first, second = second, first
    # Names are compared first: of thousands of scans with one date, every pair comes by here.
    if not second.startswith(first) or _seconds(one, other) > 0:
        return False
    if first != second:
        # "img_1" is not the shot of "img_12", nor of "img_1_2", the second shot of one second;
        # "img_1-edited" and "img_1 (2)" are.
        rest = second[len(first) :]
        return not rest[0].isalnum() and not rest[1:].isdigit()
    # Two files of one name in two folders may be two scans of one date: only their likeness tells.
    return Kind.RAW in (one.file_format, other.file_format)


@lru_cache(maxsize=10_000)
def _name_of(path: str) -> str:
    return PurePosixPath(path).stem.lower()


def _same_shape(one: Photo, other: Photo) -> bool:
    """A view taken upright and wide is two pictures, and both may be wanted."""
    ratio = one.size.aspect / other.size.aspect
    return 0.8 <= ratio <= 1.25


def _find_shots(group: Sequence[Photo]) -> list[list[Photo]]:
    shots: list[list[Photo]] = []
    for photo in group:
        own = next((s for s in shots if any(_is_one_shot(p, photo) for p in s)), None)
        if own is None:
            shots.append([photo])
        else:
            own.append(photo)
    return [shot for shot in shots if len(shot) > 1]


def _find_series(firsts: Sequence[Photo], likeness: Mapping[str, str]) -> list[list[Photo]]:
    """Give runs of pictures, one of each set, that each go on from the one before."""
    runs: list[list[Photo]] = [[photo] for photo in firsts[:1]]
    for one, other in pairwise(firsts):
        goes_on = (
            _seconds(one, other) <= REPEAT_SECONDS
            and one.id in likeness
            and other.id in likeness
            and _same_shape(one, other)
            and count_unlike(likeness[one.id], likeness[other.id]) <= SERIES_UNLIKE
        )
        if goes_on:
            runs[-1].append(other)
        else:
            runs.append([other])
    return [run for run in runs if len(run) >= SERIES_LEAST]
