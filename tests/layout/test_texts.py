"""Threading long texts, with the stand-in measurer and with the real type where it is there."""

import math

import pytest

from wayfold.base.units import mm_from_pt
from wayfold.book.state import Book, ChapterChoice
from wayfold.drawing.text import Paragraph, Run, TextBlock
from wayfold.layout.grid import make_grid
from wayfold.layout.judge import judge_pages
from wayfold.layout.matter import Matter, RememberingMeasurer
from wayfold.layout.openings import lay_opener
from wayfold.layout.texts import count_text_pages, lay_text_pages
from wayfold.story.model import Alternative, Block, BlockKind
from wayfold.words.model import Words
from wayfold.words.styles import style_title
from wayfold.words.texts import style_texts

SENTENCE = "The path climbs through chestnut woods for an hour and then lets you out on a meadow. "


def make_text_matter(text, numbers, measurer) -> Matter:
    book = Book("B", texts={"story": text})
    words = Words({"text:b": style_texts(book)["story"]})
    block = Block("b", BlockKind.TEXT, (Alternative(len(numbers)),), 0, text="story")
    return Matter(
        book, make_grid(book), words, {}, RememberingMeasurer(measurer), block, tuple(numbers)
    )


def letters_on(pages) -> str:
    return "".join(
        p.plain for page in pages for frame in page.frames for p in frame.paragraphs
    ).replace(" ", "")


@pytest.mark.parametrize("paragraphs", [1, 4, 12, 30])
def test_as_many_pages_as_counted_hold_the_text(measurer, paragraphs):
    text = "\n\n".join([SENTENCE * 8] * paragraphs)
    book = Book("B", texts={"story": text})
    pages = count_text_pages(style_texts(book), book, measurer)["story"]
    matter = make_text_matter(text, range(8, 8 + pages), measurer)
    laid = lay_text_pages(matter, "text:b", matter.numbers, "text")
    assert laid.findings == ()
    assert letters_on(laid.pages) == (SENTENCE * 8 * paragraphs).replace(" ", "")
    assert all(page.frames for page in laid.pages)


def test_a_last_page_gets_more_than_a_few_lines(measurer):
    grid = make_grid(Book("B"))
    lines = round(grid.column_height / grid.baseline)
    text = "\n\n".join(["Short."] * (lines + 2))
    matter = make_text_matter(text, (8, 9), measurer)
    first, last = lay_text_pages(matter, "text:b", (8, 9), "text").pages
    assert len(last.frames[-1].paragraphs) >= 8
    assert len(first.frames[-1].paragraphs) + len(last.frames[-1].paragraphs) == lines + 2


def test_text_without_room_is_a_finding_and_is_kept(measurer):
    text = "\n\n".join([SENTENCE * 8] * 20)
    matter = make_text_matter(text, (8,), measurer)
    laid = lay_text_pages(matter, "text:b", (8,), "text")
    (finding,) = laid.findings
    assert (finding.rule, finding.severity, finding.where) == ("layout.overset", "block", "page 8")
    assert letters_on(laid.pages) == (SENTENCE * 8 * 20).replace(" ", "")


def test_short_texts_stand_narrower_and_sunk(measurer):
    matter = make_text_matter(SENTENCE * 2, (8,), measurer)
    (page,) = lay_text_pages(matter, "text:b", (8,), "text").pages
    box, paragraphs = page.frames[0].box, page.frames[0].paragraphs
    assert 82.0 <= box.width <= 95.0
    # Its capitals, 0.65 em high, begin where titles and wide pictures do.
    baseline = box.y + mm_from_pt(paragraphs[0].style.first_baseline_pt)
    assert baseline - mm_from_pt(0.65 * 10.5) == pytest.approx(matter.grid.sunk)


def test_columns_hold_whole_lines():
    grid = make_grid(Book("B"))
    lines = grid.column_height / grid.baseline
    assert lines == pytest.approx(round(lines))
    assert grid.canon_area(True).height - grid.column_height < grid.baseline


def test_characters_in_a_line_of_the_real_type():
    """45 to 75 characters: R. Bringhurst, The Elements of Typographic Style, ch. 2."""
    typesetter = pytest.importorskip("wayfold.typeset.engine").Typesetter()
    text = SENTENCE * 40
    book = Book("B", texts={"story": text})
    grid = make_grid(book)
    paragraphs = style_texts(book)["story"]
    for measure in (grid.measure, grid.short_measure):
        (height,) = typesetter.measure_heights([TextBlock(paragraphs, measure)])
        per_line = len(text) / math.ceil(height / grid.baseline - 1e-3)
        assert 45 <= per_line <= 75, measure


@pytest.mark.parametrize(("sentences", "pages"), [(1, 0), (4, 0), (9, 1), (40, 2)])
def test_only_a_chapters_text_of_a_few_lines_has_no_page(measurer, sentences, pages):
    texts = {"sea": SENTENCE * sentences, "foreword": SENTENCE, "2025-05-12": SENTENCE}
    book = Book("B", texts=texts, chapters=(ChapterChoice("Zumaia", text="sea"),))
    counts = count_text_pages(style_texts(book), book, measurer)
    assert counts == {"sea": pages, "foreword": 1, "2025-05-12": 1}


def test_it_stands_under_the_title_clear_of_everything(measurer):
    book = Book("B", texts={"sea": SENTENCE * 3 + "Rain.[^1]\n\n[^1]: Late."})
    title = (Paragraph((Run("Zumaia"),), style_title(book)),)
    words = Words({"opener:0": title, "text:opener:0": style_texts(book)["sea"]})
    block = Block("opener:0", BlockKind.OPENER, (Alternative(1),), 0, text="sea")
    grid = make_grid(book)
    matter = Matter(book, grid, words, {}, RememberingMeasurer(measurer), block, (9,))
    (page,) = lay_opener(matter).pages
    heading, text, rule, note = page.frames
    assert [f.key for f in (heading, text, note)] == [
        "opener:0",
        "text:opener:0",
        "notes:text:opener:0",
    ]
    assert heading.box.x == text.box.x == note.box.x
    assert heading.box.bottom + grid.baseline < text.box.y
    assert text.box.bottom < rule.box.y < note.box.y
    assert judge_pages(grid, [page]) == ()
    assert page.folio
