"""The ink on translucent leaves: whose words, on which face, and where over the page beneath.

Faces follow from turning a leaf (any sheet of tracing paper shows it): what lies over a recto is
printed on the leaf's recto, what lies over a verso on its verso. Where words stand best is our own
judgement; that type needs contrast with what shows through is common practice, no single source.
"""

from dataclasses import replace

import pytest

from tests.layout.conftest import CountingMeasurer
from wayfold.base.geometry import Rect, Size
from wayfold.book.see_through import sheet_of
from wayfold.book.state import Book, PhotoChoice
from wayfold.drawing.items import Drawing, Shape, Text
from wayfold.drawing.text import Paragraph, Run
from wayfold.layout.grid import make_grid
from wayfold.layout.model import BookLayout, PageLayout, PictureFrame, TextFrame
from wayfold.pages.ground import read_ground
from wayfold.pages.interleaves import InterleafLeaf, compose_interleaves
from wayfold.pages.leaf_ink import RULE
from wayfold.pages.leaf_marks import judge_items
from wayfold.photos.lightness import Lightness
from wayfold.photos.model import Photo, SizePx
from wayfold.plan.model import EndRole, Gathering, Interleaf, InterleafEnd, Plan, PlannedPage
from wayfold.story.model import Alternative, Block, BlockKind, Chapter, Story
from wayfold.words.model import Words
from wayfold.words.styles import style_caption

BOOK = Book("B", trim=Size(210.0, 297.0), bleed=3.0)
GRID = make_grid(BOOK)
WANTED, ECHO, PLAIN, STUB = EndRole.WANTED, EndRole.ECHO, EndRole.PLAIN, EndRole.STUB


def say(words: str) -> tuple[Paragraph, ...]:
    return (Paragraph((Run(words),), style_caption(BOOK)),)


WORDS = Words(
    {
        "leaf:opener:0": say("Alba"),
        "leaf:name:0": say("Alba, small"),
        "leaf:caption:p": say("The ferry, early"),
    }
)
STORY = Story(
    (Chapter("Alba", "", "", None, None),),
    (
        Block("opener", BlockKind.OPENER, (Alternative(1, interleaves=(0,)),), 0, ("o",)),
        Block("one", BlockKind.SINGLE, (Alternative(1, interleaves=(0,)),), 0, ("p",)),
        Block("text", BlockKind.TEXT, (Alternative(1, bears=(0,)),), 0),
        Block("bare", BlockKind.TEXT, (Alternative(1),), 0),
        Block("front", BlockKind.TITLE, (Alternative(1),)),
    ),
)


def full(number: int, photo: str = "o") -> PageLayout:
    return PageLayout(number, "bled", (PictureFrame(Rect(-3, -3, 216, 303), photo),), folio=False)


def compose(
    blocks: dict[int, str],
    *ends: InterleafEnd,
    words: Words = WORDS,
    pages: tuple[PageLayout, ...] = (),
    lightness: dict[str, Lightness] | None = None,
    book: Book = BOOK,
) -> list[InterleafLeaf]:
    plan = Plan(
        tuple(PlannedPage(n, blocks.get(n)) for n in range(1, 9)),
        (Gathering(1, 2, 1),),
        (),
        (Interleaf(1, 1, ends),),
    )
    leaves, _ = compose_interleaves(
        book, STORY, plan, words, BookLayout(pages), CountingMeasurer(), lightness or {}, {}
    )
    return list(leaves)


def texts(drawing: Drawing) -> list[tuple[str, str]]:
    return [(i.key, i.paragraphs[0].plain) for i in drawing.items if isinstance(i, Text)]


def box(drawing: Drawing) -> Rect:
    (text,) = (i for i in drawing.items if isinstance(i, Text))
    return text.box


def test_a_chapters_title_stands_on_the_face_away_from_its_recto() -> None:
    (leaf,) = compose({3: "opener"}, InterleafEnd(2, WANTED, 3))
    assert texts(leaf.recto) == [("leaf:opener:0", "Alba")]
    assert leaf.verso.items == ()
    assert (leaf.interleaf, leaf.end, leaf.after_page, leaf.role) == (0, 0, 2, WANTED)
    assert leaf.label == "leaf after page 2"
    assert (leaf.recto.label, leaf.verso.label) == (
        "leaf after page 2, recto",
        "leaf after page 2, verso",
    )
    assert {leaf.recto.size, leaf.verso.size} == {BOOK.trim}


def test_over_a_verso_it_stands_on_the_leafs_verso() -> None:
    (leaf,) = compose({2: "opener"}, InterleafEnd(2, WANTED, 2))
    assert leaf.recto.items == ()
    assert texts(leaf.verso) == [("leaf:opener:0", "Alba")]


def test_a_picture_has_its_caption_on_the_leaf() -> None:
    (leaf,) = compose({3: "one"}, InterleafEnd(2, WANTED, 3))
    assert texts(leaf.recto) == [("leaf:caption:p", "The ferry, early")]


def test_a_picture_without_a_caption_has_a_bare_leaf() -> None:
    (leaf,) = compose({3: "one"}, InterleafEnd(2, WANTED, 3), words=Words({}))
    assert leaf.recto.items == leaf.verso.items == ()


@pytest.mark.parametrize("role", [PLAIN, STUB])
def test_plain_leaves_and_stubs_are_bare(role: EndRole) -> None:
    (leaf,) = compose({2: "text", 3: "text"}, InterleafEnd(2, role))
    assert leaf.recto.items == leaf.verso.items == ()


def test_an_echo_bears_a_rule_and_the_chapters_name() -> None:
    (leaf,) = compose({2: "bare", 3: "text"}, InterleafEnd(2, ECHO))
    rule, text = leaf.recto.items
    assert isinstance(rule, Shape) and rule.stroke is not None and isinstance(text, Text)
    # Finer lines than 0.18 mm break up on translucent paper (common practice, no single source).
    assert rule.stroke.width == RULE > 0.18
    assert text.paragraphs[0].plain == "Alba, small"
    (contour,) = rule.contours
    assert contour.points[0].x == text.box.x
    assert contour.points[0].y < text.box.y


def test_an_echo_lies_over_the_page_that_bears_it() -> None:
    (right,) = compose({2: "text", 3: "text"}, InterleafEnd(2, ECHO))
    assert right.recto.items and not right.verso.items
    (left,) = compose({2: "text", 3: "bare"}, InterleafEnd(2, ECHO))
    assert left.verso.items and not left.recto.items


def test_an_echo_before_any_chapter_is_bare() -> None:
    (leaf,) = compose({2: "front", 3: "front"}, InterleafEnd(2, ECHO))
    assert leaf.recto.items == leaf.verso.items == ()


def test_leaves_at_the_books_ends_are_composed() -> None:
    first, last = compose({1: "text", 8: "text"}, InterleafEnd(0, ECHO), InterleafEnd(8, ECHO))
    assert texts(first.recto) and not texts(first.verso)
    assert texts(last.recto) or texts(last.verso)


def test_where_nothing_is_known_words_stand_where_titles_hang() -> None:
    (leaf,) = compose({3: "opener"}, InterleafEnd(2, WANTED, 3), pages=(full(3),))
    assert box(leaf.recto).y == pytest.approx(GRID.sunk)
    assert box(leaf.recto).x == pytest.approx(GRID.text_area(True).x)


def bands(*luminance: float) -> Lightness:
    """A picture of level bands, head first."""
    return Lightness(1, tuple(v for v in luminance for _ in range(4)))


def test_words_leave_a_dark_place_for_a_light_one() -> None:
    # The band where titles hang (27 % down) is dark; light lies below.
    dark_head = bands(0.02, 0.02, 0.02, 0.8, 0.8, 0.8, 0.8)
    (leaf,) = compose(
        {3: "opener"}, InterleafEnd(2, WANTED, 3), pages=(full(3),), lightness={"o": dark_head}
    )
    # Three of seven bands of 303 mm from 3 mm above the page are dark.
    assert box(leaf.recto).y >= 3 / 7 * 303 - 3


def test_words_go_to_the_calm_side_of_a_picture() -> None:
    # Left half dark, right half light.
    (leaf,) = compose(
        {3: "opener"},
        InterleafEnd(2, WANTED, 3),
        pages=(full(3),),
        lightness={"o": Lightness(2, (0.02, 0.8) * 20)},
    )
    assert box(leaf.recto).x > 210 / 2


def test_words_keep_off_the_pages_own_type() -> None:
    area = GRID.text_area(True)
    text = TextFrame(Rect(area.x, 0.7 * 297, area.width, 0.2 * 297), "t", say("Words"))
    (leaf,) = compose(
        {2: "bare", 3: "text"}, InterleafEnd(2, ECHO), pages=(PageLayout(3, "text", (text,)),)
    )
    (inked,) = (i.box for i in leaf.recto.items if isinstance(i, Text))
    assert inked.overlap(text.box) is None


def test_turned_words_keep_off_the_type_of_the_page_they_are_turned_onto() -> None:
    area = GRID.text_area(False)
    text = TextFrame(Rect(area.x, 0.25 * 297, area.width, 0.25 * 297), "t", say("Words"))
    pages = (PageLayout(2, "text", (text,)), full(3))
    (leaf,) = compose({3: "opener"}, InterleafEnd(2, WANTED, 3), pages=pages)
    words = box(leaf.recto)
    # Four letters of a few points are no wider than 12 mm.
    seen_turned = Rect(210 - words.x - 12, words.y, 12, words.height)
    assert seen_turned.overlap(text.box) is None


@pytest.mark.parametrize("trim", [Size(210, 297), Size(148, 210), Size(297, 210), Size(200, 200)])
@pytest.mark.parametrize("number", [2, 3])
def test_words_stay_within_the_margins(trim: Size, number: int) -> None:
    book = replace(BOOK, trim=trim)
    for light in (bands(0.01, 0.9), bands(0.9, 0.01), bands(0.5)):
        page = PageLayout(number, "bled", (PictureFrame(Rect(-3, -3, 900, 900), "o"),))
        (leaf,) = compose(
            {number: "opener"},
            InterleafEnd(2, WANTED, number),
            pages=(page,),
            lightness={"o": light},
            book=book,
        )
        face = leaf.recto if number % 2 else leaf.verso
        inside = make_grid(book).picture_area(number % 2 == 1)
        words = box(face)
        assert words.x >= inside.x - 1e-6
        assert words.right <= inside.right + 1e-6
        assert words.y >= inside.y - 1e-6
        assert words.bottom <= trim.height - 5


def test_a_leaf_after_pages_without_a_layout() -> None:
    """Nothing lies beneath it, and nothing fails."""
    (leaf,) = compose({}, InterleafEnd(8, ECHO))
    assert leaf.recto.items == leaf.verso.items == ()


WIDE = Photo("o", "o", "/o.jpg", SizePx(3000, 3000))
"""Square: of its width a page shows seven tenths."""


MIDDLE = Rect(0.1435, 0.0, 0.7129, 1.0)


def recrop(columns: tuple[float, ...], book: Book = BOOK) -> tuple[InterleafLeaf, PictureFrame]:
    frame = PictureFrame(Rect(-3, -3, 216, 303), "o", MIDDLE)
    plan = Plan(
        tuple(PlannedPage(n, {3: "opener"}.get(n)) for n in range(1, 9)),
        (Gathering(1, 2, 1),),
        (),
        (Interleaf(1, 1, (InterleafEnd(2, WANTED, 3),)),),
    )
    (leaf,), layout = compose_interleaves(
        book,
        STORY,
        plan,
        WORDS,
        BookLayout((full(2), PageLayout(3, "bled", (frame,), folio=False))),
        CountingMeasurer(),
        {"o": Lightness(len(columns), columns * 10)},
        {"o": WIDE},
    )
    assert layout.pages[0] == full(2)
    (shown,) = layout.pages[1].frames
    assert isinstance(shown, PictureFrame)
    return leaf, shown


LOOSE = replace(BOOK, arranging=replace(BOOK.arranging, most_crop=0.3))


def test_a_picture_is_cropped_to_its_light_side_where_the_title_asks_for_it() -> None:
    dark = (0.02,) * 14 + (0.8,) * 6
    leaf, shown = recrop(dark, LOOSE)
    assert shown.crop.right > MIDDLE.right + 0.03
    ground = read_ground(PageLayout(3, "bled", (shown,)), {"o": Lightness(20, dark * 10)})
    verdicts = judge_items(leaf.recto.items, ground, sheet_of(BOOK.translucent))
    assert all(v.margin >= 1.0 for v in verdicts)


def test_a_picture_stays_as_it_is_where_its_title_is_read_or_nothing_helps() -> None:
    assert recrop((0.8,) * 20, LOOSE)[1].crop == MIDDLE
    assert recrop((0.02,) * 20, LOOSE)[1].crop == MIDDLE


def test_no_more_is_cut_away_than_the_book_allows_nor_of_the_persons_own_crop() -> None:
    dark = (0.02,) * 14 + (0.8,) * 6
    tight = replace(BOOK, arranging=replace(BOOK.arranging, most_crop=0.1))
    assert recrop(dark, tight)[1].crop == MIDDLE
    own = replace(LOOSE, choices={"o": PhotoChoice(crop=MIDDLE)})
    assert recrop(dark, own)[1].crop == MIDDLE
