"""Pictures of a page arranged together, with the room their captions need; and hung in place."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from wayfold.base.geometry import Rect
from wayfold.book.families import Arrange
from wayfold.layout.alone import MOST_CAPTION, fit_framed
from wayfold.layout.arrangement import Arrangement
from wayfold.layout.calm import SAME_LINE
from wayfold.layout.captions import caption_height, place_caption
from wayfold.layout.choose import arrange_pictures, arrange_ways
from wayfold.layout.matter import Matter
from wayfold.layout.model import Frame, PageLayout

MOST_ON_A_PAGE = 9
ROUNDS = 3
"""How often pictures make more room for their captions."""
LONE_SCORE = 0.53
"""A picture by itself on its page is as good as sliced arrangements usually are."""
MOST_ALIGNED = 0.03
"""What a picture may lose so that gutters which nearly align lie on one line."""
OFF_MARGIN = 12.0
"""Pictures that do not reach the margins (mm) stay so far off them on both sides."""
SNAP_TO_HEAD = 14.0
"""A composition that would begin less than this (mm) below the head line begins on it."""
LEAST_SIDE = 28.0
"""The shortest side (mm) of a picture in a group on an A4 page."""


ArrangeIn = Callable[[Matter, Sequence[str], Rect], Arrangement | None]
"""Arranges pictures in a box, or finds no room there."""


class NoRoomError(Exception):
    """An arrangement does not suit these pictures in this box."""


@dataclass(frozen=True, slots=True)
class Composed:
    """Pictures of one page, their places at the top of the picture area, and the caption's room."""

    photos: tuple[str, ...]
    arrangement: Arrangement
    below: float

    @property
    def height(self) -> float:
        """Height of the pictures in mm."""
        return self.arrangement.bounds.height


def compose_page(
    matter: Matter, photos: Sequence[str], recto: bool, arrange: ArrangeIn | None = None
) -> Composed:
    """Arrange the pictures of one page; across, they stand in the middle of the picture area.

    Raises NoRoomError where ``arrange`` finds no arrangement.
    """
    area = matter.grid.picture_area(recto)
    most = MOST_CAPTION * area.height
    below = min(most, caption_height(matter, photos, matter.grid.caption_measure))
    composed = _compose_above(matter, photos, recto, below, arrange)
    for _ in range(ROUNDS):
        # Only now is it known how wide the pictures stand, and so how high their captions.
        need = min(most, _measure_captions(matter, composed))
        if need <= composed.below + SAME_LINE:
            break
        composed = _compose_above(matter, photos, recto, need, arrange)
    return composed


def _compose_above(
    matter: Matter, photos: Sequence[str], recto: bool, below: float, arrange: ArrangeIn | None
) -> Composed:
    area = matter.grid.picture_area(recto)
    box = Rect(area.x, area.y, area.width, area.height - below)
    if len(photos) == 1:
        framed = fit_framed(matter, photos[0], recto)
        arrangement = Arrangement((framed.moved(0.0, area.y - framed.y),), LONE_SCORE)
    else:
        found = (arrange or arrange_apart)(matter, photos, box)
        if found is None:
            raise NoRoomError
        arrangement = found
    slack = area.width - arrangement.bounds.width
    shift = area.x + slack / 2 - arrangement.bounds.x
    return Composed(tuple(photos), arrangement.moved(shift, 0.0), below)


def _measure_captions(matter: Matter, composed: Composed) -> float:
    placed = list(zip(composed.photos, composed.arrangement.rects, strict=True))
    bounds = composed.arrangement.bounds
    frames = place_caption(matter, placed, bounds)
    return max((f.box.bottom for f in frames), default=bounds.bottom) - bounds.bottom


def arrange_apart(matter: Matter, photos: Sequence[str], box: Rect) -> Arrangement:
    """Arrange so that the edges lie on the margins, or clearly apart from them."""
    best = arrange_all(matter, photos, box)
    return best if _is_apart(best, box) else arrange_all(matter, photos, _narrow(box))


def arrange_nth(matter: Matter, photos: Sequence[str], box: Rect, nth: int) -> Arrangement | None:
    """Give the ``nth`` best arrangement (from 0) that differs from those before, or None.

    Gutters that nearly align are brought onto one line, where the pictures bear the crop.
    """
    if len(photos) > MOST_ON_A_PAGE:
        return arrange_apart(matter, photos, box) if nth == 0 else None
    limits = [min(MOST_ALIGNED, matter.may_lose(photo)) for photo in photos]
    found = None
    for room in (box, _narrow(box)):
        ways = arrange_ways(*_describe(matter, photos, room), count=nth + 1, limits=limits)
        if nth >= len(ways):
            return None
        found = ways[nth]
        if _is_apart(found, room):
            return found
    return found if nth == 0 else None


def _is_apart(arrangement: Arrangement, box: Rect) -> bool:
    slack = box.width - arrangement.bounds.width
    return not SAME_LINE < slack < 2 * OFF_MARGIN


def _narrow(box: Rect) -> Rect:
    return Rect(box.x, box.y, box.width - 2 * OFF_MARGIN, box.height)


def _describe(
    matter: Matter, photos: Sequence[str], box: Rect
) -> tuple[list[float], Rect, float, list[float], float]:
    """Give aspects, box, gap, weights and the least side, as arranging wants them."""
    scale = matter.grid.picture_area(True).width / 168.0
    aspects = [matter.aspect(p) for p in photos]
    weights = [matter.weight(p) for p in photos]
    return aspects, box, matter.grid.gap, weights, LEAST_SIDE * min(1.0, scale)


def arrange_all(matter: Matter, photos: Sequence[str], box: Rect) -> Arrangement:
    """Arrange any number of pictures in a box: more than nine are parted into bands first."""
    gap = matter.grid.gap
    if len(photos) > MOST_ON_A_PAGE:
        half = len(photos) // 2
        height = (box.height - gap) / 2
        upper = arrange_all(matter, photos[:half], Rect(box.x, box.y, box.width, height))
        top = upper.bounds.bottom + gap
        lower = arrange_all(matter, photos[half:], Rect(box.x, top, box.width, height))
        return Arrangement(upper.rects + lower.rects, min(upper.score, lower.score))
    return arrange_pictures(*_describe(matter, photos, box))


def hang_pages(
    matter: Matter,
    composed: Sequence[tuple[int, Composed]],
    family: str,
    arranged: Arrange = Arrange.SLICED,
) -> tuple[PageLayout, ...]:
    """Hang the compositions of facing pages at one height and set their captions."""
    grid = matter.grid
    highest = max(c.height for _, c in composed)
    below = max(c.below for _, c in composed)
    area = grid.picture_area(True)
    top = min(grid.hang(highest), area.bottom - below - highest)
    if top < area.y + SNAP_TO_HEAD:
        top = area.y
    pages = []
    for number, one in composed:
        hung = one.arrangement.moved(0.0, top - one.arrangement.bounds.y)
        placed = list(zip(one.photos, hung.rects, strict=True))
        frames: list[Frame] = [matter.show_in(photo, rect, number) for photo, rect in placed]
        frames += place_caption(matter, placed, hung.bounds)
        pages.append(PageLayout(number, family, tuple(frames), arranged=arranged))
    return tuple(pages)
