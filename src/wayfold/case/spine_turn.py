"""Which way a title runs along the spine, by the habit of the book's language.

ISO 6357:1985 has titles run from head to tail, as English, Dutch and Scandinavian books do; many
others go up from the tail. The list is from memory and gives only what a book starts from.
"""

from __future__ import annotations

from wayfold.book.casing import SpineTurn

UPWARD = frozenset(
    ("fr", "es", "it", "pt", "ca", "ro", "pl", "cs", "sk", "hu", "ru", "uk", "bg", "el", "sl", "hr")
)
"""Languages whose books mostly read from tail to head."""


def choose_spine_turn(wanted: SpineTurn, language: str) -> SpineTurn:
    """Give the direction of a spine title: as the maker says, else by language (BCP 47)."""
    if wanted is not SpineTurn.BY_LANGUAGE:
        return wanted
    upward = language.lower().split("-")[0] in UPWARD
    return SpineTurn.TAIL_TO_HEAD if upward else SpineTurn.HEAD_TO_TAIL
