"""The fonts of a book: those its style asks for, and its own."""

from __future__ import annotations

from collections.abc import Callable

from wayfold.app.picture_files import FileList, list_under
from wayfold.base.errors import UserError
from wayfold.base.memory import Aside, Memory
from wayfold.book.style import Style
from wayfold.project.files import BookFolder
from wayfold.project.store import load_style
from wayfold.typeset.engine import Typesetter
from wayfold.typeset.fonts import FontLibrary
from wayfold.typeset.own_fonts import refuse_unfit


def open_typesetter(folder: BookFolder, memory: Memory | None = None) -> Typesetter:
    """Give the typesetter of a book: it knows the families of its style and its own fonts.

    It is the one in ``memory`` while it would be the same. Raises UserError for a family that is
    nowhere, and for an own font that may not be embedded.
    """
    style, find_said = load_style(folder)
    families = Style(serif=style.serif, sans=style.sans)
    fonts = list_under([folder.fonts]) if folder.fonts.is_dir() else ()
    return (memory or Memory()).recall(_open_families, families, folder, fonts, Aside(find_said))


def _open_families(
    style: Style, folder: BookFolder, _fonts: FileList, find_said: Aside[Callable[[str], str]]
) -> Typesetter:
    return open_style(style, folder, find_said.value)


def open_style(style: Style, folder: BookFolder, find_said: Callable[[str], str]) -> Typesetter:
    """Give a typesetter for one style, with the own fonts of the book in ``folder`` if any.

    ``find_said`` names the place that the style's value of a key comes from. Raises UserError as
    ``open_typesetter`` does.
    """
    refuse_unfit(folder.fonts, folder.name_of)
    library = FontLibrary((style.serif, style.sans), folder.fonts)
    for key in ("serif", "sans"):
        family = getattr(style, key)
        if family not in library.families:
            raise UserError(
                f"There is no font family “{family}”.",
                where=find_said(key),
                remedy=f"Write one of: {', '.join(library.known)}; "
                "or put the family’s files into the book’s folder fonts/.",
            )
    return Typesetter(library)
