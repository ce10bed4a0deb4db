"""Numbers with their nouns."""

from __future__ import annotations


def count_of(number: int, one: str, many: str = "") -> str:
    """Give "1 page", "3 pages"."""
    return f"{number} {one if number == 1 else many or one + 's'}"
