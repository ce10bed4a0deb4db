"""Pictures in places that a family names."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.geometry import Rect
from wayfold.book.families import Family, Place
from wayfold.layout.captions import caption_height, place_caption
from wayfold.layout.matter import Laid, Matter, on_recto
from wayfold.layout.model import Frame, PageLayout, PictureFrame


def lay_places(matter: Matter, family: Family) -> Iterator[Laid]:
    """Give the pictures in the family's places in order, their captions beneath them."""
    placed: list[list[tuple[str, Rect]]] = [[] for _ in matter.numbers]
    frames: list[list[Frame]] = [[] for _ in matter.numbers]
    for photo, place in zip(matter.block.photos, family.places, strict=True):
        at = place.page - 1
        frame = _frame(matter, photo, place, matter.numbers[at])
        placed[at].append((photo, frame.box))
        frames[at].append(frame)
    pages = []
    for number, here, shown in zip(matter.numbers, placed, frames, strict=True):
        if here:
            x, y = min(r.x for _, r in here), min(r.y for _, r in here)
            right, bottom = max(r.right for _, r in here), max(r.bottom for _, r in here)
            shown += place_caption(matter, here, Rect(x, y, right - x, bottom - y))
        pages.append(
            PageLayout(number, family.name, tuple(shown), bool(here), arranged=family.arrange)
        )
    yield Laid(tuple(pages))


def _frame(matter: Matter, photo: str, place: Place, number: int) -> PictureFrame:
    area = matter.grid.picture_area(on_recto(number))
    below = caption_height(matter, matter.block.photos, matter.grid.caption_measure)
    height = area.height - below
    box = Rect(
        area.x + place.box.x * area.width,
        area.y + place.box.y * height,
        place.box.width * area.width,
        place.box.height * height,
    )
    return matter.show_in(photo, box, number) if place.fills else matter.stand_in(photo, box)
