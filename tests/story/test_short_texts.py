"""A chapter's text of a few lines stands under the chapter's title, without a page of its own."""

import pytest

from wayfold.book.state import Book, ChapterChoice
from wayfold.story.model import BlockKind

PLACE = """
    a 2025-05-03T10:00 Alba
    b 2025-05-03T10:05 Alba
"""


def book(**choices):
    return Book(
        "T", texts={"alba": "A."}, chapters=(ChapterChoice("Alba", text="alba", **choices),)
    )


@pytest.mark.parametrize(("pages", "under"), [(0, True), (1, False), (2, False)])
def test_where_it_takes_no_page(teller, pages, under):
    story = teller.tell(PLACE, book(), {"alba": pages})
    opener = story.block("opener:0")
    assert opener.text == ("alba" if under else None)
    kinds = [b.kind for b in story.blocks]
    assert (BlockKind.TEXT in kinds) is not under
    if not under:
        assert story.block("text:0").alternatives[0].pages == pages


def test_a_title_on_a_leaf_has_no_text_under_it(teller):
    story = teller.tell(PLACE, book(interleaf=True, opening_photo="a"), {"alba": 0})
    assert story.block("opener:0").photos == ("a",)
    assert story.block("opener:0").text is None
    assert story.block("text:0").alternatives[0].pages == 1


def test_a_days_text_of_no_page_gets_one(teller):
    days = Book("T", texts={"2025-05-03": "A."})
    story = teller.tell(PLACE, days, {"2025-05-03": 0})
    assert story.block("text:2025-05-03").alternatives[0].pages == 1
