"""Texts, captions and titles written where they stand."""

from __future__ import annotations

from wayfold.app.rooms.spread_words import show_caption
from wayfold.app.session import Session
from wayfold.base.errors import NotFoundError, RewrittenError
from wayfold.book.edits import SetCaption, SetText, SetTitle
from wayfold.words.texts import COLOPHON, FOREWORD


def write_text(session: Session, key: str, text: str, was: str) -> None:
    """Write a text of the book; ``was`` is what the writer began from.

    Raises RewrittenError where it has become another meanwhile.
    """
    with session.hold() as results:
        texts = results.book.texts
        asked = {block.text for block in results.story.blocks} | {FOREWORD, COLOPHON}
        if key not in asked and key not in texts:
            raise NotFoundError(f"The book has no text “{key}”.")
        if texts.get(key, "") != was:
            raise RewrittenError(kept=texts.get(key, ""))
        session.edit(SetText(key, text))


def write_caption(session: Session, photo: str, caption: str | None, was: str) -> None:
    """Write a photograph's caption; None returns to the one in its file."""
    with session.hold() as results:
        if photo not in results.photos:
            raise NotFoundError("This picture is not in the book.")
        kept = show_caption(results, photo).source
        if kept != was:
            raise RewrittenError(kept=kept)
        session.edit(SetCaption(photo, caption))


def write_title(
    session: Session, place: str, titles: tuple[str, str | None], was: tuple[str, str | None]
) -> None:
    """Write title and subtitle of the chapter of a place, or of the book where it is "".

    An empty title returns a chapter to its place's name.
    """
    with session.hold() as results:
        chapters = results.story.chapters
        known = {chapter.place: (chapter.title, chapter.subtitle) for chapter in chapters}
        known[""] = (results.book.title, results.book.subtitle)
        if place not in known:
            raise NotFoundError(f"The book has no chapter of {place}.")
        title, subtitle = known[place]
        if (title, subtitle) != (was[0], was[1] or ""):
            raise RewrittenError(kept=title, kept_subtitle=subtitle)
        session.edit(SetTitle(place, titles[0].strip() or None, titles[1]))
