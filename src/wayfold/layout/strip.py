"""The strip of one scene: a few pictures of one height, a hairline apart, read as a sequence."""

from __future__ import annotations

import math
from collections.abc import Sequence

from wayfold.base.geometry import Rect
from wayfold.layout.arrangement import Arrangement

FEWEST, MOST = 3, 7
HAIRLINE = 1.0
"""White (mm) between the pictures of a strip."""
LEAST_HEIGHT = 24.0
"""A strip lower than this (mm) is parted into two rows."""
GOOD_HEIGHT = 36.0
"""From this height (mm) on a strip could not be better for being higher."""
MOST_STRETCH = 1.35
"""Two rows may differ by this factor in height; else the shorter row stays ragged on the right."""
RAGGED = 0.8
"""What a ragged row leaves of a strip's score."""


def arrange_strip(
    aspects: Sequence[float],
    box: Rect,
    gap: float = HAIRLINE,
    least_height: float = LEAST_HEIGHT,
) -> Arrangement | None:
    """Give the strip of 3-7 pictures in order at the top left of ``box``, or None where none fits.

    One row as wide as the box is (W - (k - 1) gap) / sum of aspects high. Where that is under
    ``least_height`` mm, two rows, parted so that their heights differ least. No picture is cropped.
    Raises ValueError for an aspect (width over height) that is not positive.
    """
    if any(aspect <= 0 for aspect in aspects):
        raise ValueError(f"cannot arrange pictures of aspects {tuple(aspects)}")
    if not FEWEST <= len(aspects) <= MOST:
        return None
    height = _fill_row(aspects, box.width, gap)
    if height >= least_height:
        height = min(height, box.height)
        return _judge(_lay_row(aspects, box, height, gap), height, 1.0)
    return _lay_two_rows(aspects, box, gap, least_height)


def _lay_two_rows(
    aspects: Sequence[float], box: Rect, gap: float, least_height: float
) -> Arrangement | None:
    def part(first: int) -> tuple[float, float]:
        upper = _fill_row(aspects[:first], box.width, gap)
        return upper, _fill_row(aspects[first:], box.width, gap)

    def stretch(first: int) -> float:
        lower, higher = sorted(part(first))
        return higher / lower if lower > 0 else math.inf

    # Of equals the longer row comes first.
    ways = sorted(range(len(aspects) - 1, 0, -1), key=lambda k: round(stretch(k), 9))
    even = stretch(ways[0]) <= MOST_STRETCH
    # A row that stays ragged is the last.
    ways = ways if even else [k for k in ways if part(k)[0] <= part(k)[1]]
    if not ways:
        return None
    first = ways[0]
    upper, lower = part(first)
    if not even:
        lower = upper
    if min(upper, lower) < least_height or upper + gap + lower > box.height:
        return None
    below = Rect(box.x, box.y + upper + gap, box.width, lower)
    rects = _lay_row(aspects[:first], box, upper, gap) + _lay_row(
        aspects[first:], below, lower, gap
    )
    return _judge(rects, min(upper, lower), 1.0 / stretch(first) if even else RAGGED)


def _fill_row(aspects: Sequence[float], width: float, gap: float) -> float:
    return (width - (len(aspects) - 1) * gap) / sum(aspects)


def _lay_row(aspects: Sequence[float], box: Rect, height: float, gap: float) -> tuple[Rect, ...]:
    rects, x = [], box.x
    for aspect in aspects:
        rects.append(Rect(x, box.y, aspect * height, height))
        x += aspect * height + gap
    return tuple(rects)


def _judge(rects: tuple[Rect, ...], height: float, even: float) -> Arrangement:
    return Arrangement(rects, min(1.0, height / GOOD_HEIGHT) * even)
