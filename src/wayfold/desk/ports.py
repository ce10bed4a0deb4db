"""What the desk needs of a session; ``app`` provides it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Protocol

Side = Literal["recto", "verso"]


@dataclass(frozen=True, slots=True)
class PageView:
    """One page as a reader meets it.

    ``number`` counts every page from 1; ``label`` is the folio, empty where the page counts but
    shows none; ``chapter`` is the chapter's title, empty before the first.
    """

    number: int
    side: Side
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


class DeskSession(Protocol):
    """An open book. Methods raise ``UserError`` for what a person can mend.

    The desk calls ``page_svg`` from one thread at a time; the other two may be called from
    several threads at once.
    """

    def view(self) -> BookView:
        """The book in reading order."""
        ...

    def page_svg(self, number: int) -> str:
        """Page ``number`` as an SVG of its trim area; its pictures refer to ``/assets/<id>``."""
        ...

    def asset_jpeg(self, asset_id: str) -> bytes:
        """The preview JPEG that a page's SVG refers to."""
        ...
