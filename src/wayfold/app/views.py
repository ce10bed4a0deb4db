"""What the skins show of a book, as plain values."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wayfold.app.work import Work
from wayfold.base.errors import UserError

PageSide = Literal["recto", "verso"]


@dataclass(frozen=True, slots=True)
class PageView:
    """One page as a reader meets it.

    ``number`` counts every page from 1; ``label`` is the folio, empty where the page counts but
    shows none; ``chapter`` is the chapter's title, empty before the first.
    """

    number: int
    side: PageSide
    chapter: str
    label: str


@dataclass(frozen=True, slots=True)
class ReadingView:
    """What a reader meets on one side of the open book: a page, bare or through translucent leaves.

    ``number`` is the page's; 0, or one more than there are, where a leaf lies over nothing.
    ``veiled`` counts the pages seen through leaves from 1; None for a bare one.
    """

    number: int
    side: PageSide
    veiled: int | None = None


@dataclass(frozen=True, slots=True)
class BookView:
    """The book as it is to be read; ``revision`` changes whenever any page may look different.

    ``reading`` has the pages in the order a reader meets them, turning every translucent leaf.
    """

    title: str
    author: str
    language: str
    revision: str
    trim_width_mm: float
    trim_height_mm: float
    pages: tuple[PageView, ...]
    reading: tuple[ReadingView, ...]


@dataclass(frozen=True, slots=True)
class BookState:
    """How an open book stands.

    ``undo`` and ``redo`` say what would be taken back, and what done again, None where nothing.
    ``trouble`` is what is wrong with files that were changed by hand. ``changes`` counts the
    changes of the decisions, also of those that move nothing on any page; ``copies`` the files
    that lie there in another version too.
    """

    folder: str
    title: str
    revision: str
    undo: str | None
    redo: str | None
    trouble: UserError | None
    works: tuple[Work, ...]
    changes: int = 0
    copies: int = 0
