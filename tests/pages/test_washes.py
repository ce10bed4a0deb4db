"""Where washes lie: the rules of look and trade that they keep, on pages of every kind.

Contrast after WCAG 2.2; that a wash is clear of pictures, of small words and of the fold, and how
many a chapter has, are our own rules (docs/colour.md).
"""

from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.layout.conftest import CountingMeasurer
from wayfold.base.geometry import Rect, Size
from wayfold.book.state import Book
from wayfold.book.style import Washes
from wayfold.drawing.colour import Colour
from wayfold.drawing.contrast import contrast, luminance
from wayfold.drawing.items import Picture, Text
from wayfold.drawing.text import Paragraph, Run
from wayfold.layout.grid import make_grid
from wayfold.layout.judge import shown_box
from wayfold.layout.model import (
    BookLayout,
    DrawnFrame,
    Frame,
    PageLayout,
    PictureFrame,
    RuleFrame,
    TextFrame,
)
from wayfold.pages.compose import compose_pages
from wayfold.pages.folio import place_folio
from wayfold.pages.wash_rooms import FOLD_CLEAR
from wayfold.pages.washes import PageWash, choose_washes
from wayfold.photos.look import Look, Salience, Tone
from wayfold.photos.model import Photo, SizePx
from wayfold.plan.model import EndRole, Interleaf, InterleafEnd, Plan, PlannedPage
from wayfold.story.model import Alternative, Block, BlockKind, Chapter, Story
from wayfold.words.styles import (
    style_body,
    style_caption,
    style_day_line,
    style_small_caps,
    style_subtitle,
    style_title,
)

BOOK = Book("B", trim=Size(210.0, 297.0), bleed=3.0)
ACCENT = Colour.of("#2f5680")
SEA = Look((), Salience(1, 1, (1.0,)), (Tone(0.6, 0.6, -0.04, -0.09),), 1.4, 1.0, 1000, 0.0, 50.0)
PHOTOS = {n: Photo(n, n, f"/{n}.jpg", SizePx(3000, 2000), look=SEA) for n in "abc"}


def say(words: str, style) -> Paragraph:  # type: ignore[no-untyped-def]
    return Paragraph((Run(words),), style)


TITLE = (
    say("The Night Boat", style_title(BOOK)),
    say("Barcelona to Genoa", replace(style_subtitle(BOOK), space_before_pt=4.0)),
    say("Italy, 21 October", replace(style_small_caps(BOOK, ACCENT), space_before_pt=11.0)),
)
BODY = (say("The boat left towards midnight. " * 40, style_body(BOOK)),)
SMALL = (say("Above: the quay.", style_caption(BOOK)),)
DAY = (say("Day 3", style_day_line(BOOK)),)


def hang(paragraphs: tuple[Paragraph, ...], x: float, y: float, width: float) -> TextFrame:
    (height,) = CountingMeasurer().measure_heights([_block(paragraphs, width)])
    return TextFrame(Rect(x, y, width, height), "t", paragraphs)


def _block(paragraphs: tuple[Paragraph, ...], width: float):  # type: ignore[no-untyped-def]
    from wayfold.drawing.text import TextBlock

    return TextBlock(paragraphs, width)


OPENER = (hang(TITLE, 33.0, 75.0, 140.0),)
TEXT = (hang(BODY, 33.0, 80.0, 112.0),)


def choose(
    pages: Sequence[tuple[BlockKind, tuple[Frame, ...]]],
    book: Book = BOOK,
    first: int = 1,
    leaves: tuple[int, ...] = (),
    accent: str | None = None,
) -> tuple[PageWash, ...]:
    """The washes of one chapter with these pages, each a block of its own."""
    blocks = tuple(
        Block(f"b{n}", kind, (Alternative(1),), 0, _photos(frames))
        for n, (kind, frames) in enumerate(pages)
    )
    planned = tuple(PlannedPage(first + n, block.id) for n, block in enumerate(blocks))
    ends = tuple(InterleafEnd(after, EndRole.WANTED, after) for after in leaves)
    plan = Plan(planned, (), (), tuple(Interleaf(1, None, (end,)) for end in ends))
    laid = tuple(PageLayout(first + n, "any", frames) for n, (_, frames) in enumerate(pages))
    story = Story((Chapter("C", "", "", None, None, accent=accent),), blocks)
    return choose_washes(book, story, plan, BookLayout(laid), PHOTOS, CountingMeasurer())


def _photos(frames: tuple[Frame, ...]) -> tuple[str, ...]:
    return tuple(f.photo for f in frames if isinstance(f, PictureFrame))


@st.composite
def frames(draw: st.DrawFn) -> tuple[Frame, ...]:
    made: list[Frame] = []
    for name in draw(st.lists(st.sampled_from("abc"), max_size=3)):
        x, y = draw(st.floats(-3.0, 150.0)), draw(st.floats(-3.0, 250.0))
        box = Rect(x, y, draw(st.floats(20.0, 120.0)), draw(st.floats(20.0, 120.0)))
        made.append(PictureFrame(box, name))
    for words in draw(st.lists(st.sampled_from([TITLE, BODY, SMALL, DAY]), max_size=3)):
        x, y = draw(st.floats(10.0, 80.0)), draw(st.floats(10.0, 200.0))
        made.append(hang(words, x, y, draw(st.floats(50.0, 120.0))))
    for y in draw(st.lists(st.floats(20.0, 280.0), max_size=1)):
        made.append(RuleFrame(Rect(40.0, y, 100.0, 0.0), 0.1, "#6b6660"))
    return tuple(made)


KINDS = st.sampled_from(
    [BlockKind.OPENER, BlockKind.TEXT, BlockKind.SINGLE, BlockKind.GROUP, BlockKind.HERO]
)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(KINDS, frames()), min_size=1, max_size=12),
    st.sampled_from([0.0, 3.0]),
    st.sampled_from([Size(210.0, 297.0), Size(148.0, 210.0), Size(240.0, 200.0)]),
    st.integers(0, 3),
)
def test_washes_keep_clear(
    pages: Sequence[tuple[BlockKind, tuple[Frame, ...]]], bleed: float, trim: Size, seed: int
) -> None:
    book = replace(BOOK, bleed=bleed, trim=trim, style=replace(BOOK.style, wash_seed=seed))
    washes = choose(pages, book)
    grid, page = make_grid(book), Rect(0.0, 0.0, trim.width, trim.height)
    media = page.grown(bleed)
    assert len(washes) <= 3
    assert len({w.page // 2 for w in washes}) == len(washes)  # never two that face each other
    for wash in washes:
        box, edges, recto = wash.box, wash.wash.edges, wash.page % 2 == 1
        assert box.size == wash.wash.size and media.contains(box)
        assert box.area <= 0.35 * page.area
        assert not box.overlap(place_folio(book, grid, wash.page))
        fold = box.x if recto else trim.width - box.right
        assert fold >= FOLD_CLEAR - 1e-6
        near = {
            "left": box.x - media.x,
            "top": box.y - media.y,
            "right": media.right - box.right,
            "bottom": media.bottom - box.bottom,
        }
        for name, gap in near.items():
            runs_off = getattr(edges, name)
            assert (gap < 1e-6) if runs_off else (bleed == 0 or gap >= 10.0), name
        for frame in pages[wash.page - 1][1]:
            if isinstance(frame, PictureFrame):
                assert not shown_box(frame).overlap(box)
            elif isinstance(frame, RuleFrame):
                assert not frame.box.grown(0.1).overlap(box)
            elif isinstance(frame, TextFrame):
                _check_words(frame, wash)


def _check_words(frame: TextFrame, wash: PageWash) -> None:
    y = frame.box.y
    for n, paragraph in enumerate(frame.paragraphs):
        measurer = CountingMeasurer()
        (end,) = measurer.measure_heights([_block(frame.paragraphs[: n + 1], frame.box.width)])
        part = Rect(frame.box.x, y, frame.box.width, frame.box.y + end - y)
        y = frame.box.y + end
        if part.overlap(wash.box):
            assert paragraph.style.size_pt >= 9.0
            ink = luminance(paragraph.style.colour)
            assert contrast(ink, wash.wash.darkest) >= 12.0


def test_a_wash_lies_under_the_title_and_not_under_the_line_below() -> None:
    (wash,) = choose([(BlockKind.OPENER, OPENER)])
    title, whole = OPENER[0].box, wash.box
    assert whole.overlap(Rect(title.x, title.y, title.width, 14.0))
    (end,) = CountingMeasurer().measure_heights([_block(TITLE[:2], 140.0)])
    assert whole.bottom <= title.y + end
    assert (wash.wash.edges.top, wash.wash.edges.right) == (True, True)


def test_pages_of_words_come_first_and_no_two_places_alike_follow() -> None:
    picture: tuple[Frame, ...] = (PictureFrame(Rect(22.0, 60.0, 166.0, 110.0), "a"),)
    pages = [
        (BlockKind.OPENER, OPENER),
        *[(BlockKind.SINGLE, picture)] * 5,
        (BlockKind.TEXT, TEXT),
        *[(BlockKind.SINGLE, picture)] * 4,
    ]
    opener, text = choose(pages)
    assert (opener.page, text.page) == (1, 7)
    assert opener.wash.edges.top != text.wash.edges.top


@pytest.mark.parametrize(("count", "most"), [(1, 1), (3, 1), (4, 2), (8, 2), (9, 3), (40, 3)])
def test_a_chapter_has_a_few(count: int, most: int) -> None:
    assert len(choose([(BlockKind.TEXT, TEXT)] * count)) == (most if count > 1 else 1)


def test_pictures_have_one_where_words_have_fewer_than_two() -> None:
    picture: tuple[Frame, ...] = (PictureFrame(Rect(22.0, 60.0, 166.0, 110.0), "a"),)
    pages = [(BlockKind.TEXT, TEXT), *[(BlockKind.SINGLE, picture)] * 11]
    assert len(choose(pages)) == 2
    assert len(choose(pages[1:])) == 2
    assert len(choose([(BlockKind.HERO, picture)] * 12)) == 0


def test_none_where_none_are_wanted_or_nothing_lies() -> None:
    none = replace(BOOK, style=replace(BOOK.style, washes=Washes.NONE))
    assert choose([(BlockKind.TEXT, TEXT)], none) == ()
    assert choose([(BlockKind.TEXT, ())]) == ()


def test_none_on_maps_nor_where_a_leaf_shows_them() -> None:
    map_frame = (DrawnFrame(Rect(0.0, 0.0, 210.0, 297.0), "m", Rect(-3.0, -3.0, 216.0, 303.0)),)
    assert choose([(BlockKind.TEXT, (*TEXT, *map_frame))]) == ()
    pages = [(BlockKind.TEXT, TEXT)] * 4
    assert not {2, 3} & {w.page for w in choose(pages, leaves=(2,))}


def test_a_page_moved_keeps_its_wash_and_another_seed_changes_it() -> None:
    (one,) = choose([(BlockKind.TEXT, TEXT)], first=3)
    (moved,) = choose([(BlockKind.TEXT, TEXT)], first=7)
    assert one.wash.name == moved.wash.name
    other = replace(BOOK, style=replace(BOOK.style, wash_seed=1))
    (again,) = choose([(BlockKind.TEXT, TEXT)], other, first=3)
    assert one.wash.seed != again.wash.seed


def test_the_tint_is_that_of_the_pictures() -> None:
    picture = PictureFrame(Rect(22.0, 150.0, 100.0, 60.0), "a")
    (wash,) = choose([(BlockKind.OPENER, (*OPENER, picture))], accent="#2f5680")
    assert wash.tint.hue_deg == pytest.approx(245.0)  # atan2(-0.09, -0.04) = 246 degrees
    assert wash.wash.tint == wash.tint.colour


def test_it_lies_lowest_on_its_page() -> None:
    washes = choose([(BlockKind.TEXT, TEXT)])
    plan = Plan((PlannedPage(1, "b0"),), ())
    layout = BookLayout((PageLayout(1, "any", TEXT),))
    (page,) = compose_pages(BOOK, Story((), ()), plan, layout, None, washes)
    wash, words, folio = page.items
    assert wash == Picture(washes[0].box, washes[0].wash.name)
    assert isinstance(words, Text) and isinstance(folio, Text)
