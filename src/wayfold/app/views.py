"""What the skins show of a book, as plain values."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

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
class BookView:
    """The book as it is to be read; ``revision`` changes whenever any page may look different."""

    title: str
    author: str
    language: str
    revision: str
    trim_width_mm: float
    trim_height_mm: float
    pages: tuple[PageView, ...]
