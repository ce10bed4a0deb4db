"""Where on a page a wash has room: white at the fore-edge."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from wayfold.base.geometry import Rect, Size
from wayfold.washes.model import Edges

FOLD_CLEAR = 14.0
"""White (mm) that a wash leaves at the fold: it ends on its page."""
UNBLED_CLEAR = 12.0
"""White that it leaves at the trim of a page without bleed."""
CORNER_CLEAR = 18.0
"""What does not run off the head or the foot lies so far (mm) from it."""
LEAST_SIDE, LEAST_SHARE = 34.0, 0.1
"""A wash is no smaller: its shorter side in mm, its box as a part of the page."""
NARROWEST, NARROWEST_POOL, WIDEST = 0.55, 1.25, 2.3
"""Width over height of its box; a pool is a wash that runs off nowhere."""
STEP = 5.0
"""Boxes are told in steps (mm), so that a word more or less seldom moves one."""


@dataclass(frozen=True, slots=True)
class WashRoom:
    """A box that a wash may fill, in page space, and the sides where it runs off the page."""

    box: Rect
    edges: Edges

    @property
    def at_corner(self) -> bool:
        """Whether it runs off the head or the foot."""
        return self.edges.top or self.edges.bottom

    def lies_like(self, other: WashRoom) -> bool:
        """Whether both lie at the head, at the foot, or between, on whichever page."""
        one, two = self.edges, other.edges
        return (one.top, one.bottom) == (two.top, two.bottom)


def list_rooms(
    trim: Size, bleed: float, recto: bool, taken: Sequence[Rect], most_share: float
) -> tuple[WashRoom, ...]:
    """Give the boxes for washes that keep clear of what is ``taken`` (page space, mm).

    None is larger than ``most_share`` of the page, none reaches the fold.
    """
    page = Rect(0.0, 0.0, trim.width, trim.height)
    # All is reckoned for a recto, whose fore-edge is on the right.
    shut = taken if recto else [_mirror(box, trim.width) for box in taken]
    around = page.grown(bleed) if bleed > 0 else page.grown(-UNBLED_CLEAR)
    area = Rect(FOLD_CLEAR, around.y, around.right - FOLD_CLEAR, around.height)
    narrowest = NARROWEST if bleed > 0 else NARROWEST_POOL
    found = dict.fromkeys(
        WashRoom(box, _find_edges(box, area, bleed))
        for white in _list_white(area, shut)
        for box in _shape(white, area, most_share * page.area, narrowest)
        if box.area >= LEAST_SHARE * page.area
    )
    return tuple(room if recto else _turn(room, trim.width) for room in found)


def _list_white(area: Rect, shut: Sequence[Rect]) -> Iterator[Rect]:
    """White at the fore-edge, from as high to as low as it may be, and as far in as it goes."""
    heads = [area.y, *(box.bottom for box in shut)]
    feet = [area.bottom, *(box.y for box in shut)]
    for top in heads:
        for bottom in feet:
            if bottom - top < LEAST_SIDE or top < area.y or bottom > area.bottom:
                continue
            reach = [b.right for b in shut if b.y < bottom and b.bottom > top]
            left = max([area.x, *reach])
            yield Rect(left, top, area.right - left, bottom - top)


def _shape(white: Rect, area: Rect, most: float, narrowest: float) -> Iterator[Rect]:
    """Boxes of a good shape at the fore-edge of some white: at its ends and in its middle."""
    width, height = white.width, white.height
    if min(width, height) < LEAST_SIDE:
        return
    width, height = min(width, height * WIDEST), min(height, width / narrowest)
    shrunk = min(1.0, (most / (width * height)) ** 0.5)
    width, height = _floor(width * shrunk), _floor(height * shrunk)
    if min(width, height) < LEAST_SIDE:
        return
    spare = white.height - height
    for share in (0.0, 0.5, 1.0):
        box = Rect(white.right - width, white.y + share * spare, width, height)
        over, under = box.y - area.y, area.bottom - box.bottom
        if not (1e-6 < over < CORNER_CLEAR or 1e-6 < under < CORNER_CLEAR):
            yield box


def _find_edges(box: Rect, area: Rect, bleed: float) -> Edges:
    if bleed <= 0:
        return Edges()
    return Edges(
        top=box.y <= area.y + 1e-6,
        right=True,
        bottom=box.bottom >= area.bottom - 1e-6,
    )


def _floor(length: float) -> float:
    return length // STEP * STEP


def _mirror(box: Rect, width: float) -> Rect:
    return Rect(width - box.right, box.y, box.width, box.height)


def _turn(room: WashRoom, width: float) -> WashRoom:
    edges = room.edges
    turned = Edges(edges.right, edges.top, edges.left, edges.bottom)
    return WashRoom(_mirror(room.box, width), turned)
