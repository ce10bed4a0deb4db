"""The rules on numbers, headings and pointing words: a book that passes, one that does not."""

from dataclasses import replace

import pytest

from tests.checks.reading import only, write_book
from tests.checks.test_rules_words import journey
from wayfold.base.geometry import Rect
from wayfold.book.state import Book
from wayfold.book.trip_choices import TripChoices, Unit
from wayfold.checks.rules.heading_levels import find_odd_headings
from wayfold.checks.rules.numbers_and_units import find_odd_numbers
from wayfold.checks.rules.pointing_words import Way, find_pointers, find_vain_pointers
from wayfold.checks.subject import Subject
from wayfold.layout.model import BookLayout, PageLayout, PictureFrame, TextFrame
from wayfold.words.terms import Term, say


@pytest.mark.parametrize(
    ("text", "named"),
    [
        # BIPM, The International System of Units, 9th edition, 5.4.3 and 5.2.
        ("We walked 12 km, up 300 m, at 18.5 °C.", None),
        ("We walked 12km.", "12km"),
        ("It was 18°C, and 5 °C at night.", "18°C"),
        ("A train at 90 Kmh", "90 Kmh"),
        ("It is 12,5 km away.", "12,5 km"),
        ("In 12,500 m there is none, nor in 1914m2.", None),
        ("At 4x4, 35mm film, b12m", "35mm"),
        ("We went 12 miles on.", "12 miles"),
    ],
)
def test_units(text: str, named: str | None) -> None:
    found = list(find_odd_numbers(write_book({"a": text})))
    if named is None:
        assert found == []
    else:
        assert f"“{named}”" in only(found).message and found[0].where == "texts/a.md"


def test_the_books_own_measure_and_sign() -> None:
    miles = Book("B", journey=TripChoices(unit=Unit.MILES))
    assert list(find_odd_numbers(write_book({"a": "12 miles"}, book=miles))) == []
    assert len(list(find_odd_numbers(write_book({"a": "12 km"}, book=miles)))) == 1
    german = Book("B", language="de")
    assert list(find_odd_numbers(write_book({"a": "12,5 km"}, book=german))) == []
    assert len(list(find_odd_numbers(write_book({"a": "12.5 km"}, book=german)))) == 1


@pytest.mark.parametrize(
    ("usual", "odd"),
    [
        ("at 18:00, at 9:30", "at 6 pm"),
        ("at 6 pm, 6:30 p.m., 7 am", "at 18:30"),
        ("5 %, 6 %", "7%"),
        ("€5, €6.50", "7 €"),
        ("5 EUR, EUR 6", "€7"),
    ],
)
def test_one_form_of_hours_shares_and_money(usual: str, odd: str) -> None:
    assert list(find_odd_numbers(write_book({"a": usual}))) == []
    found = only(list(find_odd_numbers(write_book({"a": usual}, {"p": f"It was {odd} or so"}))))
    assert found.where == "page 4" and odd.removeprefix("at ") in found.message


def test_the_itinerarys_hours_count() -> None:
    book = write_book({"a": "We left at 6 pm."})
    assert list(find_odd_numbers(replace(book, journey=journey("Rome")))) == []


def test_headings_of_one_level() -> None:
    good = write_book({"a": "# One\n\nWords.\n\n# Two\n\nWords.", "b": "# Three\n\nMore."})
    assert list(find_odd_headings(good)) == []
    bad = write_book({"a": "# One\n\nWords.\n\n### Two\n\nWords.", "b": "# Three\n\nMore."})
    found = only(list(find_odd_headings(bad)))
    assert found.where == "texts/a.md" and "(line 5) is of level 3" in found.message


def test_headings_that_say_nothing() -> None:
    last = write_book({"a": "# One\n\nWords.\n\n# Two"})
    assert "Nothing stands below" in only(list(find_odd_headings(last))).message
    title = write_book({"a": "# Town\n\nWords."})  # the chapter is called so
    assert "title has just said" in only(list(find_odd_headings(title))).message


def test_words_that_point() -> None:
    points = {
        "(left) the quay": Way.LEFT,
        "Above: the quay": Way.ABOVE,
        "The map opposite has it": Way.OPPOSITE,
        "See the photograph overleaf.": Way.OVERLEAF,
    }
    for text, way in points.items():
        assert [w for _, w in find_pointers(text, "en")] == [way], text
    for text in ("We left by the left bank, above the town", "right in the middle (almost right)"):
        assert list(find_pointers(text, "en")) == []


@pytest.mark.parametrize("language", ["en", "de", "fr", "it", "es"])
def test_the_books_own_words_point_too(language: str) -> None:
    """What the book says before captions is read in each language."""
    terms = {
        Term.ABOVE: Way.ABOVE, Term.BELOW: Way.BELOW, Term.OPPOSITE: Way.OPPOSITE,
        Term.OVERLEAF: Way.OVERLEAF,
    }  # fmt: skip
    for term, way in terms.items():
        text = f"{say(term, language)}: the quay"
        assert way in [w for _, w in find_pointers(text, language)], text


def point(text: str, **more: str) -> Subject:
    """A book whose picture a stands on page 4, above its caption, and nothing on page 5."""
    book = write_book(captions={"a": text, **more})
    caption = TextFrame(Rect(20, 130, 60, 10), "caption:a", book.words.get("caption:a"))  # type: ignore[union-attr]
    pages = [
        replace(p, frames=(*p.frames, *((caption,) if p.number == 4 else ()))) for p in book.pages
    ]
    return replace(book, layout=BookLayout(tuple(pages)))


@pytest.mark.parametrize("word", ["below", "left", "opposite", "overleaf"])
def test_a_caption_points_to_nothing(word: str) -> None:
    found = only(list(find_vain_pointers(point(f"The quay at noon ({word})"))))
    assert found.where == "page 4" and f"“{word}”" in found.message


def test_a_caption_points_to_something() -> None:
    assert list(find_vain_pointers(point("The quay at noon (above)"))) == []
    for word in ("opposite", "right", "overleaf"):  # b stands on page 5, c on page 6
        assert list(find_vain_pointers(point(f"The quay ({word})", b="Sea", c="Fog"))) == []
    two = point("The quay (left)")
    other = PictureFrame(Rect(182, 20, 20, 60), "b")
    here = replace(two.pages[0], frames=(*two.pages[0].frames, other))
    assert list(find_vain_pointers(replace(two, layout=BookLayout((here,))))) == []


def test_a_text_names_a_page() -> None:
    book = write_book({"a": "It is on page 4, and the rest on page 40."}, {"p": "Sea"})
    assert "“page 40”" in only(list(find_vain_pointers(book))).message
    blank = replace(book, layout=BookLayout((PageLayout(4, "blank", ()),)))
    assert len(list(find_vain_pointers(blank))) == 2
