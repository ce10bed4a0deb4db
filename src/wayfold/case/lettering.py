"""The words of a cover: what they say, how they are set, and what else its front bears."""

from __future__ import annotations

from dataclasses import dataclass, replace

from wayfold.base.geometry import Size
from wayfold.base.units import pt_from_mm
from wayfold.book.state import Book
from wayfold.book.style import Letters, Style
from wayfold.drawing.colour import Colour
from wayfold.drawing.items import Drawing
from wayfold.drawing.text import Align, TextStyle

CREAM = Colour(0xF6, 0xF0, 0xE4)
LETTER_EM = 0.5
"""Mean width of a letter of a book face, in its size; a little more than it is."""


@dataclass(frozen=True, slots=True)
class CoverPicture:
    """A photograph for the front of a cover: its asset, and its width over its height."""

    asset: str
    aspect: float


@dataclass(frozen=True, slots=True)
class Lettering:
    """The words on a cover and the inks they stand in.

    Into its front a ``picture`` may be let, or else a drawing: the ``ornament``, in the same ink.
    """

    title: str
    subtitle: str
    author: str
    style: Style
    ground: Colour | None
    ink: Colour
    picture: CoverPicture | None = None
    ornament: Drawing | None = None


def letter_cover(
    book: Book, *, on_ground: bool, adorned: CoverPicture | Drawing | None = None
) -> Lettering:
    """Give a book's cover words; light on the accent colour, or dark on bare paper."""
    style = book.style
    ground, ink = (style.accent, CREAM) if on_ground else (None, style.ink)
    picture = adorned if isinstance(adorned, CoverPicture) else None
    ornament = adorned if isinstance(adorned, Drawing) else None
    return Lettering(book.title, book.subtitle, book.author, style, ground, ink, picture, ornament)


def size_ornament(book: Book) -> Size:
    """Give the room (mm) a cover's ornament is drawn for; it is fitted to its place later."""
    return Size(0.66 * book.trim.width, 0.37 * book.trim.height)


def style_title(width: float, letters: Lettering) -> TextStyle:
    """Give the style of a title that fills no more than a measure (mm)."""
    size = pt_from_mm(width) / (LETTER_EM * longest_word(letters.title))
    size = min(1.15 * letters.style.title.size_pt, size)
    return _shape(letters, TextStyle(letters.style.serif, size, 1.14 * size, letters.ink))


def style_subtitle(letters: Lettering) -> TextStyle:
    """Give the style of a subtitle."""
    return TextStyle(
        letters.style.serif,
        14.0,
        19.0,
        letters.ink,
        Align.CENTER,
        italic=True,
        space_before_pt=10.0,
    )


def style_author(letters: Lettering) -> TextStyle:
    """Give the style of the author's name."""
    return TextStyle(
        letters.style.serif,
        11.5,
        15.0,
        letters.ink,
        Align.CENTER,
        small_caps=True,
        tracking=70.0,
        space_before_pt=4.0,
    )


def style_spine(width: float, letters: Lettering) -> TextStyle:
    """Give the style of a title along a spine of that width (mm)."""
    size = min(16.0, pt_from_mm(0.5 * width))
    return _shape(letters, TextStyle(letters.style.serif, size, 1.2 * size, letters.ink))


def resize(style: TextStyle, size_pt: float) -> TextStyle:
    """Give a style in another letter size."""
    return replace(style, size_pt=size_pt, leading_pt=1.2 * size_pt)


def _shape(letters: Lettering, title: TextStyle) -> TextStyle:
    """Give a title the form that the book's titles have."""
    form = letters.style.title_letters
    return replace(
        title,
        align=Align.CENTER,
        italic=form is Letters.ITALIC,
        small_caps=form is Letters.SMALL_CAPS,
    )


def longest_word(words: str) -> int:
    """Count the letters of the longest word."""
    return max((len(word) for word in words.split()), default=1)
