"""Where the map of a country goes on a leaf: as large as it can be with its names still read."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from wayfold.base.geometry import Affine, Rect, Size
from wayfold.book.see_through import Sheet
from wayfold.drawing.contrast import worst_ground
from wayfold.drawing.items import Drawing, Placed
from wayfold.pages.ground import Ground
from wayfold.pages.leaf_marks import judge_items

AIR = 6.0
"""White (mm) between the title and a map beside it."""
SCALES = (1.0, 0.85, 0.7, 0.55)
"""How large a map may be against the largest room, the largest first."""
SHIFTS = 8
"""How many places are tried across and down."""
TRIES = 4
"""So many of the lightest rooms are drawn, for names fall differently in each."""


def place_country(
    draw: Callable[[Size], Drawing], ground: Ground, sheet: Sheet, trim: Size, words: Rect
) -> Placed:
    """Give the map beside ``words``, where its own names and lines stand out enough.

    The largest room is taken where they do; else the lightest smaller ones are tried and the one
    taken whose worst mark is best.
    """
    largest = _find_room(trim, words)
    best = _place(draw, largest)
    worth = _judge(best, ground, sheet)
    if worth >= 1.0:
        return best
    for room in _list_light_rooms(ground, trim, words, largest.size):
        other = _place(draw, room)
        found = _judge(other, ground, sheet)
        if found > worth:
            best, worth = other, found
        if found >= 1.0:
            break
    return best


def _place(draw: Callable[[Size], Drawing], room: Rect) -> Placed:
    return Placed(draw(room.size), Affine.shift(room.x, room.y), room)


def _judge(placed: Placed, ground: Ground, sheet: Sheet) -> float:
    """The worst mark's contrast against what it needs: from 1 on all are seen."""
    return min((v.margin for v in judge_items((placed,), ground, sheet)), default=1.0)


def _find_room(trim: Size, words: Rect) -> Rect:
    """Give the larger part of a page beside words on it: below them, or above."""
    above, below = words.y - AIR, trim.height - words.bottom - AIR
    if below >= above:
        return Rect(0.0, words.bottom + AIR, trim.width, below)
    return Rect(0.0, 0.0, trim.width, above)


def _list_light_rooms(ground: Ground, trim: Size, words: Rect, largest: Size) -> Iterator[Rect]:
    """Smaller rooms, one a size: the one whose darkest part is lightest; light ones first."""
    chosen = []
    for scale in SCALES:
        size = Size(round(largest.width * scale, 2), round(largest.height * scale, 2))
        rooms = [
            Rect(x, y, size.width, size.height)
            for x in _spread(trim.width - size.width)
            for y in _spread(trim.height - size.height)
        ]
        free = [r for r in rooms if r.overlap(words.grown(AIR)) is None]
        if free:
            worths = [worst_ground(ground.read_light(r), 0.0) for r in free]
            light = max(worths)
            chosen.append((light, free[worths.index(light)]))
    chosen.sort(key=lambda pair: -pair[0])
    yield from (room for _, room in chosen[:TRIES])


def _spread(room: float) -> list[float]:
    if room <= 0.0:
        return [0.0]
    return [round(room * i / SHIFTS, 2) for i in range(SHIFTS + 1)]
