"""Where the holes are pricked, and the way of the thread through them."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

from wayfold.book.casing import Sewing, SewingMethod

LINK_HALF = 5.0
"""Half the distance of a pair of holes of the link stitch (University of Brighton book arts)."""
TAPE_CLEAR = 1.0
"""Between a tape and its holes; common practice."""
TALL = 240.0
"""From this height (mm) on the spine is parted into four: the same college's sheets have three
for an A5 book, four for A4."""
TAPES_8_IN, TAPES_12_IN = 3, 4
"""Tapes for books of 8 and of 12 inches (A. L. Bailey, Library Bookbinding, 1916)."""


@dataclass(frozen=True, slots=True)
class Stations:
    """The holes from the head (mm): the first and the last are the kettles, between them pairs."""

    method: SewingMethod
    holes: tuple[float, ...]

    @property
    def pairs(self) -> tuple[tuple[float, float], ...]:
        """The holes between the kettles, two by two; the thread runs outside between them."""
        inner = self.holes[1:-1]
        return tuple(zip(inner[::2], inner[1::2], strict=True))


def place_stations(height: float, sewing: Sewing) -> Stations:
    """Give the holes of a book of that height (mm).

    Between the kettles the spine is parted evenly, and at every parting stands a pair of holes:
    5 mm to each side for the link stitch, a tape's half and 1 mm for tapes.
    """
    half, between = LINK_HALF, _choose_spaces(height, sewing) - 1
    if sewing.method is SewingMethod.TAPES:
        half, between = sewing.tape / 2 + TAPE_CLEAR, _choose_tapes(height, sewing)
    first, last = sewing.kettle, height - sewing.kettle
    step = (last - first) / (between + 1)
    inner = [first + step * k + side for k in range(1, between + 1) for side in (-half, half)]
    return Stations(sewing.method, (first, *inner, last))


def room_between(stations: Stations) -> float:
    """Give the least distance (mm) of neighbouring holes."""
    holes = stations.holes
    return min(b - a for a, b in itertools.pairwise(holes))


@dataclass(frozen=True, slots=True)
class Pass:
    """A stretch of the thread along one gathering: from hole to hole (from 0), inside or out."""

    start: int
    end: int
    inside: bool


def trace_thread(stations: Stations, gathering: int) -> tuple[Pass, ...]:
    """Give the way of the thread through a gathering (from 1), sewn all along.

    Odd gatherings are sewn from head to tail, even ones back; the thread runs inside from one pair
    to the next and outside across each pair.
    """
    count = len(stations.holes)
    order = list(range(count)) if gathering % 2 else list(range(count - 1, -1, -1))
    pairs = itertools.pairwise(order)
    return tuple(Pass(a, b, inside=at % 2 == 0) for at, (a, b) in enumerate(pairs))


def _choose_spaces(height: float, sewing: Sewing) -> int:
    if sewing.spaces is not None:
        return sewing.spaces
    return 4 if height >= TALL else 3


def _choose_tapes(height: float, sewing: Sewing) -> int:
    if sewing.tapes is not None:
        return sewing.tapes
    return TAPES_12_IN if height >= TALL else TAPES_8_IN
