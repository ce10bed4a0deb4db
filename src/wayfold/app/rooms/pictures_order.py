"""The order in which photographs are shown: by time, what belongs together together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

NO_DAY = -1


def number_sets(sets: Sequence[Sequence[str]]) -> dict[str, int]:
    """Give the number of each photograph's set."""
    return {photo: number for number, group in enumerate(sets) for photo in group}


def number_scenes(
    series: Sequence[Sequence[str]], alike: Sequence[Sequence[str]]
) -> dict[str, int]:
    """Give each picture's scene; one that is like a picture of a scene belongs to it."""
    scene = number_sets(series)
    for group in alike:
        numbers = [scene[photo] for photo in group if photo in scene]
        scene.update({photo: numbers[0] for photo in group if numbers and photo not in scene})
    return scene


def order_together(
    timely: Sequence[str],
    day_of: Mapping[str, int],
    scene: Mapping[str, int],
    alike: Mapping[str, int],
) -> list[str]:
    """Give the photographs in order of time, but those of a scene or set after its first."""
    scenes, sets = (_find_firsts(timely, day_of, numbers) for numbers in (scene, alike))
    undated = len(timely)
    rank = {
        photo: (
            day_of.get(photo, undated),
            scenes[photo] if photo in scene else sets[photo],
            sets[photo],
            at,
        )
        for at, photo in enumerate(timely)
    }
    return sorted(timely, key=rank.__getitem__)


def _find_firsts(
    timely: Sequence[str], day_of: Mapping[str, int], numbers: Mapping[str, int]
) -> dict[str, int]:
    """Give where the first of each photograph's set stands on its day; alone, where it stands."""
    first: dict[tuple[int, int], int] = {}
    return {
        photo: first.setdefault((day_of.get(photo, NO_DAY), numbers[photo]), at)
        if photo in numbers
        else at
        for at, photo in enumerate(timely)
    }
