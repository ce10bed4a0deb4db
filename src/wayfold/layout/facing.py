"""Facing pages agree: heads that lie at nearly one height lie on one line, companions are equal."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from wayfold.base.geometry import Rect
from wayfold.book.families import Arrange
from wayfold.layout.captions import place_caption
from wayfold.layout.matter import Matter, on_recto
from wayfold.layout.model import Frame, PageLayout, PictureFrame

FIXED = frozenset({None, Arrange.BLED, Arrange.BAND, Arrange.ACROSS, Arrange.REACHING})
"""What is arranged so keeps its height."""
LONE = frozenset({Arrange.ALONE, Arrange.SLICED, Arrange.ONE_AND_REST})
"""What is arranged so has white all round where it is one picture on its page."""
NEARLY = 14.0
SAME = 0.05
ALIKE = 0.2
"""Shapes (width over height) that differ by less than this part look as if meant to be equal."""
CLEARLY_HIGHER = 1.6
"""A picture so many times as high as the other is meant to be."""


def align_heads(pages: Mapping[int, PageLayout]) -> dict[int, PageLayout]:
    """Raise the lower of two facing compositions whose heads lie less than ``NEARLY`` mm apart."""
    aligned = dict(pages)
    for number in sorted(pages):
        left, right = aligned.get(number), aligned.get(number + 1)
        if number % 2 or left is None or right is None:
            continue
        both = {left.arranged, right.arranged}
        # Two pictures alone share their middle line already, or match as companions.
        if both & FIXED or both == {Arrange.ALONE}:
            continue
        apart = _head(left) - _head(right)
        if SAME < abs(apart) < NEARLY:
            lower = left if apart > 0 else right
            aligned[lower.number] = _raise(lower, abs(apart))
    return aligned


def match_companions(
    matters: Sequence[Matter], pages: Mapping[int, PageLayout]
) -> dict[int, PageLayout]:
    """Bring two lone pictures that face each other to one height and one line.

    Those whose shapes are nearly alike, where neither is much the higher nor the taller one singled
    out: it becomes as high as the other, in the middle of its picture area, its caption beneath.
    """
    homes = {number: matter for matter in matters for number in matter.numbers}
    matched = dict(pages)
    for number in sorted(pages):
        both = [page for n in (number, number + 1) if (page := pages.get(n))]
        if number % 2 or len(both) < 2 or not _are_companions(*both):
            continue
        lower, taller = sorted(both, key=lambda page: _pictures(page)[0].box.height)
        if homes[taller.number].singled_out:
            continue
        height = _pictures(lower)[0].box.height
        sized = [_resize(homes[page.number], page, height) for page in both]
        # On one line that leaves room for the longer caption, too.
        top = min(_head(page) for page in sized)
        matched.update({page.number: _raise(page, _head(page) - top) for page in sized})
    return matched


def _are_companions(left: PageLayout, right: PageLayout) -> bool:
    if not {left.arranged, right.arranged} <= LONE:
        return False
    if len(_pictures(left)) != 1 or len(_pictures(right)) != 1:
        return False
    one, other = _pictures(left)[0].box, _pictures(right)[0].box
    alike = abs(math.log(one.size.aspect / other.size.aspect)) < math.log(1.0 + ALIKE)
    return alike and abs(math.log(one.height / other.height)) < math.log(CLEARLY_HIGHER)


def _resize(matter: Matter, page: PageLayout, height: float) -> PageLayout:
    """Give a page whose one picture is ``height`` mm high, hung as that asks."""
    (picture,) = _pictures(page)
    area = matter.grid.picture_area(on_recto(page.number))
    width = height * picture.box.size.aspect
    box = Rect(area.x + (area.width - width) / 2, matter.grid.hang(height), width, height)
    captions = place_caption(matter, [(picture.photo, box)], box)
    over = max((caption.box.bottom for caption in captions), default=box.bottom) - area.bottom
    raised = replace(page, frames=(replace(picture, box=box), *captions))
    return _raise(raised, max(0.0, over))


def _pictures(page: PageLayout) -> list[PictureFrame]:
    return [frame for frame in page.frames if isinstance(frame, PictureFrame)]


def _head(page: PageLayout) -> float:
    return min((frame.box.y for frame in _pictures(page)), default=0.0)


def _raise(page: PageLayout, by: float) -> PageLayout:
    return replace(page, frames=tuple(_raised(frame, by) for frame in page.frames))


def _raised(frame: Frame, by: float) -> Frame:
    return replace(frame, box=frame.box.moved(0.0, -by))
