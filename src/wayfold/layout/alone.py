"""One picture with white all round."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wayfold.base.geometry import Rect
from wayfold.book.families import Family
from wayfold.layout.captions import caption_height, caption_width, place_caption
from wayfold.layout.matter import Laid, Matter, on_recto, page_for_one, with_blanks
from wayfold.layout.model import Frame, PageLayout

LARGE_AREA, LARGE_HEIGHT = 0.62, 0.82
"""A bordered picture covers at most these parts of the picture area and of its height."""
LEAST_WIDTH = 60.0
"""However coarse or grainy, a picture alone on its page is at least so wide (mm)."""
MOST_CAPTION = 0.4
"""A caption takes no more than this part of the picture area from its pictures."""


def fit_framed(matter: Matter, photo: str, recto: bool, size: float = 1.0) -> Rect:
    """Give the place of one bordered picture: hung as its height asks, caption below."""
    area = matter.grid.picture_area(recto)
    aspect = matter.aspect(photo)
    width = min(
        area.width,
        LARGE_HEIGHT * area.height * aspect,
        math.sqrt(LARGE_AREA * area.area * aspect),
    )
    width = max(min(width, LEAST_WIDTH), min(width * size, matter.largest(photo)))
    height = width / aspect
    below = min(
        caption_height(matter, (photo,), caption_width(matter, width)), MOST_CAPTION * area.height
    )
    if height > area.height - below:
        width, height = (area.height - below) * aspect, area.height - below
    top = min(matter.grid.hang(height), area.bottom - below - height)
    return Rect(area.x + (area.width - width) / 2, top, width, height)


def lay_alone(matter: Matter, family: Family) -> Iterator[Laid]:
    """Give a bordered picture, ``family.size`` of the usual size, on a recto where there is one."""
    number, photo = page_for_one(matter.numbers), matter.block.photos[0]
    box = fit_framed(matter, photo, on_recto(number), family.size)
    frames: tuple[Frame, ...] = (matter.whole(photo, box),)
    frames += place_caption(matter, [(photo, box)], box)
    yield with_blanks(matter, PageLayout(number, family.name, frames, arranged=family.arrange))
