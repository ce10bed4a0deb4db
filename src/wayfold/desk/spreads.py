"""Pair pages into what a reader sees at once."""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.app.views import PageView


@dataclass(frozen=True, slots=True)
class SpreadView:
    """Page numbers of a verso and the recto facing it; None where the book ends or begins."""

    left: int | None
    right: int | None


def pair_pages(pages: tuple[PageView, ...]) -> tuple[SpreadView, ...]:
    """Pair each verso with the recto that follows it; a page without partner stands alone."""
    spreads: list[SpreadView] = []
    verso: int | None = None
    for page in pages:
        if page.side == "recto":
            spreads.append(SpreadView(verso, page.number))
            verso = None
        else:
            if verso is not None:
                spreads.append(SpreadView(verso, None))
            verso = page.number
    if verso is not None:
        spreads.append(SpreadView(verso, None))
    return tuple(spreads)
