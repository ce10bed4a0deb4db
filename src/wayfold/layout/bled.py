"""One picture over the whole page and its bleed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from wayfold.book.families import Arrange, Family
from wayfold.layout.alone import lay_alone
from wayfold.layout.matter import Laid, Matter, page_for_one, with_blanks
from wayfold.layout.model import PageLayout, PictureFrame

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


def lay_under_leaf(matter: Matter) -> Laid:
    """The picture that opens a chapter: its whole page, under the leaf that bears the title."""
    bled = lay_bled(matter, Family(UNDER_LEAF, Arrange.BLED))
    framed = lay_alone(matter, Family(UNDER_LEAF, Arrange.ALONE))
    return next(bled, None) or next(framed)
