"""Where the map of a country goes on a leaf: as large as it can be with its names still read."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from wayfold.base.geometry import Affine, Rect, Size
from wayfold.book.see_through import Sheet
from wayfold.drawing.items import Drawing, Placed
from wayfold.pages.ground import Ground
from wayfold.pages.leaf_marks import Mark, list_marks

AIR = 6.0
"""White (mm) between the words and a map beside them."""
SCALES = (1.0, 0.85, 0.7, 0.6, 0.5)
"""How large a map may be against the largest room beside the words, the largest first."""
SHIFTS = 16
"""How many places are tried across and down."""
COMFORT = 1.25
"""Contrast against what is needed from which more is no gain."""
AWAY = 0.5
"""What a map loses a page's height away from the middle of the largest room."""
SIZE = 0.3
"""What the largest map gains against none."""
WATCHED = 0.3
"""What a map loses whose marks lie where the eye goes as much as to the mean of the picture."""
UNREAD = 2.0
"""What a map loses that cannot be read."""
EVERY = 3
"""Of a map's marks each so-manieth is asked for that."""


@dataclass(frozen=True, slots=True)
class PlacedMap:
    """A map in its place, what that is worth, and its worst mark's contrast against its need."""

    placed: Placed
    worth: float
    least: float


def place_country(
    draw: Callable[[Size], Drawing], ground: Ground, sheet: Sheet, page: Rect, words: Rect
) -> PlacedMap:
    """Give the map on ``page`` beside ``words``.

    It is drawn in several sizes, each moved over the page. Of the places where its names and lines
    stand out enough, one is taken that is large, near the middle of the room beside the words, and
    off what the eye goes to; where there is none, the one that comes nearest.
    """
    largest = _find_room(page, words)
    able: list[PlacedMap] = []
    failing: list[PlacedMap] = []
    for scale in SCALES:
        size = Size(round(largest.width * scale, 2), round(largest.height * scale, 2))
        drawing = draw(size)
        marks = tuple(list_marks(drawing.items))
        for room in _list_rooms(page, size):
            floor = 1.0 if able else failing[-1].least if failing else -math.inf
            least = _judge(marks, room, ground, sheet, words, floor)
            placed = Placed(drawing, Affine.shift(room.x, room.y), room)
            if least >= 1.0:
                off = math.dist(_middle(room), _middle(largest))
                worth = SIZE * scale + min(least, COMFORT) - AWAY * off / page.height
                worth -= WATCHED * _watch(marks, room, ground)
                able.append(PlacedMap(placed, worth, least))
            elif least > floor:
                failing.append(PlacedMap(placed, least - UNREAD, least))
    return max(able or failing, key=lambda tried: tried.worth)


def _middle(room: Rect) -> tuple[float, float]:
    return room.center.x, room.center.y


def _watch(marks: Sequence[Mark], room: Rect, ground: Ground) -> float:
    places = [place for mark in marks for place in mark.places][::EVERY]
    at = [place.moved(room.x, room.y).center for place in places]
    return sum(ground.watch_at(point) for point in at) / max(len(at), 1)


def _judge(
    marks: Sequence[Mark], room: Rect, ground: Ground, sheet: Sheet, words: Rect, floor: float
) -> float:
    """The worst mark's contrast against what it needs, in a room; 0 where marks meet words.

    From ``floor`` down it does not matter how bad it is, so the rest is not looked at.
    """
    beside = words.grown(AIR)
    worst = COMFORT
    moved = [mark.moved(room.x, room.y) for mark in marks]
    if any(place.overlap(beside) for mark in moved for place in mark.places):
        return 0.0
    # What is read needs most and lies on least, so it decides soonest.
    for mark in sorted(moved, key=lambda m: -m.needs):
        if mark.measure_dark(sheet) < mark.needs:
            worst = min(worst, mark.measure(ground, sheet) / mark.needs)
        if worst <= floor and worst < 1.0:
            break
    return worst


def _find_room(page: Rect, words: Rect) -> Rect:
    """Give the larger part of a page beside words on it: below them, or above."""
    above, below = words.y - AIR - page.y, page.bottom - words.bottom - AIR
    if below >= above:
        return Rect(page.x, words.bottom + AIR, page.width, below)
    return Rect(page.x, page.y, page.width, above)


def _list_rooms(page: Rect, size: Size) -> Iterator[Rect]:
    for y in _spread(page.height - size.height):
        for x in _spread(page.width - size.width):
            yield Rect(page.x + x, page.y + y, size.width, size.height)


def _spread(slack: float) -> list[float]:
    if slack <= 0.0:
        return [0.0]
    return [round(slack * i / SHIFTS, 2) for i in range(SHIFTS + 1)]
