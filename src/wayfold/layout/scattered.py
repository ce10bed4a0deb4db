"""Pictures scattered over one page or two, each with white of its own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wayfold.base.geometry import Rect
from wayfold.book.families import Family
from wayfold.layout.alone import MOST_CAPTION
from wayfold.layout.arrangement import Arrangement
from wayfold.layout.captions import caption_height, place_caption
from wayfold.layout.groups import WAYS, part_pictures
from wayfold.layout.matter import Laid, Matter, blank_page, on_recto
from wayfold.layout.model import Frame, PageLayout
from wayfold.layout.scatter import arrange_scattered


def lay_scattered(matter: Matter, family: Family) -> Iterator[Laid]:
    """Give the pictures scattered, parted over the pages in order; each way leaves other white."""
    parts = part_pictures(matter)
    if any(len(part) == 1 for part in parts):
        return
    scattered = [
        _scatter(matter, part, number) if part else ()
        for part, number in zip(parts, matter.numbers, strict=True)
    ]
    for nth in range(WAYS):
        if any(part and nth >= len(ways) for part, ways in zip(parts, scattered, strict=True)):
            return
        pages, scores = [], []
        for part, ways, number in zip(parts, scattered, matter.numbers, strict=True):
            if not part:
                pages.append(blank_page(number))
                continue
            scores.append(ways[nth].score)
            frames = _frame(matter, part, ways[nth], number)
            pages.append(PageLayout(number, family.name, frames, arranged=family.arrange))
        yield Laid(tuple(pages), score=min(scores))


def _scatter(matter: Matter, photos: Sequence[str], number: int) -> tuple[Arrangement, ...]:
    area = matter.grid.picture_area(on_recto(number))
    below = caption_height(matter, photos, matter.grid.caption_measure)
    box = Rect(area.x, area.y, area.width, area.height - min(below, MOST_CAPTION * area.height))
    aspects, weights = zip(*((matter.aspect(p), matter.weight(p)) for p in photos), strict=True)
    return arrange_scattered(
        aspects,
        box,
        weights,
        seed=matter.book.arranging.seed,
        count=WAYS,
        limits=[matter.may_lose(photo) for photo in photos],
    )


def _frame(
    matter: Matter, photos: Sequence[str], arrangement: Arrangement, number: int
) -> tuple[Frame, ...]:
    frames = [
        matter.show_in(photo, rect, number)
        for photo, rect in zip(photos, arrangement.rects, strict=True)
    ]
    placed = [(frame.photo, frame.box) for frame in frames]
    return (*frames, *place_caption(matter, placed, arrangement.bounds))
