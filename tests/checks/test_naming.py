"""Texts in findings go by names their writer knows."""

from dataclasses import replace

import pytest

from tests.checks.reading import write_book
from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Rect
from wayfold.checks.naming import name_in_finding, name_text
from wayfold.checks.rules import check_book
from wayfold.checks.rules.text_near_edge import find_text_near_edges
from wayfold.checks.subject import Subject
from wayfold.layout.model import BookLayout, PageLayout, TextFrame
from wayfold.story.model import Chapter


@pytest.fixture
def book() -> Subject:
    chapters = (Chapter("Rome", "", "Italy", None, None),)
    return write_book({"rome": "It rained."}, {"p": "Sea", "q": "Fog"}, chapters=chapters)


@pytest.mark.parametrize(
    ("key", "name"),
    [
        ("caption:p", "caption of p.jpg"),
        ("captions:single:q", "captions of q.jpg and its neighbours"),
        ("text:text:rome#2", "text texts/rome.md"),
        ("notes:text:text:rome#2", "footnotes of text texts/rome.md"),
        ("opener:0", "title of Rome"),
        ("running:0", "running head of Rome"),
        ("leaf:caption:p", "caption of p.jpg on the leaf"),
        ("leaf:name:0", "running head of Rome on the leaf"),
        ("day:2025-10-11", "day line of 11\xa0October 2025"),
        ("folio 12", "page number"),
        ("contents", "contents"),
        ("foreword", "foreword"),
    ],
)
def test_names(book: Subject, key: str, name: str) -> None:
    assert name_text(book, key) == name


def test_a_rule_names_the_text(book: Subject) -> None:
    frame = TextFrame(Rect(20, 2, 60, 10), "caption:p", book.words.get("caption:p"))  # type: ignore[union-attr]
    laid = replace(book, layout=BookLayout((PageLayout(5, "framed", (frame,)),)))
    (found,) = find_text_near_edges(laid)
    assert found.message.startswith("The caption of p.jpg stands 2.0 mm from the head")
    # What the typesetter says of a key is told of the page it stands on.
    told = Finding("overset", Severity.BLOCK, "caption:p", "Too long.", "Shorten it.")
    named = name_in_finding(laid, told)
    assert (named.where, named.message) == ("page 5", "In the caption of p.jpg: Too long.")
    laid = replace(laid, earlier=(told,))
    assert check_book(laid)[0] == named


def test_keys_in_messages(book: Subject) -> None:
    told = Finding("a", Severity.BLOCK, "page 3", "The text 'text:text:rome' is too long.")
    assert name_in_finding(book, told).message == "The text texts/rome.md is too long."
    other = Finding("a", Severity.NOTE, "page 3", "The text 'x' is new.")
    assert name_in_finding(book, other).where == "page 3"
