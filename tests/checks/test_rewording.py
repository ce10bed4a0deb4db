"""Safe mends: what is mended is gone, nothing gets worse, and the rest stays letter by letter."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from tests.checks.reading import only, write_book
from tests.checks.test_rules_words import journey
from tests.checks.test_wording_at_random import LANGUAGES, TEXTS
from wayfold.app.mending import list_worse
from wayfold.base.findings import Finding, Rewording
from wayfold.book.edits import SetText, apply_edit
from wayfold.book.state import Book, ChapterChoice
from wayfold.book.trip_choices import DayNote, LegChoice, LodgingChoice, TripChoices
from wayfold.checks.rewording import plan_mending, reword
from wayfold.checks.rules.date_style import find_other_dates
from wayfold.checks.rules.heading_levels import find_odd_headings
from wayfold.checks.rules.numbers_and_units import find_odd_numbers
from wayfold.checks.rules.place_spelling import find_odd_spellings
from wayfold.checks.rules.quotes_and_dashes import find_mixed_marks
from wayfold.checks.subject import Subject
from wayfold.story.model import Chapter

RULES = (
    find_other_dates, find_odd_headings, find_odd_numbers, find_odd_spellings, find_mixed_marks,
)  # fmt: skip


HEADINGS = "# A\n\nOne.\n\n# B\n\nTwo.\n\n### C\n\nSix."


def judge(subject: Subject) -> list[Finding]:
    return [finding for rule in RULES for finding in rule(subject)]


def mend(subject: Subject) -> Book:
    """The book after everything safe is mended."""
    book = subject.book
    for edit in plan_mending(book, subject.photos, judge(subject)).edits:
        book = apply_edit(book, edit)
    return book


@pytest.mark.parametrize(
    ("text", "mended"),
    [
        (HEADINGS, HEADINGS.replace("###", "#")),  # both levels print alike
        ("We came on *May 12th*, 2025-05-12.", "We came on *12 May*, 12 May 2025."),
        ("May 1, 2025, then May 1.", "1 May 2025, then 1 May."),
        ("On May 12-15 it rained.", "On 12–15 May it rained."),
        ("It is 12,5km, at 90 Kmh and 18°C.", "It is 12.5 km, at 90 km/h and 18 °C."),
        ("It is 12,500km, or 1.914m, or 12,5 Km.", "It is 12,500 km, or 1.914 m, or 12.5 km."),
        ("By Zurich's lake, to Zuerich.", "By Zürich's lake, to Zürich."),
        ("Fog -- and sun – and rain—then snow.", "Fog -- and sun – and rain – then snow."),
        ("“One”, “two” and «three».", "“One”, “two” and “three”."),
    ],
)  # fmt: skip
def test_what_is_safe_is_written_in_the_books_form(text: str, mended: str) -> None:
    assert mend(write_book({"a": text}, journey=journey("Zürich"))).texts["a"] == mended


@pytest.mark.parametrize(
    "text",
    [
        "On 4/5/2025 we left.",  # April or May
        "On May *12th* we left.",  # with markup within
        "See [the lake](https://lake.example/Zurich) or `12km`.",
        "We left Züirch.",  # a letter may mean another place
        "Fog — and. Sun—and. Rain—and snow.",  # closing up is more than a sign
        "The north–south line – and – more.",  # may mean "to"
        "He said “no «oui» but”, and “si”, “so”.",  # within others
        "At 6 pm, 18:00 and 19:00.",  # hours are the person's
    ],
)
def test_what_is_not_safe_is_left(text: str) -> None:
    book = write_book({"a": text}, journey=journey("Zürich"))
    assert mend(book) == book.book


def test_a_finding_is_mended_wholly_or_not_at_all() -> None:
    book = write_book({"a": "On May 12th, and on 4/5/2025."})
    assert only(list(find_other_dates(book))).rewordings == ()


def test_every_kind_of_source_is_mended() -> None:
    said = TripChoices(
        legs=(LegChoice("Bern", "Zürich", note="It took 12km."),),
        lodgings=(LodgingChoice("Bern", "At Anna's", date(2025, 5, 12), note="After 9km."),),
        days=(DayNote(date(2025, 5, 12), "We walked 8km."),),
    )
    own = (ChapterChoice("Bern", title="7km of Rain", subtitle="And 6km"),)
    base = Book("5km", subtitle="or 4km", journey=said, chapters=own)
    chapter = Chapter("7km of Rain", "And 6km", "Switzerland", None, None, place="Bern")
    subject = write_book({"a": "And 3km."}, {"p": "The last 2km"}, base, (chapter,))
    assert len(judge(subject)) == 9
    book = mend(subject)
    assert (book.title, book.subtitle, book.texts["a"]) == ("5 km", "or 4 km", "And 3 km.")
    assert book.choice("p").caption == "The last 2 km"
    assert book.journey.legs[0].note == "It took 12 km."
    assert book.journey.lodgings[0].note == "After 9 km."
    assert book.journey.days[0].note == "We walked 8 km."
    assert (book.chapters[0].title, book.chapters[0].subtitle) == ("7 km of Rain", "And 6 km")


def test_a_caption_of_the_photographs_own_is_mended_in_the_book() -> None:
    subject = write_book(captions={"p": "The last 2km"})
    own = replace(subject.photos["p"], caption="The last 2km")
    bare = replace(subject, book=replace(subject.book, choices={}), photos={"p": own})
    assert mend(bare).choice("p").caption == "The last 2 km"


def test_only_what_is_wanted_is_done() -> None:
    subject = write_book({"a": "12km and 13km."})
    wanted = Rewording("text:a", "13km", "13 km")
    mending = plan_mending(subject.book, {}, judge(subject), {wanted})
    assert mending.rewordings == (wanted,)
    assert mending.edits == (SetText("a", "12km and 13 km."),)
    strange = {Rewording("text:a", "and", "or"), Rewording("text:b", "12km", "12 km")}
    assert plan_mending(subject.book, {}, judge(subject), strange).edits == ()


def test_a_passage_stands_for_itself() -> None:
    assert (
        reword("12km, 112km, 12kms, <b 12km>", "12km", "12 km") == "12 km, 112km, 12kms, <b 12km>"
    )


@settings(deadline=None, max_examples=150)
@given(TEXTS, st.lists(TEXTS, max_size=2), st.sampled_from(LANGUAGES))
@example("12km and 12,5km and 1,5 Km", ["12km"], "en")
def test_what_is_mended_is_gone_and_nothing_got_worse(
    text: str, captions: list[str], language: str
) -> None:
    said = {f"p{n}": caption for n, caption in enumerate(captions)}
    trip = journey("Zürich")
    subject = write_book({"a": text}, said, Book("A book", language=language), journey=trip)
    before = judge(subject)
    book = mend(subject)
    now = {photo: choice.caption or "" for photo, choice in book.choices.items()}
    again = write_book(dict(book.texts), now, book, journey=trip)
    after = judge(again)
    mended = {finding for finding in before if finding.rewordings}
    assert not mended & set(after)
    assert list_worse(before, after) == ()
    assert (book == subject.book) == (not mended)
    # What is mended needs no mending a second time.
    assert mend(again) == book
