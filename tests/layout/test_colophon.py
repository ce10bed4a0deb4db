"""A colophon of a few lines, and one as long as a list of credits."""

import pytest

from wayfold.book.state import Book
from wayfold.layout.colophon import count_colophon_pages, lay_colophon_pages
from wayfold.layout.grid import make_grid
from wayfold.layout.matter import Matter, RememberingMeasurer
from wayfold.story.model import Alternative, Block, BlockKind
from wayfold.words.model import Words
from wayfold.words.texts import style_texts


def make(measurer, lines: int, numbers=(60,)) -> Matter:
    text = "\n".join(f"- The picture called {i}, by somebody kind, CC0" for i in range(lines))
    book = Book("B", texts={"colophon": text})
    words = Words(dict(style_texts(book)))
    block = Block("colophon", BlockKind.COLOPHON, (Alternative(len(numbers)),), text="colophon")
    remembering = RememberingMeasurer(measurer)
    return Matter(book, make_grid(book), words, {}, remembering, block, numbers)


def printed(laid) -> list[str]:
    return [p.plain for page in laid.pages for f in page.frames for p in f.paragraphs]


def test_a_few_lines_stand_on_the_foot_of_the_text_area(measurer):
    matter = make(measurer, 4)
    (page,) = lay_colophon_pages(matter).pages
    (frame,) = page.frames
    assert frame.box.bottom == pytest.approx(297 - 66)
    assert not page.folio


@pytest.mark.parametrize("credits", [46, 60, 80])
def test_long_credits_stand_in_two_even_columns(measurer, credits):
    matter = make(measurer, credits)
    paragraphs = matter.words.get("colophon")
    assert count_colophon_pages(paragraphs, matter.grid, measurer) == 1
    laid = lay_colophon_pages(matter)
    left, right = laid.pages[0].frames
    assert laid.findings == ()
    assert printed(laid) == [p.plain for p in paragraphs]
    assert left.box.y == right.box.y and left.box.bottom == right.box.bottom
    assert left.box.right < right.box.x
    # Even columns: neither has more than two lines more than the other.
    assert 0 <= len(left.paragraphs) - len(right.paragraphs) <= 2


def test_credits_beyond_a_page_take_more_and_are_kept(measurer):
    matter = make(measurer, 130, (60, 61))
    paragraphs = matter.words.get("colophon")
    assert count_colophon_pages(paragraphs, matter.grid, measurer) == 2
    assert printed(lay_colophon_pages(matter)) == [p.plain for p in paragraphs]
    cramped = make(measurer, 130)
    laid = lay_colophon_pages(cramped)
    assert printed(laid) == [p.plain for p in paragraphs]
    assert [f.rule for f in laid.findings] == ["layout.overset"]
