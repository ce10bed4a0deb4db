"""The check of washes: what it lets pass, and what it names."""

from dataclasses import replace

from wayfold.base.geometry import Rect, Size
from wayfold.book.state import Book
from wayfold.checks.rules.washes import find_bad_washes
from wayfold.checks.subject import Subject
from wayfold.drawing.colour import Colour
from wayfold.drawing.oklab import make_colour, make_oklch
from wayfold.drawing.text import Paragraph, Run, TextStyle
from wayfold.layout.model import BookLayout, Frame, PageLayout, PictureFrame, TextFrame
from wayfold.pages.washes import PageWash
from wayfold.story.model import Chapter, Story
from wayfold.washes.model import Edges, Wash
from wayfold.words.tint import Tint

INK = Colour.of("#262320")
BODY = TextStyle("EB Garamond", 10.5, 15.0, INK)
ACCENT = replace(BODY, size_pt=9.0, leading_pt=13.0, colour=Colour.of("#8a4f1d"))


def tint(hue: float | None) -> Tint:
    return Tint(make_colour(make_oklch(0.94, 0.03, 75.0 if hue is None else hue)), hue)


def wash(page: int, box: Rect, hue: float | None = 240.0, darkest: float = 0.78) -> PageWash:
    painted = Wash(box.size, Edges(), tint(hue).colour, "s", darkest)
    return PageWash(page, box, painted, tint(hue), 0)


def find(
    washes: tuple[PageWash, ...], *frames: Frame, accent: str | None = None
) -> list[tuple[str, str]]:
    subject = Subject(
        Book("A book", trim=Size(210.0, 297.0)),
        story=Story((Chapter("C", "", "", None, None, accent=accent),), ()),
        layout=BookLayout((PageLayout(1, "text", frames), PageLayout(2, "text", ()))),
        washes=washes,
    )
    found = list(find_bad_washes(subject))
    assert all(f.remedy for f in found)
    return [(f.rule, f.where) for f in found]


def text(*paragraphs: Paragraph, y: float = 100.0, height: float = 5.3) -> TextFrame:
    return TextFrame(Rect(30.0, y, 100.0, height), "t", paragraphs)


def say(style: TextStyle) -> Paragraph:
    return Paragraph((Run("Some words"),), style)


BOX = Rect(20.0, 60.0, 120.0, 60.0)


def test_words_in_ink_on_a_pale_wash_pass() -> None:
    assert find((wash(1, BOX),), text(say(BODY))) == []
    assert find((wash(1, BOX, darkest=0.64),), text(say(BODY))) == [("wash-under-words", "page 1")]


def test_small_and_coloured_words_are_named() -> None:
    small = replace(BODY, size_pt=8.6)
    for style in (small, ACCENT):
        assert find((wash(1, BOX),), text(say(style))) == [("wash-under-words", "page 1")]
        assert find((wash(1, BOX),), text(say(style), y=121.0)) == []
    run = Paragraph((Run("red", colour=Colour.of("#a03030")),), BODY)
    assert find((wash(1, BOX),), text(run)) == [("wash-under-words", "page 1")]


def test_a_coloured_line_below_a_title_may_stand_beneath_the_wash() -> None:
    title = replace(BODY, size_pt=34.0, leading_pt=40.0)
    both = text(say(title), say(ACCENT), y=103.0, height=14.1 + 4.6)
    assert find((wash(1, BOX),), both) == [("wash-under-words", "page 1")]
    lower = replace(both, box=both.box.moved(0.0, 3.0))
    assert find((wash(1, BOX),), lower) == []


def test_a_text_is_not_taken_for_taller_than_its_box() -> None:
    body = Paragraph((Run("Some words that run on for lines. " * 30),), BODY)
    assert find((wash(1, BOX, darkest=0.64),), text(body, body, y=121.0, height=60.0)) == []


def test_pictures_are_named() -> None:
    picture = PictureFrame(Rect(100.0, 110.0, 80.0, 60.0), "a")
    assert find((wash(1, BOX),), picture) == [("wash-under-picture", "page 1")]
    assert find((wash(1, BOX),), replace(picture, clip=Rect(145.0, 110.0, 30.0, 60.0))) == []


def test_hues_of_a_chapter_go_together() -> None:
    for hue, found in ((275.0, []), (300.0, [("wash-colours", "page 2")]), (None, [])):
        assert find((wash(1, BOX), wash(2, BOX, hue))) == found
    assert find((wash(1, BOX),), accent="#2f5680") == []
    assert find((wash(1, BOX),), accent="#8a4f1d") == [("wash-colours", "page 1")]
    assert find((wash(1, BOX),), accent="#565a60") == []  # a grey has no hue
