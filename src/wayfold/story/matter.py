"""What stands before the first chapter and after the last, and what opens a chapter."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from wayfold.base.findings import Finding, Severity
from wayfold.book.state import Book
from wayfold.story.chapters import FilledChapter
from wayfold.story.model import Alternative, Block, BlockKind, Start

CONTENTS_A_PAGE = 16
"""Chapters a contents page holds with their subtitles, by the text area of ``Style``."""

OFF_RECTO = 4
"""Cost of a part on a verso that a reader looks for on a recto."""

MAP_WAYS = (Alternative(2, spreads=(0,)), Alternative(1, cost=12))
"""A map of a whole journey wants both pages of an opening; on one its names stand closer."""


def make_front_matter(
    book: Book, text_pages: Mapping[str, int], chapters: int, *, overview: bool
) -> list[Block]:
    """Give half-title, title, foreword (where written), contents (from two chapters) and the rest.

    That is the overview map, where wanted, and the itinerary, where ``text_pages`` has it.
    """
    recto = (bear_leaves(Alternative(1, start=Start.RECTO)),)
    blocks = [
        Block("half-title", BlockKind.HALF_TITLE, recto),
        Block("title", BlockKind.TITLE, recto),
    ]
    foreword = count_pages(book, text_pages, "foreword")
    if foreword:
        ways = _prefer_recto(foreword)
        blocks.append(Block("foreword", BlockKind.FOREWORD, ways, text="foreword"))
    if chapters > 1:
        pages = text_pages.get("contents", math.ceil(chapters / CONTENTS_A_PAGE))
        blocks.append(Block("contents", BlockKind.CONTENTS, _prefer_recto(pages)))
    if overview:
        blocks.append(Block("overview", BlockKind.OVERVIEW, MAP_WAYS))
    pages = text_pages.get("itinerary", 0)
    if pages:
        ways = _prefer_recto(1) if pages == 1 else _prefer_facing(pages)
        blocks.append(Block("itinerary", BlockKind.ITINERARY, ways))
    return blocks


def open_chapter(
    book: Book, text_pages: Mapping[str, int], filled: FilledChapter, number: int
) -> list[Block]:
    """Give a chapter's first page and its text; ``number`` counts chapters from 0.

    Where a picture opens the chapter, it lies on a recto, and the title on the leaf over it. A
    text of no pages (``text_pages`` 0) stands under the title, unless that is on a leaf.
    """
    start = Start.RECTO if book.openers_on == "recto" or filled.opening else Start.ANY
    way = Alternative(1, start=start)
    way = replace(way, interleaves=(0,)) if filled.opening else bear_leaves(way)
    photos = (filled.opening.photo,) if filled.opening else ()
    opener = Block(f"opener:{number}", BlockKind.OPENER, (way,), number, photos)
    pages = count_pages(book, text_pages, filled.text)
    if not pages:
        return [opener]
    if not filled.opening and filled.text and text_pages.get(filled.text) == 0:
        return [replace(opener, text=filled.text)]
    ways = (bear_leaves(Alternative(pages)),)
    return [opener, Block(f"text:{number}", BlockKind.TEXT, ways, number, text=filled.text)]


def make_back_matter(book: Book, text_pages: Mapping[str, int]) -> list[Block]:
    """Give the closing text (where written) and the colophon, always the last."""
    blocks = []
    closing = count_pages(book, text_pages, "closing")
    if closing:
        blocks.append(Block("closing", BlockKind.CLOSING, _prefer_recto(closing), text="closing"))
    colophon = bear_leaves(Alternative(max(1, text_pages.get("colophon", 1))))
    blocks.append(Block("colophon", BlockKind.COLOPHON, (colophon,), text="colophon"))
    return blocks


def count_pages(book: Book, text_pages: Mapping[str, int], key: str | None) -> int:
    """Give the pages a text takes where it has pages of its own; 0 where nobody wrote it."""
    if key is None or not book.texts.get(key, "").strip():
        return 0
    return max(1, text_pages.get(key, 1))


def judge_texts(book: Book) -> list[Finding]:
    """Give a finding for each chapter that names a text which is not there."""
    return [
        Finding(
            "story.text",
            Severity.WARN,
            f"book.toml, chapter {choice.place}",
            f"The chapter's text {choice.text!r} is not there.",
            f"Write it to texts/{choice.text}.md, or take the line out.",
        )
        for choice in book.chapters
        if choice.text and choice.text not in book.texts
    ]


def _prefer_recto(pages: int) -> tuple[Alternative, ...]:
    return (
        bear_leaves(Alternative(pages, start=Start.RECTO)),
        bear_leaves(Alternative(pages, cost=OFF_RECTO)),
    )


def _prefer_facing(pages: int) -> tuple[Alternative, ...]:
    """A table of two pages is read across the fold."""
    return (
        bear_leaves(Alternative(pages, start=Start.VERSO)),
        bear_leaves(Alternative(pages, cost=OFF_RECTO)),
    )


def bear_leaves(way: Alternative) -> Alternative:
    """Give a way all of whose pages bear a translucent leaf beside them.

    Pages of type do: the leaf lifts like a curtain before reading begins, hides no picture, and
    the white about the type leaves its own few words in peace.
    """
    return replace(way, bears=tuple(range(way.pages)))
