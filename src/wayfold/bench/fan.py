"""A gathering seen from the head: its folds nested at the left, its leaves fanned out to the right.

╭───────────────────  leaf 1          The folds are half circles about one point, as tight as
│      openings                       they would lie; each leaf then swings out to its own line,
╰╮╭─────────────────  leaf 2          so that what lies in every opening can be shown beside it.
╭╯╰─────────────────  leaf 3
│                                     A folded interleaf is one more fold in the nest; its leaves
╰───────────────────  leaf 4          end in the middle of their openings.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from wayfold.base.geometry import Point
from wayfold.plan.model import Gathering, Interleaf

PITCH = 1.5
"""Between folds (mm), so that lines of ordinary printers stay apart."""
NEST_MAX = 17.0
"""What the folds of a very thick gathering take from the middle outwards, at most."""
BEND, SWING = 12, 24
"""Straight pieces of a fold's half circle, and of the swing of a leaf."""


@dataclass(frozen=True, slots=True)
class Fold:
    """A folded sheet of the nest; ``sheet`` counts from 1 outside, or it is an ``interleaf``."""

    sheet: int | None
    interleaf: Interleaf | None = None


@dataclass(frozen=True, slots=True)
class Frame:
    """Where a fan is drawn (mm): folds begin at ``left``, leaves end at ``right``.

    The openings are rows of ``row`` each from ``top``; a gathering of s sheets has 2s + 1.
    """

    left: float
    right: float
    top: float
    row: float

    def line_of(self, leaf: int) -> float:
        """Give the height on which leaf ``leaf`` (from 0) ends: between two openings."""
        return self.top + (leaf + 1) * self.row

    def middle_of(self, gap: int) -> float:
        """Give the middle of the opening before leaf ``gap`` (from 0)."""
        return self.top + (gap + 0.5) * self.row


def nest_folds(gathering: Gathering, interleaves: Sequence[Interleaf]) -> tuple[Fold, ...]:
    """Give all that is folded into a gathering, outermost first; ``interleaves`` are the plan's."""
    nest: list[Fold] = []
    for depth in range(gathering.sheets + 1):
        nest += [
            Fold(None, i)
            for i in interleaves
            if i.gathering == gathering.number and i.depth == depth
        ]
        if depth < gathering.sheets:
            nest.append(Fold(depth + 1))
    return tuple(nest)


def trace_folds(
    gathering: Gathering, folds: Sequence[Fold], frame: Frame
) -> Iterator[tuple[Fold, tuple[Point, ...]]]:
    """Give the line of each fold and its two leaves, from the free end of the first leaf."""
    pitch = _choose_pitch(folds, frame)
    mid = frame.middle_of(gathering.sheets)
    turn = Point(frame.left + pitch * len(folds), mid)
    for at, fold in enumerate(folds):
        radius = pitch * (len(folds) - at - 0.5)
        first, second = _find_ends(gathering, fold, frame)
        upper = _swing(Point(turn.x, mid - radius), Point(frame.right, first))
        lower = _swing(Point(turn.x, mid + radius), Point(frame.right, second))
        yield fold, (*reversed(upper), *_bend(turn, radius), *lower)


def find_thread(gathering: Gathering, folds: Sequence[Fold], frame: Frame) -> tuple[Point, Point]:
    """Give where the sewing thread goes through all folds: from the spine into the centre."""
    mid = frame.middle_of(gathering.sheets)
    pitch = _choose_pitch(folds, frame)
    return Point(frame.left - 2.0, mid), Point(frame.left + pitch * len(folds) + 2.0, mid)


def _choose_pitch(folds: Sequence[Fold], frame: Frame) -> float:
    return min(PITCH, NEST_MAX / len(folds), 0.8 * frame.row)


def _find_ends(gathering: Gathering, fold: Fold, frame: Frame) -> tuple[float, float]:
    if fold.sheet is not None:
        return frame.line_of(fold.sheet - 1), frame.line_of(2 * gathering.sheets - fold.sheet)
    assert fold.interleaf is not None
    first, second = (frame.middle_of(gap_of(gathering, e.after_page)) for e in fold.interleaf.ends)
    if first == second:  # both leaves lie in the centre: one above the other
        return first - frame.row / 8, second + frame.row / 8
    return first, second


def gap_of(gathering: Gathering, after_page: int) -> int:
    """Give the opening (from 0, the seam before the gathering) that follows a verso."""
    return (after_page + 1 - gathering.first_page) // 2


def _swing(start: Point, end: Point) -> list[Point]:
    """From level to level, without overshoot: lines that start in order never cross."""
    points = []
    for step in range(SWING + 1):
        along = step / SWING
        eased = along * along * (3 - 2 * along)
        x = start.x + along * (end.x - start.x)
        points.append(Point(x, start.y + eased * (end.y - start.y)))
    return points


def _bend(turn: Point, radius: float) -> Iterator[Point]:
    for step in range(1, BEND):
        angle = math.pi * step / BEND
        yield Point(turn.x - radius * math.sin(angle), turn.y - radius * math.cos(angle))
