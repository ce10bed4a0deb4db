"""A text and its pictures together on a page."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wayfold.base.geometry import Rect
from wayfold.book.state import Book, PhotoChoice
from wayfold.drawing.text import Paragraph, Run
from wayfold.layout.account import count_account_pages, lay_account
from wayfold.layout.judge import shown_box
from wayfold.layout.model import PictureFrame, TextFrame
from wayfold.story.model import BlockKind
from wayfold.words.model import Words
from wayfold.words.styles import style_body

LINE = "The room was on the roof, and so was the kitchen, a tap and a table in the sun. "


def tell(lines: int) -> tuple[Paragraph, ...]:
    return (Paragraph((Run(LINE * lines),), style_body(Book("A"))),)


@pytest.fixture(scope="session")
def make_account(make_matter):
    def make(aspects, lines, numbers=(2,), captions=None):
        matter = make_matter(aspects, numbers, BlockKind.ACCOUNT, captions)
        words = {**matter.words.paragraphs, "text:b": tell(lines)}
        return replace(matter, words=Words(words))

    return make


@given(
    st.lists(st.sampled_from([0.667, 0.75, 1.0, 1.5, 1.778]), min_size=1, max_size=4),
    st.integers(1, 8),
    st.sampled_from([2, 3]),
    st.booleans(),
)
@settings(deadline=None, max_examples=60)
def test_all_lies_on_the_page_and_nothing_on_anything(
    make_account, aspects, lines, number, captioned
):
    captions = {0: "One fig, divided fairly"} if captioned else {}
    matter = make_account(aspects, lines, (number,), captions)
    (page,) = lay_account(matter).pages
    pictures = [f for f in page.frames if isinstance(f, PictureFrame)]
    assert [f.photo for f in pictures] == list(matter.block.photos)
    assert all(f.crop == Rect(0, 0, 1, 1) for f in pictures)
    texts = [f for f in page.frames if isinstance(f, TextFrame)]
    assert "text:b" in {f.key for f in texts}
    area = matter.grid.picture_area(number == 3)
    for i, frame in enumerate(page.frames):
        assert area.grown(0.5).contains(shown_box(frame)), frame
        assert all(shown_box(frame).overlap(shown_box(o)) is None for o in page.frames[i + 1 :])


def test_an_upright_picture_has_its_text_beside_it_on_one_line(make_account):
    (page,) = lay_account(make_account([0.667], 4, (3,))).pages
    picture, text = page.frames
    assert text.box.right < picture.box.x
    assert picture.box.y == pytest.approx(0.27 * 297)


def test_a_long_text_faces_its_pictures(make_account):
    left, right = lay_account(make_account([1.5, 0.75], 14, (2, 3))).pages
    assert {type(f) for f in left.frames} == {PictureFrame}
    assert {type(f) for f in right.frames} == {TextFrame}


def test_pages_are_counted_by_the_texts_length(measurer):
    book = Book("A", choices={"p": PhotoChoice(text="room"), "q": PhotoChoice(text="gone")})
    for lines, pages in ((3, 1), (14, 2), (60, 3)):
        counted = count_account_pages({"room": tell(lines), "other": tell(1)}, book, measurer)
        assert counted == {"beside:room": pages}
