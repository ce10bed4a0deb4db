"""Maps on pages: over the whole page and its bleed, across the fold where there are two."""

from __future__ import annotations

from wayfold.base.geometry import Rect
from wayfold.layout.matter import Laid, Matter
from wayfold.layout.model import DrawnFrame, PageLayout


def lay_map(matter: Matter) -> Laid:
    """The map of the block's name, its left half on the first page where it has two."""
    trim, media = matter.grid.trim, matter.grid.media
    width = len(matter.numbers) * trim.width
    pages = []
    for at, number in enumerate(matter.numbers):
        box = Rect(-at * trim.width, 0.0, width, trim.height)
        last = at + 1 == len(matter.numbers)
        # What lies beyond the fold is the other page's.
        left = media.x if at == 0 else 0.0
        right = media.right if last else trim.width
        clip = Rect(left, media.y, right - left, media.height)
        pages.append(PageLayout(number, "map", (DrawnFrame(box, matter.block.id, clip),), False))
    return Laid(tuple(pages))
