"""What a style says of titles and margins, on the pages."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wayfold.book.style import Margins, Style, TitleAlign
from wayfold.drawing.text import Align, Paragraph, Run
from wayfold.layout.grid import make_grid
from wayfold.layout.openings import lay_title
from wayfold.story.model import BlockKind
from wayfold.words.model import Words
from wayfold.words.styles import style_subtitle, style_title, style_title_line

CENTRED = Style(title_align=TitleAlign.CENTER)


def lay_in(matter, style):
    book = replace(matter.book, style=style)
    words = {
        "title": (Paragraph((Run("A Book"),), style_title(book)),),
        "subtitle": (Paragraph((Run("Of two weeks by train and by boat"),), style_subtitle(book)),),
        "author": (Paragraph((Run("Somebody"),), style_title_line(book)),),
    }
    placed = replace(
        matter, book=book, grid=make_grid(book), words=Words(words), measurer=matter.measurer
    )
    return placed.grid, lay_title(placed).pages


def test_titles_in_the_middle_have_one_axis(make_matter):
    matter = make_matter([], numbers=(3,), kind=BlockKind.TITLE)
    grid, (page,) = lay_in(matter, CENTRED)
    area = grid.text_area(recto=True)
    assert len(page.frames) == 3
    for frame in page.frames:
        assert frame.paragraphs[0].style.align is Align.CENTER
        assert frame.box.x + frame.box.width / 2 == pytest.approx(area.x + area.width / 2)


def test_titles_at_the_left_begin_where_text_does(make_matter):
    matter = make_matter([], numbers=(3,), kind=BlockKind.TITLE)
    grid, (page,) = lay_in(matter, Style())
    assert {frame.box.x for frame in page.frames} == {grid.text_area(recto=True).x}


def test_even_borders_put_the_text_in_the_middle(make_matter):
    even = Style(text_margins=Margins(32.0, 32.0, 32.0, 32.0), text_measure=100.0)
    grid = make_grid(replace(make_matter([]).book, style=even))
    for recto in (True, False):
        assert grid.text_area(recto).x == pytest.approx((210.0 - 100.0) / 2)
    # On A5 (ISO 216: 148 x 210 mm) all borders shrink alike, by the square root of one half.
    small = make_grid(replace(make_matter([]).book, style=even, trim=grid.trim.__class__(148, 210)))
    margins = small.text_margins
    assert margins.inner == margins.outer == margins.head == margins.foot
    assert margins.inner == pytest.approx(32.0 * 0.5**0.5, rel=0.005)
