"""What goes over the wire, as pydantic models; the front end's types are made from these."""

from __future__ import annotations

from typing import Self

from pydantic import BaseModel, ConfigDict

from wayfold.app.views import BookState, BookView, PageSide
from wayfold.app.work import Work, WorkState
from wayfold.base.errors import RewrittenError, UserError
from wayfold.desk.spreads import pair_pages
from wayfold.desk.wording import word_for_desk


class Wire(BaseModel):
    """Base of all wire types: unchangeable, and strict about unknown keys."""

    model_config = ConfigDict(frozen=True, extra="forbid", from_attributes=True)

    @classmethod
    def mirror(cls, value: object) -> Self:
        """The wire form of what has the same fields, all the way down."""
        return cls.model_validate(value)


class Page(Wire):
    """A page in reading order."""

    number: int
    side: PageSide
    chapter: str
    label: str


class Spread(Wire):
    """Numbers of the pages seen at once; null where there is none.

    ``left_veiled`` and ``right_veiled`` say which of the pages seen through translucent leaves
    shows there instead; a leaf may lie over no page at all.
    """

    left: int | None
    right: int | None
    left_veiled: int | None
    right_veiled: int | None


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
            pages=[Page.mirror(page) for page in book.pages],
            spreads=[Spread.mirror(spread) for spread in pair_pages(book.reading, len(book.pages))],
        )


class Problem(Wire):
    """What happened, where, and what to do; the body of every refusal."""

    what: str
    where: str = ""
    remedy: str = ""

    @classmethod
    def of(cls, error: UserError) -> Self:
        """The wire form of ``error``."""
        return cls(
            what=word_for_desk(error.what),
            where=word_for_desk(error.where),
            remedy=word_for_desk(error.remedy),
        )


class Rewritten(Problem):
    """What stands now where words were to be written that began from others."""

    kept: str
    kept_subtitle: str | None

    @classmethod
    def of(cls, error: UserError) -> Self:
        """The wire form of ``error``, a RewrittenError."""
        assert isinstance(error, RewrittenError)
        return cls(
            what=word_for_desk(error.what),
            where=word_for_desk(error.where),
            remedy=word_for_desk(error.remedy),
            kept=error.kept,
            kept_subtitle=error.kept_subtitle,
        )


class WorkUnderWay(Wire):
    """A piece of long work: ``step`` is being done, ``done`` of ``total`` of it."""

    number: int
    name: str
    state: WorkState
    step: str
    done: int
    total: int
    problem: Problem | None

    @classmethod
    def of(cls, work: Work) -> Self:
        """The wire form of ``work``."""
        return cls(
            number=work.number,
            name=work.name,
            state=work.state,
            step=work.step,
            done=work.done,
            total=work.total,
            problem=None if work.error is None else Problem.of(work.error),
        )


class Change(Wire):
    """A change of the book; ``at`` is when, by the clock of this machine."""

    number: int
    kind: str
    what: str
    at: str


class OpenBook(Wire):
    """How the open book stands; ``revision`` changes whenever a page may look different.

    ``undo`` and ``redo`` say what would be taken back or done again; null where nothing is.
    ``changes`` grows with every change, also with those that move nothing on any page.
    ``trouble`` is what is wrong with files changed by hand. The book is null where none is open.
    """

    folder: str
    title: str
    revision: str
    changes: int
    undo: str | None
    redo: str | None
    trouble: Problem | None
    works: list[WorkUnderWay]

    @classmethod
    def of(cls, state: BookState) -> Self:
        """The wire form of ``state``."""
        return cls(
            folder=state.folder,
            title=state.title,
            revision=state.revision,
            changes=state.changes,
            undo=state.undo,
            redo=state.redo,
            trouble=None if state.trouble is None else Problem.of(state.trouble),
            works=[WorkUnderWay.of(work) for work in state.works],
        )


class Desk(Wire):
    """What lies on the desk, and the work of opening a book.

    ``copies`` counts files that lie in another version too beside the book's own: of the open book,
    or of the one that could not be opened last.
    """

    book: OpenBook | None
    copies: int
    works: list[WorkUnderWay]
