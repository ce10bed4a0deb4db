"""Where the map of a country goes on a leaf: as large as it can be with its names still read."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from wayfold.base.geometry import TOLERANCE, Affine, Rect, Size
from wayfold.book.see_through import Sheet
from wayfold.drawing.items import Drawing, Placed
from wayfold.pages.ground import Ground
from wayfold.pages.leaf_marks import list_marks

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


LABEL = "map of "
"""How the drawing of a country's map is named, before the country."""


def read_country(label: str) -> str | None:
    """Give the country that a map of that label shows, or None where it is no such map's."""
    return label.removeprefix(LABEL) if label.startswith(LABEL) else None


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
    off what the eye goes to; where there is none, the one that comes nearest. Of equals it is the
    first, the largest map before smaller ones, rooms row by row.
    """
    largest = _find_room(page, words)
    tries: list[_Try] = []
    for scale in SCALES:
        size = Size(round(largest.width * scale, 2), round(largest.height * scale, 2))
        judge = _Judge(draw(size), ground, sheet, words.grown(AIR))
        for room in _list_rooms(page, size):
            off = math.dist(_middle(room), _middle(largest))
            worth = SIZE * scale - AWAY * off / page.height
            tries.append(_Try(len(tries), judge, room, worth))
    return _find_able(tries) or _find_nearest(tries)


@dataclass(slots=True)
class _Try:
    """A map in one room: ``worth`` but for how its marks lie, and the most contrast they have."""

    number: int
    judge: _Judge
    room: Rect
    worth: float
    most: float = COMFORT
    watched: float | None = None

    def find_watched(self) -> float:
        """What it loses for lying where the eye goes."""
        if self.watched is None:
            self.watched = WATCHED * self.judge.watch(self.room)
        return self.watched

    def place(self, worth: float, least: float) -> PlacedMap:
        """Give the map in its room."""
        shift = Affine.shift(self.room.x, self.room.y)
        return PlacedMap(Placed(self.judge.drawing, shift, self.room), worth, least)


def _find_able(tries: Sequence[_Try]) -> PlacedMap | None:
    """Give the best place of those that can be read; none that cannot be better is judged."""
    best: tuple[float, int, PlacedMap] | None = None
    for one in sorted(tries, key=lambda t: (-t.worth, t.number)):
        if best is not None and one.worth + COMFORT < best[0]:
            break
        if one.judge.meets_words(one.room):
            one.most = 0.0
            continue
        if best is not None and one.worth + COMFORT - one.find_watched() < best[0]:
            continue
        one.most = one.judge.find_least(one.room, 1.0)
        if one.most >= 1.0:
            worth = one.worth + one.most - one.find_watched()
            found = (worth, -one.number, one.place(worth, one.most))
            best = max(best, found, key=lambda f: f[:2]) if best else found
    return best[2] if best else None


def _find_nearest(tries: Sequence[_Try]) -> PlacedMap:
    """Give the place whose worst mark has the most contrast, all being too weak."""
    best: tuple[float, int, PlacedMap] | None = None
    for one in sorted(tries, key=lambda t: (-t.most, t.number)):
        if best is not None and one.most < best[0]:
            break
        least = one.judge.find_least(one.room, best[0] if best else -math.inf)
        found = (least, -one.number, one.place(least - UNREAD, least))
        best = max(best, found, key=lambda f: f[:2]) if best else found
    if best is None:
        raise ValueError("a page has at least one room for a map")
    return best[2]


class _Judge:
    """Judges rooms for one drawing."""

    def __init__(self, drawing: Drawing, ground: Ground, sheet: Sheet, beside: Rect) -> None:
        self.drawing = drawing
        self._ground, self._sheet, self._beside = ground, sheet, beside
        marks = tuple(list_marks(drawing.items))
        self._places = [place for mark in marks for place in mark.places]
        self._about = _bound(self._places)
        # What is read needs most and lies on least, so it decides soonest; what stands out over
        # the darkest page does anywhere.
        weak = (mark for mark in marks if mark.measure_dark(sheet) < mark.needs)
        self._weak = sorted(weak, key=lambda mark: -mark.needs)

    def find_least(self, room: Rect, floor: float) -> float:
        """The worst mark's contrast against what it needs, in a room; 0 where marks meet words.

        From ``floor`` down it does not matter how bad it is, so the rest is not looked at: what is
        given then is no less than the worst.
        """
        if self.meets_words(room):
            return 0.0
        worst = COMFORT
        for mark in self._weak:
            contrast = mark.measure(self._ground, self._sheet, room.x, room.y)
            worst = min(worst, contrast / mark.needs)
            if worst < floor:
                break
        return worst

    def watch(self, room: Rect) -> float:
        """How much the eye goes to what the marks lie on."""
        at = [place.moved(room.x, room.y).center for place in self._places[::EVERY]]
        return sum(self._ground.watch_at(point) for point in at) / max(len(at), 1)

    def meets_words(self, room: Rect) -> bool:
        """Whether a mark lies on the words or too near to them."""
        if self._about is None or not self._about.moved(room.x, room.y).overlap(self._beside):
            return False
        left, top = self._beside.x, self._beside.y
        right, bottom = self._beside.right, self._beside.bottom
        for place in self._places:
            x, y = place.x + room.x, place.y + room.y
            across = min(x + place.width, right) - max(x, left)
            down = min(y + place.height, bottom) - max(y, top)
            if across > TOLERANCE and down > TOLERANCE:
                return True
        return False


def _middle(room: Rect) -> tuple[float, float]:
    return room.center.x, room.center.y


def _bound(places: Sequence[Rect]) -> Rect | None:
    """Give the rectangle about places, a little larger against rounding."""
    if not places:
        return None
    left, top = min(p.x for p in places), min(p.y for p in places)
    right, bottom = max(p.right for p in places), max(p.bottom for p in places)
    return Rect(left, top, right - left, bottom - top).grown(TOLERANCE)


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
