"""The facts of folded paper: which page lies on which side of which sheet.

A gathering of n nested sheets has 2n leaves and 4n pages. Sheet i (1 = outermost) carries, left
and right of the fold, pages 4n-2i+2 | 2i-1 on its outer side and 2i | 4n-2i+1 on its inner side;
every side sums to 4n+1. Only pages 2n | 2n+1 face each other on one side of one sheet.
Source: geometry of folding (any dummy shows it).
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SheetPages:
    """Pages of one folded sheet, counted from 1 within its gathering, head up on both sides."""

    outer_left: int
    outer_right: int
    inner_left: int
    inner_right: int


def order_pages(sheets: int) -> tuple[SheetPages, ...]:
    """Give the pages of each sheet of a gathering, outermost first. ``sheets`` is at least 1."""
    if sheets < 1:
        raise ValueError("a gathering has at least one sheet")
    total = 4 * sheets
    return tuple(
        SheetPages(total - 2 * i + 2, 2 * i - 1, 2 * i, total - 2 * i + 1)
        for i in range(1, sheets + 1)
    )


def sheet_of(page: int, sheets: int) -> int:
    """Give the sheet (1 = outermost) that carries ``page`` of a gathering of ``sheets``."""
    leaf = (page + 1) // 2
    return min(leaf, 2 * sheets + 1 - leaf)


def conjugate_leaf(leaf: int, sheets: int) -> int:
    """Give the leaf on the other half of the sheet that carries ``leaf`` (both from 1)."""
    return 2 * sheets + 1 - leaf


def is_recto(page: int) -> bool:
    """Whether a page lies on the right: odd pages do."""
    return page % 2 == 1
