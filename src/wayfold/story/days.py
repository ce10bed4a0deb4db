"""The texts of single days: each stands before the day's first pictures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from wayfold.book.state import Book
from wayfold.story.matter import bear_leaves, count_pages
from wayfold.story.model import Alternative, Block, BlockKind


def put_day_texts(
    blocks: Sequence[Block], book: Book, text_pages: Mapping[str, int], told: set[str]
) -> list[Block]:
    """Put the text of a day ("2025-05-12" among the book's texts) before the day's first block.

    The text then carries the date. It may change places with a hero, which begins on a verso, so
    that no page stays white between them. ``told`` are the keys that stand in the book already;
    those placed here are added to it.
    """
    placed: list[Block] = []
    for block in blocks:
        key = block.day.isoformat() if block.day else ""
        pages = count_pages(book, text_pages, key or None)
        if not pages or key in told:
            placed.append(block)
            continue
        told.add(key)
        swap = f"text:{key}" if block.kind is BlockKind.HERO else None
        ways = (bear_leaves(Alternative(pages)),)
        placed.append(
            Block(
                f"text:{key}",
                BlockKind.TEXT,
                ways,
                block.chapter,
                text=key,
                day=block.day,
                swap=swap,
            )
        )
        placed.append(replace(block, day=None, swap=swap or block.swap))
    return placed
