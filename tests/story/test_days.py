"""Texts of single days stand before the day's first pictures and carry its date."""

from datetime import date

from wayfold.book.state import Book, ChapterChoice, PhotoChoice, Pick
from wayfold.plan.planner import plan_book
from wayfold.story.model import Alternative, BlockKind

TWO_DAYS = """
    a 2025-05-03T10:00 Alba
    b 2025-05-03T10:05 Alba
    c 2025-05-04T10:00 Alba
    d 2025-05-04T10:05 Alba
    e 2025-05-04T18:00 Alba
"""
THIRD, FOURTH = date(2025, 5, 3), date(2025, 5, 4)


def ids(story):
    return [b.id for b in story.blocks if b.chapter is not None]


def test_a_days_text_stands_before_its_pictures_and_takes_the_date(teller):
    book = Book("T", texts={"2025-05-04": "Rain."})
    story = teller.tell(TWO_DAYS, book, {"2025-05-04": 2})
    at = ids(story).index("text:2025-05-04")
    text, pictures = (story.block(name) for name in ids(story)[at : at + 2])
    assert (text.kind, text.day, text.text) == (BlockKind.TEXT, FOURTH, "2025-05-04")
    assert text.alternatives == (Alternative(2, bears=(0, 1)),)
    assert pictures.photos[0] == "c"
    assert pictures.day is None
    # The other day is as it was.
    bare = teller.tell(TWO_DAYS)
    assert story.block(ids(story)[1]).day == bare.block(ids(bare)[1]).day == THIRD


def test_no_text_and_no_picture_no_block(teller):
    for texts in ({"2025-05-04": " \n"}, {"2025-05-09": "Rain."}, {"2025-13-40": "Rain."}):
        assert ids(teller.tell(TWO_DAYS, Book("T", texts=texts))) == ids(teller.tell(TWO_DAYS))


def test_a_chapters_text_is_not_told_a_second_time(teller):
    chapter = ChapterChoice("Alba", text="2025-05-03")
    book = Book("T", texts={"2025-05-03": "Sun."}, chapters=(chapter,))
    assert [b.text for b in teller.tell(TWO_DAYS, book).blocks].count("2025-05-03") == 1


def test_a_day_in_two_chapters_tells_its_text_once(teller):
    lines = """
        a 2025-05-03T10:00 Alba
        b 2025-05-03T10:05 Alba
        c 2025-05-03T10:06 Alba
        d 2025-05-03T18:00 Gamma
        e 2025-05-03T18:05 Gamma
        f 2025-05-03T18:06 Gamma
    """
    story = teller.tell(lines, Book("T", texts={"2025-05-03": "Sun."}))
    assert len(story.chapters) == 2
    assert [b.chapter for b in story.blocks if b.text == "2025-05-03"] == [0]


def test_a_text_may_follow_a_hero_so_that_no_page_stays_white(teller):
    heroes = {"c": PhotoChoice(Pick.HERO)}
    book = Book("T", texts={"2025-05-04": "Rain."}, choices=heroes)
    story = teller.tell(TWO_DAYS, book)
    text, hero = story.block("text:2025-05-04"), story.block("hero:c")
    assert text.swap == hero.swap is not None
    assert sum(b.swap == text.swap for b in story.blocks) == 2
    result = plan_book(story, book.paper, book.binding)
    pages = [page.block for page in result.plan.pages]
    inside = pages[pages.index("opener:0") : pages.index("colophon")]
    while inside[-1] is None:
        inside.pop()
    assert None not in inside
