"""Two to nine pictures that belong together, on one page or over facing ones."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from itertools import pairwise

from wayfold.base.geometry import Rect
from wayfold.book.families import Family
from wayfold.layout.arrangement import Arrangement
from wayfold.layout.composed import (
    ArrangeIn,
    NoRoomError,
    arrange_nth,
    compose_page,
    hang_pages,
)
from wayfold.layout.matter import Laid, Matter, blank_page, facing_pair, on_recto
from wayfold.layout.stack import arrange_stack
from wayfold.layout.strip import arrange_strip

WAYS = 3
"""So many arrangements a family has to offer."""


def lay_sliced(matter: Matter, family: Family) -> Iterator[Laid]:
    """Give the calmest arrangements of all pictures, parted over the pages in order."""
    parts = part_pictures(matter)
    for nth in range(WAYS):
        yield from _lay_parts(matter, family, parts, partial(arrange_nth, nth=nth))


def lay_strip(matter: Matter, family: Family) -> Iterator[Laid]:
    """Give the strip of a scene."""

    def strip(matter: Matter, photos: Sequence[str], box: Rect) -> Arrangement | None:
        return arrange_strip([matter.aspect(p) for p in photos], box)

    yield from _lay_parted(matter, family, strip)


def lay_stack(matter: Matter, family: Family) -> Iterator[Laid]:
    """Give the stack of panoramas."""

    def stack(matter: Matter, photos: Sequence[str], box: Rect) -> Arrangement | None:
        return arrange_stack([matter.aspect(p) for p in photos], box, matter.grid.gap)

    yield from _lay_parted(matter, family, stack)


def lay_one_and_rest(matter: Matter, family: Family) -> Iterator[Laid]:
    """Give the weightiest picture large on its page, the others on the page that faces it."""
    photos = matter.block.photos
    if not facing_pair(matter.numbers):
        return
    best = max(photos, key=lambda p: (matter.weight(p), -photos.index(p)))
    rest = tuple(p for p in photos if p != best)
    # The first picture comes first; any other is met after those it stands out from.
    parts = [(best,), rest] if best == photos[0] else [rest, (best,)]
    yield from _lay_parts(matter, family, parts, None)


def _lay_parted(matter: Matter, family: Family, arrange: ArrangeIn) -> Iterator[Laid]:
    yield from _lay_parts(matter, family, part_pictures(matter), arrange)


def _lay_parts(
    matter: Matter, family: Family, parts: Sequence[Sequence[str]], arrange: ArrangeIn | None
) -> Iterator[Laid]:
    """Give the pages with these pictures on each, heads on one line; nothing without room."""
    try:
        composed = [
            (number, compose_page(matter, photos, on_recto(number), arrange))
            for number, photos in zip(matter.numbers, parts, strict=True)
            if photos
        ]
    except NoRoomError:
        return
    hung = hang_pages(matter, composed, family.name, family.arrange)
    pages = {page.number: page for page in hung}
    scores = [c.arrangement.score for _, c in composed if len(c.photos) > 1]
    yield Laid(
        tuple(pages.get(n) or blank_page(n) for n in matter.numbers),
        score=min(scores, default=None),
    )


def part_pictures(matter: Matter) -> list[tuple[str, ...]]:
    """Part the pictures over the pages: the best way for two pages, evenly for more."""
    photos, pages = matter.block.photos, len(matter.numbers)
    if pages != 2:
        cuts = [round(i * len(photos) / pages) for i in range(pages + 1)]
        return [photos[a:b] for a, b in pairwise(cuts)]
    n = len(photos)
    if n < 2:
        return [photos, ()]
    spread = max(1, n // 3)
    ways = [k for k in range(1, n) if abs(2 * k - n) <= spread]
    return max(
        ([photos[:k], photos[k:]] for k in ways), key=lambda parts: _judge_parts(matter, parts)
    )


def _judge_parts(matter: Matter, parts: Sequence[Sequence[str]]) -> float:
    """Score a parting: the worse page counts most, and areas that agree or clearly differ."""
    composed = [
        compose_page(matter, part, on_recto(n))
        for part, n in zip(parts, matter.numbers, strict=True)
    ]
    scores = sorted(c.arrangement.score for c in composed)
    heights = sorted(c.height for c in composed)
    # Feet that nearly agree look like a mistake; those that agree please.
    apart = heights[1] - heights[0]
    foot = 1.0 if apart < 0.5 else 0.85 if apart < 8.0 else 0.95
    return (0.7 * scores[0] + 0.3 * scores[1]) * foot
