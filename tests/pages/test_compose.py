"""Frames become items of drawings."""

import pytest

from wayfold.base.geometry import Rect, Size
from wayfold.book.state import Book
from wayfold.drawing.items import Drawing, Picture, Shape, Text
from wayfold.drawing.pictures import picture_key
from wayfold.drawing.text import Paragraph, Run
from wayfold.layout.model import (
    BookLayout,
    DrawnFrame,
    PageLayout,
    PictureFrame,
    RuleFrame,
    TextFrame,
)
from wayfold.pages.compose import compose_pages
from wayfold.plan.model import Plan, PlannedPage
from wayfold.story.model import Story
from wayfold.words.styles import style_body

BOOK = Book("B", trim=Size(210.0, 297.0), bleed=3.0)
WORDS = (Paragraph((Run("Words"),), style_body(BOOK)),)
MEDIA = Rect(-3.0, -3.0, 216.0, 303.0)


def compose(*pages: PageLayout, count: int = 3):
    plan = Plan(tuple(PlannedPage(n, None) for n in range(1, count + 1)), ())
    return compose_pages(BOOK, Story((), ()), plan, BookLayout(pages))


def test_every_planned_page_is_a_drawing_of_the_trim():
    drawings = compose(PageLayout(2, "text", (TextFrame(Rect(30, 33, 112, 90), "t", WORDS),)))
    assert [d.label for d in drawings] == ["page 1", "page 2", "page 3"]
    assert all((d.size, d.bleed) == (BOOK.trim, 3.0) for d in drawings)
    assert drawings[0].items == drawings[2].items == ()


def test_frames_keep_their_order_and_places():
    crop = Rect(0.1, 0.0, 0.8, 1.0)
    frames = (
        PictureFrame(MEDIA, "p", crop, MEDIA),
        TextFrame(Rect(30, 33, 112, 90), "t", WORDS),
        RuleFrame(Rect(20, 50, 100, 0), 0.09, "#112233"),
    )
    _, page, _ = compose(PageLayout(2, "any", frames, folio=False))
    picture, text, rule = page.items
    assert picture == Picture(MEDIA, "p", crop, MEDIA)
    assert isinstance(text, Text) and (text.box, text.key) == (frames[1].box, "t")
    assert isinstance(rule, Shape) and rule.stroke is not None
    assert (rule.stroke.width, rule.stroke.colour.hex) == (0.09, "#112233")


def test_folios_stand_at_the_outer_foot_and_mirror():
    text = (TextFrame(Rect(30, 33, 112, 90), "t", WORDS),)
    _, verso, recto = compose(PageLayout(2, "text", text), PageLayout(3, "text", text))
    left, right = verso.items[-1], recto.items[-1]
    assert isinstance(left, Text) and isinstance(right, Text)
    assert (left.paragraphs[0].plain, right.paragraphs[0].plain) == ("2", "3")
    assert left.box.x == BOOK.trim.width - right.box.right
    assert (left.paragraphs[0].style.align, right.paragraphs[0].style.align) == ("left", "right")
    assert left.paragraphs[0].style.figures == "old-style"
    # Clear of the knife, below the pictures.
    assert 297 - 28 < left.box.y < left.box.bottom < 297 - 8


def test_no_folio_where_the_page_shows_none_or_nothing():
    picture = (PictureFrame(MEDIA, "p"),)
    one, two, _ = compose(PageLayout(1, "bled", picture, folio=False), PageLayout(2, "blank", ()))
    assert [type(i) for i in one.items] == [Picture]
    assert two.items == ()


@pytest.mark.parametrize(
    ("number", "box", "shown"),
    [
        (2, MEDIA, False),
        (3, MEDIA, False),
        (2, Rect(20, 22, 168, 247), True),  # within the picture area
        (3, Rect(105, -3, 108, 303), False),  # the outer half, bled off
        (2, Rect(105, -3, 108, 303), True),  # the inner half
    ],
)
def test_a_folio_steps_aside_for_a_picture_at_its_place(number, box, shown):
    page = PageLayout(number, "of the person's own", (PictureFrame(box, "p"),))
    drawing = compose(page)[number - 1]
    assert any(isinstance(item, Text) for item in drawing.items) is shown


def test_a_folio_steps_aside_for_a_map_that_fills_its_page():
    frames = (DrawnFrame(Rect(0, 0, 210, 297), "map", MEDIA),)
    maps = {"map": Drawing("map", BOOK.trim, 3.0, ())}
    two = compose_pages(
        BOOK, Story((), ()), Plan((PlannedPage(1, "m"),), ()),
        BookLayout((PageLayout(1, "map", frames),)), maps,
    )  # fmt: skip
    assert not any(isinstance(item, Text) for item in two[0].items)


def test_halves_across_the_fold_are_one_derivative():
    box = Rect(-3.0, -3.0, 426.0, 303.0)
    left = PageLayout(2, "across", (PictureFrame(box, "p", clip=MEDIA),), folio=False)
    right = PageLayout(3, "across", (PictureFrame(box.moved(-210, 0), "p", clip=MEDIA),), False)
    _, verso, recto = compose(left, right)
    assert picture_key(verso.items[0]) == picture_key(recto.items[0])
