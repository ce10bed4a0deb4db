"""Which way each block of pictures is laid: facing pages are judged together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import product

from wayfold.book.families import Arrange
from wayfold.layout.matter import Matter
from wayfold.layout.model import PageLayout
from wayfold.layout.ways import Way, list_ways

WITHIN = 0.02
"""Slow families that cannot come so near to the best are not worked out, unless asked for."""
TWO_BLED = 0.6
"""What a bled picture loses where the facing page is bled too."""
FULL = frozenset({Arrange.BLED, Arrange.ACROSS, Arrange.REACHING})


def choose_ways(
    opening: Sequence[Matter], pages: Mapping[int, PageLayout]
) -> tuple[tuple[Matter, Way], ...]:
    """Give each block that begins on two facing pages the way that makes the best spread.

    ``pages`` has those laid already: the spread before, and what faces.
    """
    ranked = rank_ways(opening, pages)
    return tuple(zip(opening, ranked[0], strict=True))


def rank_ways(
    opening: Sequence[Matter], pages: Mapping[int, PageLayout], *, free: bool = False
) -> list[tuple[Way, ...]]:
    """Give all ways to lay the blocks that begin on two facing pages, the best first.

    A way that the person chose for a block is the only one of it, unless ``free``.
    """
    start = opening[0].numbers[0] // 2 * 2
    before = frozenset(pages[n].family for n in (start - 2, start - 1) if n in pages)
    listed = [
        list_ways(matter, before) if free else _list_wanted(matter, before) for matter in opening
    ]
    return sorted(product(*listed), key=lambda ways: -_judge(opening, ways, pages))


def _list_wanted(matter: Matter, before: frozenset[str]) -> tuple[Way, ...]:
    wanted = matter.book.arranging.ways.get(matter.block.id)
    if wanted is None:
        return list_ways(matter, before, WITHIN)
    ways = list_ways(matter, before)
    return tuple(way for way in ways if way.name == wanted) or ways


def _judge(
    opening: Sequence[Matter], ways: Sequence[Way], pages: Mapping[int, PageLayout]
) -> float:
    start = opening[0].numbers[0] // 2 * 2
    laid = {page.number: page for way in ways for page in way.laid.pages if page.frames}
    facing = [laid.get(n) or pages.get(n) for n in (start, start + 1)]
    worth = sum(way.worth for way in ways) / len(ways)
    arranged = [page.arranged for page in facing if page and page.frames]
    if len(arranged) == 2 and Arrange.BLED in arranged and set(arranged) <= FULL:
        worth -= TWO_BLED
    return worth
