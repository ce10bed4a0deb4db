"""The rules that read what the person wrote, each with a book that passes and one that does not."""

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from tests.checks.reading import only, write_book
from wayfold.base.world import LonLat
from wayfold.book.state import Book
from wayfold.book.trip_choices import DayNote, PlaceChoice, TripChoices
from wayfold.checks.rules.alike_side_by_side import find_alike_side_by_side
from wayfold.checks.rules.date_style import find_other_dates
from wayfold.checks.rules.doubled_captions import find_doubled_captions
from wayfold.checks.rules.place_spelling import find_odd_spellings
from wayfold.checks.rules.quotes_and_dashes import find_mixed_marks
from wayfold.photos.sets import PhotoSets
from wayfold.story.model import Chapter
from wayfold.trip.bookings.model import Spot
from wayfold.trip.gazetteer import Town
from wayfold.trip.journey.model import Journey, Stay


def test_one_form_of_date() -> None:
    good = write_book(
        {"rome": "We came on 12 May, and left on 3 June 2025."}, {"a": "The 12–15 May market."}
    )
    assert list(find_other_dates(good)) == []
    bad = write_book(
        {"rome": "We came on May 12th.\n\nAnd left on 3.6.2025, not on 3 June."},
        {"a": "Noon, 12 May 2025", "b": "Evening, 2025-05-12"},
    )
    text, caption = find_other_dates(bad)
    assert text.where == "texts/rome.md" and "“May 12th” (the book's: “12 May”)" in text.message
    assert "“3.6.2025” (the book's: “3 June 2025”)" in text.message
    assert caption.where == "page 5" and "“2025-05-12”" in caption.message
    assert "caption of b.jpg" in caption.message


def test_dates_in_titles_and_notes() -> None:
    said = TripChoices(days=(DayNote(date(2025, 5, 12), "Until 14/5/2025."),))
    book = Book("Spring", subtitle="May 3–9, 2025", journey=said)
    found = list(find_other_dates(write_book(book=book)))
    assert [f.where for f in found] == ["book.toml, subtitle", "trip.toml, day 2025-05-12"]
    assert "3–9 May 2025" in found[0].message


def test_many_dates_of_a_text_make_one_finding() -> None:
    text = "On May 1, May 2, May 3, May 4 and May 5."
    assert "and 2 more" in only(list(find_other_dates(write_book({"a": text})))).message


def journey(*names: str, country: str = "Switzerland") -> Journey:
    def stay(name: str) -> Stay:
        day = date(2025, 5, 12)
        seen = datetime(2025, 5, 12, tzinfo=UTC)
        return Stay(Spot(name, "CH", LonLat(8.5, 47.4)), country, day, day, seen, seen)

    return Journey(tuple(stay(name) for name in names))


class Towns:
    """Knows one town."""

    def __init__(self, *towns: Town) -> None:
        self._towns = towns

    def find(self, place: LonLat) -> Town | None:  # noqa: ARG002
        return None

    def named(self, name: str) -> tuple[Town, ...]:
        return tuple(t for t in self._towns if t.name == name)


# The city's own name; its spellings without the umlaut are the usual ones of typewriters.
@pytest.mark.parametrize("odd", ["Zurich", "Zuerich", "Züirch", "Zürch", "Zurich’s"])
def test_one_spelling_of_a_place(odd: str) -> None:
    trip = journey("Zürich", "Bern", "La Chaux-de-Fonds")
    good = write_book({"a": "We left Zürich for La Chaux-de-Fonds by ZÜRICH’s first train."})
    assert list(find_odd_spellings(replace(good, journey=trip))) == []
    bad = write_book({"a": f"We left {odd} early."}, journey=trip)
    found = only(list(find_odd_spellings(bad)))
    assert found.where == "texts/a.md" and f"“{odd}”" in found.message.replace("'", "’")
    assert "“Zürich”" in found.message


def test_a_name_of_several_words() -> None:
    trip = journey("La Chaux-de-Fonds", "St. Gallen")
    bad = write_book(captions={"a": "Snow in La Chaux de Fonds, not in St. Gallen"}, journey=trip)
    assert "“La Chaux de Fonds”" in only(list(find_odd_spellings(bad))).message


@pytest.mark.parametrize(
    "text",
    [
        "Milanese bread, the Milan of Milan’s own",  # what hangs on a name
        "Millan stood there",  # opens the sentence: any word may
        "a millan and the Millan",  # also in small letters
        "under Casa Milà",  # part of a longer name
        "and then Mulan again, an old friend’s MILANO",  # a town (below), capitals
        "by the Rhone",  # too short a name to tell from others
    ],
)
def test_what_is_no_slip(text: str) -> None:
    trip = journey("Milan", "Rhine")
    towns = Towns(Town("Mulan", "CH", LonLat(8.6, 47.5), 500))
    book = write_book({"a": text}, journey=trip, towns=towns)
    found = [f.message for f in find_odd_spellings(book)]
    assert found == [] if "Rhone" not in text else len(found) == 1


def test_a_far_village_is_no_excuse() -> None:
    far = Towns(Town("Genova", "CO", LonLat(-75.8, 4.2), 8_000))
    book = write_book({"a": "The port of Genova."}, journey=journey("Genoa"), towns=far)
    assert "“Genoa”" in only(list(find_odd_spellings(book))).message
    great = Towns(Town("Genova", "CO", LonLat(-75.8, 4.2), 800_000))
    assert list(find_odd_spellings(replace(book, towns=great))) == []


def test_titles_and_maps_are_held_against_each_other() -> None:
    said = TripChoices(places=(PlaceChoice("Oñati", "Café Zubi", LonLat(-2.4, 43.0)),))
    chapters = (Chapter("Onati in Rain", "", "Spain", None, None, place="Oñati"),)
    book = write_book({"a": "At Café Zubi."}, book=Book("B", journey=said), chapters=chapters)
    found = only(list(find_odd_spellings(book)))
    assert found.where == "book.toml, chapter Oñati" and "“Onati”" in found.message


def test_two_spellings_within_the_texts() -> None:
    book = write_book({"a": "The road to Aizkorrí.", "b": "Below Aizkorri it rained."})
    found = only(list(find_odd_spellings(book)))
    assert found.where == "texts/b.md" and "texts/a.md has “Aizkorrí”" in found.message


def test_quotes_of_one_form() -> None:
    good = write_book({"a": 'She said "come", and we came.'}, {"a": "The “old” man’s 'quay'"})
    assert list(find_mixed_marks(good)) == []
    bad = write_book({"a": 'She said "come" and "go".'}, {"a": "The «old» quay"})
    found = only(list(find_mixed_marks(bad)))
    assert found.where == "page 4" and "“«old»”" in found.message and "2 of 3" in found.message


def test_a_typewriters_mark_that_is_left() -> None:
    found = only(list(find_mixed_marks(write_book({"a": 'A picture of 50" on the wall.'}))))
    assert "50" in found.message and found.where == "texts/a.md"


def test_dashes_of_one_form() -> None:
    good = write_book({"a": "It rained – again – in the Milan–Rome train, 9-12 May."})
    assert list(find_mixed_marks(good)) == []
    bad = write_book({"a": "It rained – again – and again.", "b": "Fog—and then sun."})
    found = only(list(find_mixed_marks(bad)))
    assert (
        found.where == "texts/b.md"
        and "form closed —" in found.message
        and "spaced – (2 of 3)" in found.message
    )


def test_captions_said_twice() -> None:
    good = write_book(
        captions={"a": "The quay at noon", "b": "The quay at night", "c": "Rome", "d": "Rome"}
    )
    assert list(find_doubled_captions(good)) == []
    rooms = write_book(captions={"a": "The window of room 11", "b": "The window of room 12"})
    assert list(find_doubled_captions(rooms)) == []
    same = write_book(captions={"a": "The quay at noon.", "b": "Fog", "c": "The quay at noon."})
    found = only(list(find_doubled_captions(same)))
    assert found.where == "page 6" and "a.jpg (page 4)" in found.message
    slip = write_book(captions={"a": "Two boats on the quay", "b": "Two boats on the quais"})
    assert "nearly the same" in only(list(find_doubled_captions(slip))).message


def test_pictures_alike_side_by_side() -> None:
    book = write_book(captions={"a": "One", "b": "Two", "c": "Three"})  # pages 4, 5 and 6
    apart = replace(book, sets=PhotoSets(alike=(("a", "c"), ("b", "x"))))
    assert list(find_alike_side_by_side(apart)) == []
    facing = replace(book, sets=PhotoSets(alike=(("a", "b", "c"),)))
    found = only(list(find_alike_side_by_side(facing)))
    assert found.where == "pages 4 and 5" and "a.jpg and b.jpg show nearly" in found.message


def test_two_files_of_one_shot_anywhere() -> None:
    book = write_book(captions={"a": "One", "b": "Two", "c": "Three"})
    shot = replace(book, sets=PhotoSets(shots=(("a", "c"),), alike=(("a", "b", "c"),)))
    found = list(find_alike_side_by_side(shot))
    assert [f.where for f in found] == ["pages 4 and 6", "pages 4 and 5"]
    assert "files of one shot" in found[0].message
