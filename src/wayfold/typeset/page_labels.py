"""What a viewer calls each page of a PDF: the numbers the book's reader knows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pikepdf


def make_labels(labels: Sequence[str]) -> pikepdf.Dictionary:
    """Give the number tree of page labels (ISO 32000-1, 12.4.2), one label a page.

    Pages that count on, "7", "8", "9", are one range; any other wording is a range of its own.
    """
    import pikepdf

    nums = pikepdf.Array()
    for place, first in _list_ranges(labels):
        nums.append(place)
        if first is not None:
            nums.append(pikepdf.Dictionary(S=pikepdf.Name.D, St=first))
        else:
            nums.append(pikepdf.Dictionary(P=pikepdf.String(labels[place])))
    return pikepdf.Dictionary(Nums=nums)


def _list_ranges(labels: Sequence[str]) -> Iterator[tuple[int, int | None]]:
    """Each range's first place (from 0), and the number it counts from; None for words."""
    following: int | None = None
    for place, label in enumerate(labels):
        number = int(label) if label.isascii() and label.isdecimal() and label[0] != "0" else None
        if number is None or number != following:
            yield place, number
        following = None if number is None else number + 1
