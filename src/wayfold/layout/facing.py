"""Facing pages agree: compositions that begin at nearly one height begin on one line."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from wayfold.book.families import Arrange
from wayfold.layout.model import Frame, PageLayout, PictureFrame

FIXED = frozenset({None, Arrange.BLED, Arrange.BAND, Arrange.ACROSS, Arrange.REACHING})
"""What is arranged so keeps its height."""
NEARLY = 14.0
SAME = 0.05


def align_heads(pages: Mapping[int, PageLayout]) -> dict[int, PageLayout]:
    """Raise the lower of two facing compositions whose heads lie less than ``NEARLY`` mm apart."""
    aligned = dict(pages)
    for number in sorted(pages):
        left, right = aligned.get(number), aligned.get(number + 1)
        if number % 2 or left is None or right is None:
            continue
        both = {left.arranged, right.arranged}
        # Two pictures alone share their middle line already.
        if both & FIXED or both == {Arrange.ALONE}:
            continue
        apart = _head(left) - _head(right)
        if SAME < abs(apart) < NEARLY:
            lower = left if apart > 0 else right
            aligned[lower.number] = _raise(lower, abs(apart))
    return aligned


def _head(page: PageLayout) -> float:
    return min((f.box.y for f in page.frames if isinstance(f, PictureFrame)), default=0.0)


def _raise(page: PageLayout, by: float) -> PageLayout:
    return replace(page, frames=tuple(_raised(frame, by) for frame in page.frames))


def _raised(frame: Frame, by: float) -> Frame:
    return replace(frame, box=frame.box.moved(0.0, -by))
