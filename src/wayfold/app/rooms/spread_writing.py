"""Texts, captions and titles written where they stand."""

from __future__ import annotations

from wayfold.app.rooms.spread_words import show_caption
from wayfold.app.session import Session
from wayfold.base.errors import ConflictError, NotFoundError
from wayfold.book.edits import SetCaption, SetText, SetTitle


def write_text(session: Session, key: str, text: str, was: str) -> None:
    """Write a text of the book; ``was`` is what the writer began from.

    Raises ConflictError where it has become another meanwhile, with both.
    """
    with session.hold() as results:
        known = {block.text for block in results.story.blocks} | {"foreword", "colophon"}
        if key not in known and key not in results.book.texts:
            raise NotFoundError(f"The book has no text “{key}”.")
        _check(results.book.texts.get(key, ""), was)
        session.edit(SetText(key, text))


def write_caption(session: Session, photo: str, caption: str | None, was: str) -> None:
    """Write a photograph's caption; None returns to the one in its file."""
    with session.hold() as results:
        if photo not in results.photos:
            raise NotFoundError("This picture is not in the book.")
        _check(show_caption(results, photo).source, was)
        session.edit(SetCaption(photo, caption))


def write_title(
    session: Session, place: str, titles: tuple[str, str | None], was: tuple[str, str | None]
) -> None:
    """Write title and subtitle of the chapter of a place, or of the book where it is "".

    An empty title returns a chapter to its place's name.
    """
    with session.hold() as results:
        chapters = results.story.chapters
        now = {chapter.place: (chapter.title, chapter.subtitle) for chapter in chapters}
        now[""] = (results.book.title, results.book.subtitle)
        if place not in now:
            raise NotFoundError(f"The book has no chapter of {place}.")
        _check("\n".join(filter(None, now[place])), "\n".join(filter(None, was)))
        title, subtitle = titles
        session.edit(SetTitle(place, title.strip() or None, subtitle))


def _check(now: str, was: str) -> None:
    if now != was:
        raise ConflictError(
            "This was written anew elsewhere while you wrote.",
            remedy="Compare both, and keep the one you want.",
        )
