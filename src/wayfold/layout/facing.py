"""Facing pages agree: heads that lie at nearly one height lie on one line, companions are equal."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import chain

from wayfold.base.geometry import Rect
from wayfold.book.families import Arrange
from wayfold.layout.captions import place_caption
from wayfold.layout.matter import Matter, on_recto
from wayfold.layout.model import Frame, PageLayout, PictureFrame

FIXED = frozenset({None, Arrange.BLED, Arrange.BAND, Arrange.ACROSS, Arrange.REACHING})
"""What is arranged so keeps its height."""
NEARLY = 14.0
SAME = 0.05
ALIKE = 0.2
"""Shapes (width over height) that differ by less than this part look as if meant to be equal."""
CLEARLY_HIGHER = 0.25
"""A picture higher than the other by this part or more is meant to be: it may be the sharper."""


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

    Those of one family whose shapes are nearly alike: the taller one becomes as high as the other,
    in the middle of its picture area, and captions stand beneath as before.
    """
    homes = {number: matter for matter in matters for number in matter.numbers}
    matched = dict(pages)
    for number in sorted(pages):
        both = [page for n in (number, number + 1) if (page := pages.get(n))]
        if number % 2 or len(both) < 2 or not _are_companions(*both):
            continue
        height = min(frame.box.height for frame in chain(*map(_pictures, both)))
        sized = [_resize(homes[page.number], page, height) for page in both]
        # On one line that leaves room for the longer caption, too.
        top = min(_head(page) for page in sized)
        matched.update({page.number: _raise(page, _head(page) - top) for page in sized})
    return matched


def _are_companions(left: PageLayout, right: PageLayout) -> bool:
    if {left.arranged, right.arranged} != {Arrange.ALONE} or left.family != right.family:
        return False
    boxes = [frame.box for page in (left, right) for frame in _pictures(page)]
    shapes, heights = [box.size.aspect for box in boxes], [box.height for box in boxes]
    return (
        len(boxes) == 2
        and max(shapes) < (1.0 + ALIKE) * min(shapes)
        and max(heights) < (1.0 + CLEARLY_HIGHER) * min(heights)
    )


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
