"""What the demo's journey says passes the book's own checks of wording."""

import pytest

from tests.checks.reading import write_book
from wayfold.book.state import Book
from wayfold.checks.rules import Rule
from wayfold.checks.rules.date_style import find_other_dates
from wayfold.checks.rules.doubled_captions import find_doubled_captions
from wayfold.checks.rules.heading_levels import find_odd_headings
from wayfold.checks.rules.numbers_and_units import find_odd_numbers
from wayfold.checks.rules.place_spelling import find_odd_spellings
from wayfold.checks.rules.pointing_words import find_vain_pointers
from wayfold.checks.rules.quotes_and_dashes import find_mixed_marks
from wayfold.checks.subject import Subject
from wayfold.checks.writings import list_writings
from wayfold.demo.scenario import read_journey, read_text
from wayfold.story.model import Chapter

JOURNEY = read_journey()


@pytest.fixture(scope="module")
def told() -> Subject:
    shots = [s for chapter in JOURNEY.chapters for s in (*chapter.shots, *chapter.painted)]
    texts = {key: read_text(key) for key in ("foreword", "closing")}
    texts |= {chapter.text: read_text(chapter.text) for chapter in JOURNEY.chapters}
    texts |= {shot.text: read_text(shot.text) for shot in shots if shot.text}
    chapters = tuple(
        Chapter(c.heading, c.subtitle, "", None, None, c.accent, place=town.name)
        for c in JOURNEY.chapters
        for town in c.towns
    )
    book = Book(JOURNEY.title, JOURNEY.subtitle, JOURNEY.author, language=JOURNEY.language)
    # Photographs and the paintings that stand in for them are never in one book.
    captions = {shot.key: shot.caption for shot in shots if shot.painting is None}
    return write_book(texts, captions, book, chapters)


@pytest.mark.parametrize(
    "find",
    [
        find_other_dates,
        find_odd_spellings,
        find_mixed_marks,
        find_odd_numbers,
        find_odd_headings,
        find_doubled_captions,
        find_vain_pointers,
    ],
)
def test_the_demo_says_things_one_way(told: Subject, find: Rule) -> None:
    assert len(list_writings(told)) > 60
    assert list(find(told)) == []
