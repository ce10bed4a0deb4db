"""Texts and captions placed by hand: obeyed to the hair, on whatever page, and judged."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.layout.conftest import build_matter
from wayfold.base.findings import Severity
from wayfold.base.geometry import Rect
from wayfold.base.memory import Memory
from wayfold.book.arranging import BY_HAND, HandLaid, PlacedPicture, PlacedText
from wayfold.layout.by_hand_texts import (
    count_page,
    find_number,
    leave_out_placed,
    name_text,
    place_texts,
)
from wayfold.layout.fixed import lay_fixed
from wayfold.layout.judge import judge_pages
from wayfold.layout.matter import Matter, blank_page
from wayfold.layout.model import PageLayout, PictureFrame, TextFrame
from wayfold.layout.spreads import choose_ways
from wayfold.layout.ways import Tried
from wayfold.story.model import BlockKind
from wayfold.words.model import Words


def lay(matter: Matter, *numbers: int) -> dict[int, PageLayout]:
    """Lay a block among blank pages, its texts where they were placed."""
    if matter.block.kind is BlockKind.GROUP:
        (way,) = choose_ways((matter,), (), matter.photos, Tried(Memory()))
        laid = way.laid
    else:
        laid = lay_fixed(matter)
    pages = {n: blank_page(n) for n in numbers} | {p.number: p for p in laid.pages}
    return place_texts([matter], pages, {matter.block.id})


def texts(page: PageLayout) -> dict[str, TextFrame]:
    return {f.key: f for f in page.frames if isinstance(f, TextFrame)}


def tell_account(hand: HandLaid | None = None, aspect: float = 1.5) -> Matter:
    matter = build_matter([aspect], (3,), BlockKind.ACCOUNT, captions={0: "The inn by the mole."})
    caption = matter.words.get("caption:p0")
    words = {**matter.words.paragraphs, f"text:{matter.block.id}": caption * 3}
    return replace(matter, words=Words(words), hand=hand)


@pytest.mark.parametrize(
    ("key", "name"),
    [
        ("caption:9f3a", "caption:9f3a"),
        ("captions:group:9f3a#2", "captions#2"),
        ("text:account:9f3a", "text"),
        ("opener:4", "opener"),
        ("foreword#3", "foreword#3"),
    ],
)
def test_a_text_keeps_its_name_when_chapters_and_groups_are_counted_anew(
    key: str, name: str
) -> None:
    assert name_text(key) == name


@pytest.mark.parametrize("numbers", [(4,), (4, 5), (5, 6, 7)])
def test_pages_are_counted_from_the_blocks_first_both_ways(numbers: tuple[int, ...]) -> None:
    assert count_page(numbers, numbers[0]) == 1
    assert count_page(numbers, numbers[0] - 1) == 0
    assert count_page(numbers, numbers[-1] + 1) == len(numbers) + 1
    for number in range(numbers[0] - 2, numbers[-1] + 3):
        assert find_number(numbers, count_page(numbers, number)) == number


def test_a_caption_stands_where_it_was_put_and_once() -> None:
    place = PlacedText("caption:p0", 1, 150.5, 31.25, 40)
    picture = PlacedPicture("p0", 1, Rect(22, 22, 120, 80))
    hand = HandLaid("recto", (picture,), (place,))
    matter = replace(build_matter([1.5], (3,), captions={0: "The mole at noon."}), hand=hand)
    page = lay(matter, 2, 3)[3]
    (caption,) = texts(page).values()
    assert (caption.box.x, caption.box.y, caption.box.width) == (150.5, 31.25, 40)
    assert caption.by_hand
    assert caption.paragraphs == matter.words.get("caption:p0")
    # As high as its words are: one line more where it is set narrow.
    narrow = replace(hand, texts=(replace(place, width=16.0),))
    (higher,) = texts(lay(replace(matter, hand=narrow), 3)[3]).values()
    assert higher.box.height > caption.box.height


def test_on_the_facing_page_a_caption_says_where_its_picture_is() -> None:
    picture = PlacedPicture("p0", 1, Rect(22, 22, 120, 80))
    hand = HandLaid("recto", (picture,), (PlacedText("caption:p0", 0, 30, 200, 60),))
    matter = replace(build_matter([1.5], (3,), captions={0: "The mole at noon."}), hand=hand)
    pages = lay(matter, 2, 3)
    assert texts(pages[3]) == {}
    (caption,) = texts(pages[2]).values()
    assert caption.paragraphs[0].plain == "Opposite:\N{NO-BREAK SPACE}The mole at noon."


def test_of_captions_together_one_is_set_by_itself_and_the_others_stay_together() -> None:
    captions = {0: "The mole.", 1: "The inn."}
    boxes = Rect(20, 22, 80, 60), Rect(108, 22, 80, 60)
    pictures = tuple(PlacedPicture(f"p{i}", 1, box) for i, box in enumerate(boxes))
    hand = HandLaid("recto", pictures, (PlacedText("caption:p1", 1, 108, 90, 60),))
    matter = replace(build_matter([4 / 3] * 2, (3,), captions=captions), hand=hand)
    said = {k: f.paragraphs[0].plain for k, f in texts(lay(matter, 3)[3]).items()}
    assert said == {"captions:b": "Left:\N{NO-BREAK SPACE}The mole.", "caption:p1": "The inn."}


def test_an_account_moves_its_picture_and_keeps_its_text_and_the_other_way_round() -> None:
    plain = {f"{k}": f.box for k, f in texts(lay(tell_account(), 3)[3]).items()}
    moved = HandLaid("recto", (PlacedPicture("p0", 1, Rect(30, 180, 90, 60)),))
    page = lay(tell_account(moved), 3)[3]
    (picture,) = (f for f in page.frames if isinstance(f, PictureFrame))
    assert picture.box == Rect(30, 180, 90, 60)
    assert page.family == BY_HAND
    assert texts(page)["text:b"].box == plain["text:b"]
    # Its caption finds white by the picture's new place.
    assert texts(page)["caption:p0"].box.y > picture.box.bottom
    text = HandLaid("recto", texts=(PlacedText("text", 1, 40, 200, 70),))
    page = lay(tell_account(text), 3)[3]
    placed = texts(page)["text:b"].box
    assert (placed.x, placed.y, placed.width) == (40, 200, 70)
    assert texts(page)["caption:p0"].box == plain["caption:p0"]


@pytest.mark.parametrize("veiled", [frozenset(), frozenset({3})])
def test_a_picture_that_opens_a_chapter_is_placed_under_a_leaf_too(
    veiled: frozenset[int],
) -> None:
    matter = build_matter([1.5], (3,), BlockKind.OPENER, captions={0: "The mole."})
    title = {} if veiled else {"opener:0": matter.words.get("caption:p0")}
    hand = HandLaid("recto", (PlacedPicture("p0", 1, Rect(40, 150, 90, 60)),))
    words = Words({**matter.words.paragraphs, **title})
    page = lay(replace(matter, words=words, veiled=veiled, hand=hand), 3)[3]
    (picture,) = (f for f in page.frames if isinstance(f, PictureFrame))
    assert picture.box == Rect(40, 150, 90, 60)
    assert texts(page).keys() == {*title, "caption:p0"}


def test_a_text_that_is_no_more_is_passed_over() -> None:
    hand = HandLaid("recto", texts=(PlacedText("title", 1, 40, 200, 70),))
    assert lay(tell_account(hand), 3) == lay(tell_account(), 3)
    # Before the book's first page there is none to stand on.
    hand = HandLaid("recto", texts=(PlacedText("caption:p0", 0, 40, 200, 70),))
    assert texts(lay(tell_account(hand), 3)[3]).keys() == {"text:b"}


def test_captions_that_were_placed_need_no_room_and_others_do() -> None:
    hand = HandLaid("recto", texts=(PlacedText("text", 1, 40, 200, 70),))
    matter = tell_account(hand)
    assert leave_out_placed(matter) is matter
    hand = HandLaid("recto", texts=(PlacedText("caption:p0", 1, 40, 200, 70),))
    assert leave_out_placed(tell_account(hand)).words.paragraphs.keys() == {"text:b"}


def test_texts_upon_each_other_are_told_and_over_the_edge_is_left_to_the_checks() -> None:
    matter = tell_account()
    box = texts(lay(matter, 3)[3])["caption:p0"].box
    hand = HandLaid("recto", texts=(PlacedText("text", 1, box.x, box.y, 70),))
    page = lay(tell_account(hand), 3)[3]
    (finding,) = judge_pages(matter.grid, [page])
    assert (finding.rule, finding.severity) == ("layout.text-on-text", Severity.WARN)
    assert finding.about == "text:b"
    hand = HandLaid("recto", texts=(PlacedText("text", 1, 180, 290, 70),))
    assert judge_pages(matter.grid, [lay(tell_account(hand), 3)[3]]) == ()
