"""The book's styles of paragraph, made from the numbers of its ``Style``."""

from __future__ import annotations

import math
from dataclasses import replace

from wayfold.book.state import Book
from wayfold.book.style import Letters, TitleAlign, TypeSize
from wayfold.drawing.colour import Colour
from wayfold.drawing.text import Align, Figures, TextStyle

A4_AREA = 210.0 * 297.0
SMALLEST_DISPLAY, LARGEST_DISPLAY = 0.7, 1.15


def bare_for_type(book: Book) -> Book:
    """Give a book with what its styles of paragraph are made from, and no more."""
    return Book("", language=book.language, trim=book.trim, style=book.style)


def scale_display(book: Book) -> float:
    """Give the factor that display type takes on this trim: 1 on A4, 0.7 on A5.

    Text meant for reading keeps its size whatever the page.
    """
    factor = math.sqrt(book.trim.width * book.trim.height / A4_AREA)
    return min(LARGEST_DISPLAY, max(SMALLEST_DISPLAY, factor))


def style_body(book: Book) -> TextStyle:
    """Running text: justified, hyphenated, old-style figures."""
    return TextStyle(
        family=book.style.serif,
        size_pt=book.style.body.size_pt,
        leading_pt=book.style.body.leading_pt,
        colour=book.style.ink,
        align=Align.JUSTIFY,
        hyphenate=True,
        language=book.language,
    )


def style_caption(book: Book) -> TextStyle:
    """Captions: small, ragged, in the letters of the style (italic in most)."""
    plain = replace(style_body(book), align=Align.LEFT, hyphenate=False)
    return _shape(_set(plain, book.style.caption), book.style.caption_letters)


def style_note(book: Book) -> TextStyle:
    """Footnotes: running text of the captions' size."""
    return _set(style_body(book), book.style.caption)


def style_title(book: Book) -> TextStyle:
    """Titles of book and chapters: large, ragged, broken by sense."""
    return _shape(_display(book, book.style.title), book.style.title_letters)


def style_subtitle(book: Book) -> TextStyle:
    """The line under a title: italic, between title and text in size."""
    return replace(_display(book, book.style.subtitle), italic=True)


def style_small_caps(book: Book, colour: Colour | None = None) -> TextStyle:
    """Letter-spaced small capitals: headings, and what goes with them."""
    return replace(
        _set(style_body(book), book.style.small),
        align=Align.LEFT,
        hyphenate=False,
        small_caps=True,
        tracking=80.0,
        colour=colour or book.style.ink,
    )


def style_title_line(book: Book, colour: Colour | None = None) -> TextStyle:
    """The small capitals that go with a title, and stand as it does."""
    return replace(style_small_caps(book, colour), align=align_titles(book))


def style_running_head(book: Book) -> TextStyle:
    """The chapter's name at the head of text pages: smaller and quieter still."""
    return _set(style_small_caps(book, book.style.quiet_ink), book.style.running_head)


def style_folio(book: Book) -> TextStyle:
    """Page numbers: the caption's size, roman, old-style figures."""
    return _shape(style_caption(book), Letters.ROMAN)


def style_day_line(book: Book) -> TextStyle:
    """Day lines: sans capitals, letter-spaced, grey."""
    return replace(
        _set(style_body(book), book.style.day_line),
        family=book.style.sans,
        align=Align.LEFT,
        hyphenate=False,
        capitals=True,
        tracking=90.0,
        figures=Figures.LINING,
        colour=book.style.quiet_ink,
    )


def style_contents(book: Book) -> TextStyle:
    """A line of the contents: tabular figures, so that page numbers stand under each other."""
    return replace(
        style_body(book),
        align=Align.LEFT,
        hyphenate=False,
        figures=Figures.TABULAR_OLD_STYLE,
    )


def style_colophon(book: Book) -> TextStyle:
    """The colophon: small roman, ragged."""
    return replace(style_folio(book), leading_pt=book.style.caption.leading_pt + 1.0)


def align_titles(book: Book) -> Align:
    """Give how titles, and the lines under them, stand in their measure."""
    return Align.CENTER if book.style.title_align is TitleAlign.CENTER else Align.LEFT


def _display(book: Book, size: TypeSize) -> TextStyle:
    factor = scale_display(book)
    return replace(
        style_body(book),
        size_pt=round(2 * size.size_pt * factor) / 2,
        leading_pt=round(2 * size.leading_pt * factor) / 2,
        align=align_titles(book),
        hyphenate=False,
    )


def _shape(style: TextStyle, letters: Letters) -> TextStyle:
    small_caps = letters is Letters.SMALL_CAPS
    return replace(style, italic=letters is Letters.ITALIC, small_caps=small_caps)


def _set(style: TextStyle, size: TypeSize) -> TextStyle:
    return replace(style, size_pt=size.size_pt, leading_pt=size.leading_pt)
