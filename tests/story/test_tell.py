"""The order of a book's parts, and what the person's words and marks do to it.

Half-title and title on rectos, the colophon last: common practice of the trade, no single source.
"""

from dataclasses import replace
from datetime import date

import pytest

from wayfold.base.findings import Severity
from wayfold.book.state import Book, ChapterChoice, PhotoChoice, Pick
from wayfold.story.model import Alternative, BlockKind, Start
from wayfold.story.tell import tell_story

TWO_PLACES = """
    a 2025-05-03T10:00 Alba
    b 2025-05-03T10:05 Alba
    c 2025-05-03T10:10 Alba
    d 2025-05-04T10:00 Gamma
    e 2025-05-04T10:05 Gamma
    f 2025-05-04T10:10 Gamma
"""


def ids(story):
    return [block.id for block in story.blocks]


def rules(story):
    return {f.rule for f in story.findings}


def test_parts_in_their_order(teller):
    texts = {"foreword": "F", "closing": "C", "colophon": "P", "alba": "A"}
    book = Book("T", texts=texts, chapters=(ChapterChoice("Alba", text="alba"),))
    story = teller.tell(TWO_PLACES, book, {"alba": 2, "foreword": 1, "closing": 1, "colophon": 1})
    assert ids(story) == [
        "half-title",
        "title",
        "foreword",
        "contents",
        "opener:0",
        "text:0",
        "group:a",
        "opener:1",
        "group:d",
        "closing",
        "colophon",
    ]
    assert story.block("text:0").alternatives == (Alternative(2, bears=(0, 1)),)
    assert story.block("text:0").text == "alba"
    assert story.block("foreword").text == "foreword"
    for part in ("half-title", "title", "opener:0", "opener:1"):
        assert [a.start for a in story.block(part).alternatives] == [Start.RECTO]
    assert story.block("contents").alternatives[0].start is Start.RECTO


def test_without_texts_the_book_is_still_whole(teller):
    story = teller.tell(TWO_PLACES)
    assert ids(story) == [
        *("half-title", "title", "contents"),
        *("opener:0", "group:a", "opener:1", "group:d", "colophon"),
    ]


def test_an_empty_text_takes_no_page(teller):
    book = Book("T", texts={"foreword": "  \n", "closing": ""})
    assert {"foreword", "closing"}.isdisjoint(ids(teller.tell(TWO_PLACES, book)))


def test_openers_on_any_side(teller):
    story = teller.tell(TWO_PLACES, Book("T", openers_on="any"))
    assert story.block("opener:0").alternatives == (Alternative(1, bears=(0,)),)


def test_one_chapter_needs_no_contents(teller):
    assert "contents" not in ids(teller.tell("a 2025-05-03T10:00 Alba"))


def test_the_first_block_of_a_day_carries_its_date(teller):
    story = teller.tell("""
        a 2025-05-03T10:00 Alba
        b 2025-05-03T10:01 Alba
        c 2025-05-03T10:02 Alba
        d 2025-05-03T20:00 Alba
        e 2025-05-03T20:01 Alba
        f 2025-05-03T20:02 Alba
        g 2025-05-04T10:00 Alba
        h 2025-05-04T10:01 Alba
    """)
    days = {b.id: b.day for b in story.blocks if b.photos}
    assert days == {"group:a": date(2025, 5, 3), "group:d": None, "group:g": date(2025, 5, 4)}


def test_what_is_left_is_left(teller):
    book = Book("T", choices={"b": PhotoChoice(pick=Pick.LEAVE)})
    story = teller.tell(TWO_PLACES, book)
    assert story.block("group:a").photos == ("a", "c")


def test_all_left_out(teller):
    choices = {photo: PhotoChoice(pick=Pick.LEAVE) for photo in "abcdef"}
    story = teller.tell(TWO_PLACES, Book("T", choices=choices))
    assert ids(story) == ["half-title", "title", "colophon"]
    (finding,) = story.findings
    assert (finding.rule, finding.severity) == ("story.empty", Severity.BLOCK)
    assert "left out" in finding.message


def test_no_photographs(teller):
    trip, photos = teller.read("a ? -")
    story = tell_story(replace(trip, moments=()), Book("T"), photos, {})
    assert ids(story) == ["half-title", "title", "colophon"]
    assert rules(story) == {"story.empty"}


def test_one_photograph(teller):
    story = teller.tell("a 2025-05-03T10:00 Alba")
    assert ids(story) == ["half-title", "title", "opener:0", "single:a", "colophon"]


def test_a_hero_lies_across_one_opening(teller):
    book = Book("T", choices={"b": PhotoChoice(pick=Pick.HERO)})
    hero = teller.tell(TWO_PLACES, book).block("hero:b")
    # Only a verso and the recto after it face each other: geometry of folded paper.
    assert hero.alternatives == (Alternative(2, start=Start.VERSO, spreads=(0,)),)
    assert hero.kind is BlockKind.HERO
    assert hero.importance == 4


def test_a_hero_at_the_start_comes_before_a_text_that_would_leave_a_white_page(teller):
    book = Book(
        "T",
        texts={"alba": "A"},
        chapters=(ChapterChoice("Alba", text="alba"),),
        choices={"a": PhotoChoice(pick=Pick.HERO)},
    )
    # Opener recto, text verso: the hero would have to begin on the recto that follows.
    one_page = ids(teller.tell(TWO_PLACES, book, {"alba": 1}))
    assert one_page[3:7] == ["opener:0", "hero:a", "text:0", "group:b"]
    two_pages = ids(teller.tell(TWO_PLACES, book, {"alba": 2}))
    assert two_pages[3:7] == ["opener:0", "text:0", "hero:a", "group:b"]


def test_a_text_that_is_not_there_is_pointed_out(teller):
    book = Book("T", chapters=(ChapterChoice("Alba", text="alba"),))
    story = teller.tell(TWO_PLACES, book)
    (finding,) = story.findings
    assert finding.rule == "story.text"
    assert "texts/alba.md" in finding.remedy
    assert "text:0" not in ids(story)


@pytest.mark.parametrize(("chapters", "pages"), [(2, 1), (16, 1), (17, 2)])
def test_contents_grow_with_the_chapters(teller, chapters, pages):
    names = ["Alba", "Gamma"]
    lines = "\n".join(
        f"p{c:02}{i} 2025-05-{c + 1:02}T10:0{i} {names[c % 2]}"
        for c in range(chapters)
        for i in range(3)
    )
    story = teller.tell(lines)
    assert len(story.chapters) == chapters
    assert {a.pages for a in story.block("contents").alternatives} == {pages}


def test_an_edit_elsewhere_leaves_the_blocks_alone(teller):
    before = teller.tell(TWO_PLACES)
    after = teller.tell(TWO_PLACES, Book("A Title", choices={"a": PhotoChoice(alone=True)}))
    assert after.block("group:d") == before.block("group:d")
