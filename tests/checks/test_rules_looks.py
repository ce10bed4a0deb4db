"""The rules on the book's looks as a whole, each with a book that passes and one that does not."""

from dataclasses import replace

import pytest

from tests.checks.reading import only
from wayfold.base.geometry import Rect, Size
from wayfold.book.state import Book
from wayfold.checks.rules.chapter_colours import find_odd_colours
from wayfold.checks.rules.page_numbers import find_odd_folios
from wayfold.checks.rules.type_sizes import find_odd_sizes
from wayfold.checks.rules.uneven_borders import find_uneven_borders
from wayfold.checks.subject import Subject
from wayfold.drawing.colour import Colour
from wayfold.drawing.items import Drawing, Picture, Text
from wayfold.drawing.text import Paragraph, Run, TextStyle
from wayfold.layout.model import BookLayout, Frame, PageLayout, PictureFrame, TextFrame
from wayfold.pages.compose import compose_pages
from wayfold.plan.model import Gathering, Plan, PlannedPage
from wayfold.story.model import Alternative, Block, BlockKind, Chapter, Story

BODY = TextStyle("EB Garamond", 10.5, 15.0, Colour(0, 0, 0))


def lay(*pages: tuple[Frame, ...], family: str = "group") -> Subject:
    layouts = tuple(PageLayout(n, family, frames) for n, frames in enumerate(pages, start=1))
    return Subject(Book("A book"), layout=BookLayout(layouts))


def text(style: TextStyle, key: str = "text:1") -> tuple[Frame, ...]:
    return (TextFrame(Rect(30, 40, 110, 80), key, (Paragraph((Run("words"),), style),)),)


def test_sizes_agree_or_clearly_differ() -> None:
    good = lay(text(BODY), text(BODY), text(replace(BODY, size_pt=34.0), "opener:0"))
    assert list(find_odd_sizes(good)) == []
    # 10.2 for 10.5 pt is 3 %; steps of the classical scale are 8 % at least (12 to 11 pt).
    bad = lay(text(BODY), text(BODY), text(replace(BODY, size_pt=10.2)))
    found = only(list(find_odd_sizes(bad)))
    assert found.where == "page 3" and "10.2 pt" in found.message and "10.5 pt" in found.message


def test_another_face_may_have_another_size() -> None:
    near = replace(BODY, size_pt=10.2)
    for other in (replace(near, family="Source Sans 3"), replace(near, small_caps=True)):
        assert list(find_odd_sizes(lay(text(BODY), text(other)))) == []


def test_tiny_type_and_pressed_lines() -> None:
    tiny = lay(text(replace(BODY, size_pt=5.5), "caption:a"))
    assert "too small" in only(list(find_odd_sizes(tiny))).message
    pressed = lay(text(BODY), text(BODY), text(replace(BODY, leading_pt=14.5)))
    found = only(list(find_odd_sizes(pressed)))
    assert found.where == "page 3" and "14.5 pt apart" in found.message
    caption = lay(text(BODY), text(replace(BODY, leading_pt=14.5), "caption:a"))
    assert list(find_odd_sizes(caption)) == []


def pictures(*boxes: Rect) -> tuple[Frame, ...]:
    return tuple(PictureFrame(box, str(n)) for n, box in enumerate(boxes))


def pair(gap: float = 4.0, left: float = 20.0) -> tuple[Frame, ...]:
    """Two pictures side by side; they end at 188 mm, 22 from a recto's fore-edge."""
    width = (188.0 - left - gap) / 2
    return pictures(Rect(left, 30, width, 60), Rect(left + width + gap, 30, width, 60))


def test_gaps_are_one_measure() -> None:
    # Odd pages all: the fold is on the left.
    blank: tuple[Frame, ...] = ()
    good = lay(pair(), blank, pair(), blank, pair(), blank, pair(gap=8.0))
    assert list(find_uneven_borders(good)) == []
    bad = lay(pair(), blank, pair(), blank, pair(), blank, pair(gap=4.4))
    found = only(list(find_uneven_borders(bad)))
    assert found.where == "page 7" and "gap between pictures is 4.40 mm" in found.message


def test_borders_mirror_about_the_fold() -> None:
    recto, verso = (
        pair(),
        tuple(
            PictureFrame(f.box.moved(2.0, 0.0), f.photo)
            for f in pair()
            if isinstance(f, PictureFrame)
        ),
    )
    assert list(find_uneven_borders(lay(recto, verso, recto, verso))) == []
    found = only(list(find_uneven_borders(lay(recto, verso, recto, verso, pair(left=20.8)))))
    assert found.where == "page 5" and "white at the fold is 20.80 mm" in found.message
    # Of two pages none is the usual.
    assert list(find_uneven_borders(lay(recto, verso, pair(left=20.8)))) == []


def test_pictures_that_bleed_have_no_border() -> None:
    bled = pictures(Rect(-3, -3, 216, 303))
    assert list(find_uneven_borders(lay(bled, bled, bled, pictures(Rect(0.8, 1, 200, 290))))) == []


def tell(*accents: str | None, frames: tuple[Frame, ...] = ()) -> Subject:
    chapters = tuple(
        Chapter(f"Town {n}", "", "Land", None, None, accent) for n, accent in enumerate(accents)
    )
    story = Story(chapters, (Block("text:0", BlockKind.TEXT, (Alternative(1),), 0),))
    pages = (PlannedPage(1, "text:0"), *(PlannedPage(n, None) for n in (2, 3, 4)))
    plan = Plan(pages, (Gathering(1, 1, 1),))
    return replace(lay(frames), story=story, plan=plan)


def test_accents_that_cannot_be_told_apart() -> None:
    assert list(find_odd_colours(tell("#7a4a32", "#2f5680", "#7a4a32", None))) == []
    # One step of one channel of 8 bits is far below a just seen difference.
    found = only(list(find_odd_colours(tell("#7a4a32", "#2f5680", "#7a4b32"))))
    assert found.where == "book.toml, chapter Town 2" and "Town 0" in found.message


def test_one_accent_shouts() -> None:
    found = only(list(find_odd_colours(tell("#7a4a32", "#2f5680", "#ff0000"))))
    assert "#ff0000" in found.message and "vivid" in found.message


@pytest.mark.parametrize(
    ("colour", "fine"),
    [
        ("#7a4a32", True),  # the accent
        ("#b58a74", True),  # a tint of it
        ("#262320", True),  # ink
        ("#2f5680", False),  # blue on a brown chapter's page
    ],
)
def test_a_chapters_pages_keep_to_its_hue(colour: str, fine: bool) -> None:
    found = list(
        find_odd_colours(tell("#7a4a32", frames=text(replace(BODY, colour=Colour.of(colour)))))
    )
    assert (found == []) is fine
    if not fine:
        assert only(found).where == "page 1" and colour in found[0].message


def test_the_inks_of_the_style_are_of_no_chapter() -> None:
    blue = Colour.of("#2f5680")
    subject = tell("#7a4a32", frames=text(replace(BODY, colour=blue)))
    for key in ("ink", "quiet_ink"):
        style = replace(subject.book.style, **{key: blue})
        inked = replace(subject, book=replace(subject.book, style=style))
        assert list(find_odd_colours(inked)) == []


def compose(count: int = 4) -> Subject:
    """Pages as the book composes them, a line of text on each."""
    book = lay(*(text(BODY) for _ in range(count)))
    pages = tuple(PlannedPage(n, None) for n in range(1, count + 1))
    drawings = compose_pages(book.book, Story((), ()), Plan(pages, ()), book.layout)  # type: ignore[arg-type]
    return replace(book, drawings=drawings)


def change(subject: Subject, page: int, *, folio: str = "", dy: float = 0.0) -> Subject:
    drawings = list(subject.drawings)
    items = tuple(
        replace(
            item,
            box=item.box.moved(0.0, dy),
            paragraphs=(Paragraph((Run(folio or str(page)),), item.paragraphs[0].style),),
        )
        if isinstance(item, Text) and item.key.startswith("folio")
        else item
        for item in drawings[page - 1].items
    )
    drawings[page - 1] = replace(drawings[page - 1], items=items)
    return replace(subject, drawings=tuple(drawings))


def test_page_numbers_stand_in_one_place() -> None:
    good = compose()
    assert list(find_odd_folios(good)) == []
    assert "says 5" in only(list(find_odd_folios(change(good, 3, folio="5")))).message
    found = only(list(find_odd_folios(change(good, 3, dy=-4.0))))
    assert found.where == "page 3" and "from the foot" in found.message


def test_a_page_number_lies_on_a_picture() -> None:
    good = compose()
    first = good.drawings[0]
    folio = next(i for i in first.items if isinstance(i, Text) and i.key.startswith("folio"))
    for box, found in (
        (Rect(0, 0, 210, folio.box.y - 1), 0),
        (Rect(0, 200, 210, 97), 1),
        (Rect(folio.box.x - 60, 200, 60, 97), 0),  # its own figures lie right of that
    ):
        over = replace(first, items=(Picture(box, "a"), *first.items))
        covered = replace(good, drawings=(over, *good.drawings[1:]))
        assert len(list(find_odd_folios(covered))) == found
    assert (
        list(find_odd_folios(replace(good, drawings=(Drawing("page 1", Size(210, 297), 3.0, ()),))))
        == []
    )
