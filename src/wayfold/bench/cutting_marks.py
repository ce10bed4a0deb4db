"""Where the numbers of cuts and the letters of small pieces stand: clear of each other."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from wayfold.base.geometry import Point, Rect

ALONG = (0.86, 0.72, 0.58, 0.44, 0.3, 0.16)
"""Where on a cut its number may stand, the best first."""
BESIDE = (0.1, 0.24, 0.38, 0.52, 0.66, 0.8)
"""How far down a piece its letter may stand beside it."""
SHORT, APART, LETTER = 5.0, 2.8, 3.4
"""mm: a cut its number would hide; from a thing to its sign beside it; room for a letter."""


@dataclass(frozen=True, slots=True)
class Mark:
    """The middle of a sign (mm), and where a line begins that leads to it, if it needs one."""

    at: Point
    leader: Point | None = None


class ClearPlaces:
    """The places of one drawing that are taken by signs; ``area`` is all there is."""

    def __init__(self, area: Rect) -> None:
        self._area = area
        self._taken: list[tuple[Point, float]] = []

    def take(self, offered: Iterable[Mark], radius: float) -> Mark:
        """Take the first of the places offered that is clear, else the clearest."""
        inside = self._area.grown(-radius)
        marks = list(offered)
        marks = [mark for mark in marks if _holds(inside, mark.at)] or marks
        clear = (mark for mark in marks if self._measure_room(mark.at) >= radius)
        chosen = next(clear, None) or max(marks, key=lambda mark: self._measure_room(mark.at))
        self._taken.append((chosen.at, radius))
        return chosen

    def _measure_room(self, at: Point) -> float:
        rooms = (math.dist((at.x, at.y), (p.x, p.y)) - radius for p, radius in self._taken)
        return min(rooms, default=math.inf)


def offer_on_cut(start: Point, end: Point) -> Iterator[Mark]:
    """Offer places for the number of a cut: on it, or in line with it where it is too short."""
    across, down = end.x - start.x, end.y - start.y
    length = math.hypot(across, down)
    if length >= SHORT:
        for part in ALONG:
            yield Mark(Point(start.x + part * across, start.y + part * down))
    dx, dy = (across / length, down / length) if length else (1.0, 0.0)
    for far in (APART, 2 * APART, 3 * APART):
        yield Mark(Point(end.x + far * dx, end.y + far * dy), end)
        yield Mark(Point(start.x - far * dx, start.y - far * dy), start)


def offer_for_piece(piece: Rect, others: Sequence[Rect]) -> Iterator[Mark]:
    """Offer places for the letter of a piece: in it, else beside it, sooner where no other lies."""
    if piece.width >= LETTER and piece.height >= LETTER:
        yield Mark(Point(piece.center.x, piece.y + min(4.0, piece.height / 2)))
        yield Mark(piece.center)
    heights = [piece.y + part * piece.height for part in BESIDE]
    beside = [
        Mark(Point(x, y), Point(piece.center.x, y))
        for x in (piece.right + APART, piece.x - APART)
        for y in heights
    ]
    yield from sorted(beside, key=lambda mark: any(_holds(other, mark.at) for other in others))


def _holds(area: Rect, at: Point) -> bool:
    return area.contains(Rect(at.x, at.y, 0.0, 0.0))
