"""The map of a chapter's town: one page for each chapter whose town has places to number."""

from __future__ import annotations

from collections.abc import Sequence

from wayfold.base.findings import Finding, Severity
from wayfold.book.state import Book
from wayfold.story.chapters import FilledChapter
from wayfold.story.matter import bear_leaves
from wayfold.story.model import Alternative, Block, BlockKind

PREFIX = "map:"
"""The block of a town's map is called this and the town's name."""


def map_towns(book: Book, chapters: Sequence[FilledChapter]) -> dict[int, Block]:
    """Give the blocks of town maps by the number of the chapter each belongs to.

    A town has one map, in the first chapter of it, where places of it are to be numbered.
    """
    wanted = {place.town for place in book.journey.places}
    blocks: dict[int, Block] = {}
    for number, filled in enumerate(chapters):
        town = filled.choice.place if filled.choice else ""
        if town in wanted:
            wanted.remove(town)
            ways = (bear_leaves(Alternative(1)),)
            blocks[number] = Block(f"{PREFIX}{town}", BlockKind.MAP, ways, number)
    return blocks


def judge_places(book: Book, chapters: Sequence[FilledChapter]) -> list[Finding]:
    """Give a finding for each town of which a place is to be numbered, and no chapter tells."""
    told = list(dict.fromkeys(c.choice.place for c in chapters if c.choice))
    lost = dict.fromkeys(p.town for p in book.journey.places if p.town not in told)
    return [
        Finding(
            "story.map",
            Severity.WARN,
            f"trip.toml, place in {town}",
            f"No chapter is of {town}, so its places are on no map.",
            f"Write the town as the journey knows it: {', '.join(told) or 'none'}.",
        )
        for town in lost
    ]
