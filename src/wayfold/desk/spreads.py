"""Pair pages into what a reader sees at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wayfold.app.views import ReadingView


@dataclass(frozen=True, slots=True)
class SpreadView:
    """Page numbers of a verso and the recto facing it; None where the book ends or begins.

    ``left_veiled`` and ``right_veiled`` count the pages seen through translucent leaves; None
    where the page lies bare.
    """

    left: int | None
    right: int | None
    left_veiled: int | None = None
    right_veiled: int | None = None


def pair_pages(reading: Sequence[ReadingView], pages: int) -> tuple[SpreadView, ...]:
    """Pair each verso with the recto that follows it; a page without partner stands alone.

    ``pages`` are those of the book: a leaf may lie over none of them.
    """
    spreads: list[SpreadView] = []
    verso: ReadingView | None = None
    for page in reading:
        if page.side == "recto":
            spreads.append(_pair(verso, page, pages))
            verso = None
        else:
            if verso is not None:
                spreads.append(_pair(verso, None, pages))
            verso = page
    if verso is not None:
        spreads.append(_pair(verso, None, pages))
    return tuple(spreads)


def _pair(left: ReadingView | None, right: ReadingView | None, pages: int) -> SpreadView:
    numbers = [
        side.number if side is not None and 1 <= side.number <= pages else None
        for side in (left, right)
    ]
    veiled = [None if side is None else side.veiled for side in (left, right)]
    return SpreadView(numbers[0], numbers[1], veiled[0], veiled[1])
