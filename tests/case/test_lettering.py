"""The title on a cover stands in the letters that the book's titles have."""

from __future__ import annotations

import pytest

from wayfold.book.state import Book
from wayfold.book.style import Letters, Style
from wayfold.case.lettering import letter_cover, style_spine, style_title
from wayfold.drawing.text import Align


@pytest.mark.parametrize("letters", list(Letters))
def test_a_cover_is_lettered_as_titles_are(letters: Letters) -> None:
    cover = letter_cover(Book("T", style=Style(title_letters=letters)), on_ground=True)
    for style in (style_title(100.0, cover), style_spine(20.0, cover)):
        assert style.italic is (letters is Letters.ITALIC)
        assert style.small_caps is (letters is Letters.SMALL_CAPS)
        assert style.align is Align.CENTER
