"""What goes over the wire, as pydantic models; the front end's types are made from these."""

from __future__ import annotations

from typing import Self

from pydantic import BaseModel, ConfigDict

from wayfold.app.views import BookView, PageSide, PageView
from wayfold.base.errors import UserError
from wayfold.desk.spreads import SpreadView, pair_pages


class Wire(BaseModel):
    """Base of all wire types: unchangeable, and strict about unknown keys."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Page(Wire):
    """A page in reading order."""

    number: int
    side: PageSide
    chapter: str
    label: str

    @classmethod
    def of(cls, page: PageView) -> Self:
        """The wire form of ``page``."""
        return cls(number=page.number, side=page.side, chapter=page.chapter, label=page.label)


class Spread(Wire):
    """Numbers of the pages seen at once; null where there is none.

    ``left_veiled`` and ``right_veiled`` say which of the pages seen through translucent leaves
    shows there instead; a leaf may lie over no page at all.
    """

    left: int | None
    right: int | None
    left_veiled: int | None
    right_veiled: int | None

    @classmethod
    def of(cls, spread: SpreadView) -> Self:
        """The wire form of ``spread``."""
        return cls(
            left=spread.left,
            right=spread.right,
            left_veiled=spread.left_veiled,
            right_veiled=spread.right_veiled,
        )


class View(Wire):
    """The whole book, for turning its pages."""

    title: str
    author: str
    language: str
    revision: str
    trim_width_mm: float
    trim_height_mm: float
    pages: list[Page]
    spreads: list[Spread]

    @classmethod
    def of(cls, book: BookView) -> Self:
        """The wire form of ``book``, what a reader meets paired into spreads."""
        return cls(
            title=book.title,
            author=book.author,
            language=book.language,
            revision=book.revision,
            trim_width_mm=book.trim_width_mm,
            trim_height_mm=book.trim_height_mm,
            pages=[Page.of(page) for page in book.pages],
            spreads=[Spread.of(spread) for spread in pair_pages(book.reading, len(book.pages))],
        )


class Problem(Wire):
    """What happened, where, and what to do; the body of every refusal."""

    what: str
    where: str = ""
    remedy: str = ""

    @classmethod
    def of(cls, error: UserError) -> Self:
        """The wire form of ``error``."""
        return cls(what=error.what, where=error.where, remedy=error.remedy)
