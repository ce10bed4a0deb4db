"""One picture over the whole page and its bleed, or from edge to edge of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from wayfold.base.geometry import Rect
from wayfold.book.families import Arrange, Family
from wayfold.layout.alone import lay_alone
from wayfold.layout.captions import place_caption
from wayfold.layout.grid import OPTICAL_CENTRE
from wayfold.layout.matter import Laid, Matter, on_recto, page_for_one, with_blanks
from wayfold.layout.model import Frame, PageLayout, PictureFrame

UNDER_LEAF = "under-leaf"


def lay_bled(matter: Matter, family: Family) -> Iterator[Laid]:
    """Give the picture over its page, where nothing that matters is lost by it."""
    number, photo = page_for_one(matter.numbers), matter.block.photos[0]
    media = matter.grid.media
    crop = matter.crop_on_page(photo, media, number)
    if crop is None:
        return
    frame = PictureFrame(media, photo, crop)
    page = PageLayout(number, family.name, (frame,), folio=False, arranged=family.arrange)
    homeless = ((number, photo),) if matter.words.get(f"caption:{photo}") else ()
    yield replace(with_blanks(matter, page), homeless=homeless)


def lay_band(matter: Matter, family: Family) -> Iterator[Laid]:
    """Give a wide picture from edge to edge about the optical centre, its caption on the margin."""
    number, photo = page_for_one(matter.numbers), matter.block.photos[0]
    grid, media = matter.grid, matter.grid.media
    height = media.width / matter.aspect(photo)
    area = grid.picture_area(on_recto(number))
    if height > area.height / 2:
        return
    box = Rect(media.x, grid.trim.height * OPTICAL_CENTRE - height / 2, media.width, height)
    crop = matter.crop_on_page(photo, box, number)
    if crop is None:
        return
    under = Rect(area.x, box.y, area.width, box.height)
    captions = place_caption(matter, [(photo, under)], under)
    frames: tuple[Frame, ...] = (PictureFrame(box, photo, crop), *captions)
    yield with_blanks(matter, PageLayout(number, family.name, frames, arranged=family.arrange))


def lay_under_leaf(matter: Matter) -> Laid:
    """The picture that opens a chapter: its whole page, under the leaf that bears the title."""
    bled = lay_bled(matter, Family(UNDER_LEAF, Arrange.BLED))
    framed = lay_alone(matter, Family(UNDER_LEAF, Arrange.ALONE))
    return next(bled, None) or next(framed)
