"""One picture with pages to itself: bordered, bled off, or across the fold."""

from __future__ import annotations

import math
from dataclasses import replace

from wayfold.base.geometry import Rect
from wayfold.layout.captions import caption_height, caption_width, place_caption
from wayfold.layout.grid import OPTICAL_CENTRE
from wayfold.layout.matter import Laid, Matter, blank_page, facing_pair, on_recto
from wayfold.layout.model import Frame, PageLayout, PictureFrame

LARGE_AREA, LARGE_HEIGHT = 0.62, 0.82
"""A bordered picture covers at most these parts of the picture area and of its height."""
SMALL = 0.66
"""A small bordered picture, as a part of the large one's sides."""
MOST_CAPTION = 0.4
"""A caption takes no more than this part of the picture area from its pictures."""
BROAD_BAND = 0.30
"""White left by a wide picture across the fold, as a part of the page's height: above this it is
shared between head and foot, below it lies at the foot alone."""


def fit_framed(matter: Matter, photo: str, recto: bool, factor: float = 1.0) -> Rect:
    """Give the place of one bordered picture: hung as its height asks, caption below."""
    area = matter.grid.picture_area(recto)
    aspect = matter.aspect(photo)
    width = min(
        area.width,
        LARGE_HEIGHT * area.height * aspect,
        math.sqrt(LARGE_AREA * area.area * aspect),
    )
    width *= factor
    height = width / aspect
    below = min(
        caption_height(matter, (photo,), caption_width(matter, width)), MOST_CAPTION * area.height
    )
    if height > area.height - below:
        width, height = (area.height - below) * aspect, area.height - below
    top = min(matter.grid.hang(height), area.bottom - below - height)
    return Rect(area.x + (area.width - width) / 2, top, width, height)


def lay_framed(matter: Matter) -> Laid:
    """A bordered picture, large."""
    return _lay_bordered(matter, "framed", 1.0)


def lay_framed_small(matter: Matter) -> Laid:
    """A bordered picture, small, with much white."""
    return _lay_bordered(matter, "framed-small", SMALL)


def _lay_bordered(matter: Matter, family: str, factor: float) -> Laid:
    number, photo = _page_for_one(matter.numbers), matter.block.photos[0]
    box = fit_framed(matter, photo, on_recto(number), factor)
    frames: tuple[Frame, ...] = (matter.whole(photo, box),)
    frames += place_caption(matter, [(photo, box)], box)
    return _with_blanks(matter, PageLayout(number, family, frames))


def bleeds_well(matter: Matter) -> bool:
    """Whether the picture fills a whole page and nothing that matters is lost by it."""
    return _crop_bled(matter) is not None


def _crop_bled(matter: Matter) -> Rect | None:
    number, photo = _page_for_one(matter.numbers), matter.block.photos[0]
    return matter.crop_on_page(photo, matter.grid.media, number)


def lay_bled(matter: Matter) -> Laid:
    """One picture over the whole page and its bleed."""
    number, photo = _page_for_one(matter.numbers), matter.block.photos[0]
    crop = _crop_bled(matter)
    if crop is None:
        raise ValueError(f"{photo} does not fill a page")
    frame = PictureFrame(matter.grid.media, photo, crop)
    laid = _with_blanks(matter, PageLayout(number, "bled", (frame,), folio=False))
    homeless = ((number, photo),) if matter.words.get(f"caption:{photo}") else ()
    return replace(laid, homeless=homeless)


def lay_under_leaf(matter: Matter) -> Laid:
    """The picture that opens a chapter: its whole page, under the leaf that bears the title."""
    return lay_bled(matter) if bleeds_well(matter) else lay_framed(matter)


def crosses_well(matter: Matter) -> bool:
    """Whether the picture can lie across the fold: facing pages, wide enough, no face in it."""
    return facing_pair(matter.numbers) and _fit_across(matter) is not None


def _fit_across(matter: Matter) -> tuple[Rect, Rect] | None:
    """Give the place of a picture across the fold in the left page's space, and its crop."""
    photo = matter.block.photos[0]
    fits = ((box, matter.crop_across(photo, box)) for box in _list_boxes_across(matter))
    return next(((box, crop) for box, crop in fits if crop), None)


def _list_boxes_across(matter: Matter) -> list[Rect]:
    """Give the places a picture might have across the fold, the best first.

    Bled off all round where no caption needs white. Else bled off at head and sides with a white
    band at the foot, as high as the foot margin or as what the picture leaves; a panorama has
    bands above and below.
    """
    grid, photo = matter.grid, matter.block.photos[0]
    bleed, trim = grid.bleed, grid.trim
    width = 2 * trim.width + 2 * bleed
    natural = width / matter.aspect(photo)
    foot = max(grid.picture_margins.foot, _band_for_caption(matter))
    highest = trim.height + bleed - foot
    boxes = []
    if not matter.words.get(f"caption:{photo}"):
        boxes.append(Rect(-bleed, -bleed, width, trim.height + 2 * bleed))
    if natural >= highest:
        return [*boxes, Rect(-bleed, -bleed, width, highest)]
    if trim.height - (natural - bleed) <= BROAD_BAND * trim.height:
        return [*boxes, Rect(-bleed, -bleed, width, natural)]
    top = max(grid.picture_margins.head, trim.height * OPTICAL_CENTRE - natural / 2)
    return [*boxes, Rect(-bleed, min(top, trim.height - foot - natural), width, natural)]


def _band_for_caption(matter: Matter) -> float:
    grid = matter.grid
    need = caption_height(matter, matter.block.photos[:1], grid.caption_measure)
    most = MOST_CAPTION * grid.trim.height
    return min(most, need + grid.picture_margins.foot / 2) if need else 0.0


def lay_across(matter: Matter) -> Laid:
    """One picture across two facing pages, its caption in the white band where there is one."""
    grid, photo = matter.grid, matter.block.photos[0]
    fit = _fit_across(matter)
    if fit is None:
        raise ValueError(f"{photo} does not lie across the fold")
    box, crop = fit
    left, right = matter.numbers
    shifted = box.moved(-grid.trim.width, 0.0)
    full = box.bottom >= grid.trim.height
    caption: tuple[Frame, ...] = ()
    if not full:
        # The caption stands under the right half, on the picture margin, where the eye leaves.
        area = grid.picture_area(True)
        under = Rect(area.x, box.y, area.width, box.height)
        caption = place_caption(matter, [(photo, under)], under)
    pages = (
        PageLayout(left, "across", (PictureFrame(box, photo, crop, grid.media),), not full),
        PageLayout(
            right, "across", (PictureFrame(shifted, photo, crop, grid.media), *caption), not full
        ),
    )
    homeless = ((right, photo),) if full and matter.words.get(f"caption:{photo}") else ()
    return Laid(pages, homeless)


def _page_for_one(numbers: tuple[int, ...]) -> int:
    """The page that takes the picture: a recto where the block has one."""
    return next((n for n in numbers if on_recto(n)), numbers[0])


def _with_blanks(matter: Matter, page: PageLayout) -> Laid:
    pages = (page if n == page.number else blank_page(n) for n in matter.numbers)
    return Laid(tuple(pages))
