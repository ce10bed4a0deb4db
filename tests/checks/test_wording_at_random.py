"""The checks of wording on any text: none breaks, and their parts agree with plain definitions."""

from functools import cache

from hypothesis import example, given, settings
from hypothesis import strategies as st

from tests.checks.reading import write_book
from tests.checks.test_rules_words import journey
from wayfold.book.state import Book
from wayfold.checks.place_names import KnownNames, count_slips
from wayfold.checks.rules import RULES
from wayfold.checks.rules.date_style import write_as_book
from wayfold.checks.written_dates import find_dates
from wayfold.words.dates import name_months

LANGUAGES = ("en", "de", "fr", "it", "es", "pt")
PIECES = st.sampled_from(
    [
        *name_months("en"), *name_months("de"), *name_months("es"), "Mar.", "Sept", "may",
        "1", "31", "30", "29", "45", "2025", "1900", "12", "–", "-", ".", "/", ",", " ", " ", " ",
        "th", "st", "of", "de", "to", "the", "km", "€", "%", "pm", ":", "h", "Uhr", "“", "”", '"',
        "«", "»", "'", "’", "Zurich", "Zürich", "Bern", "(left)", "map opposite", "page 3", "\n\n",
        "# ", "## ", "Left:", "—", "word", "Rue", "du",
    ]
)  # fmt: skip
TEXTS = st.lists(PIECES, max_size=25).map("".join)


@given(TEXTS, st.sampled_from(LANGUAGES))
@example("May 12–45", "en")
@example("May 12–15, 1900", "en")
@example("March 12-3", "en")
@example("29 Feb 1900, 29 February", "en")
def test_every_date_found_can_be_written(text: str, language: str) -> None:
    for found in find_dates(text, language):
        assert found.text in text
        own = write_as_book(found, language)
        # What the book writes is read back as the same day.
        (again,) = find_dates(own, language)
        assert (again.month, again.year) == (found.month, found.year)
        assert again.day == max(found.day, found.last or 0)


@settings(deadline=None, max_examples=60)
@given(TEXTS, st.lists(TEXTS, max_size=3), st.sampled_from(LANGUAGES))
def test_no_text_breaks_a_rule(text: str, captions: list[str], language: str) -> None:
    said = {f"p{n}": caption for n, caption in enumerate(captions)}
    book = write_book({"a": text}, said, Book("A book", language=language))
    for rule in RULES:
        for finding in rule(book):
            assert finding.where and finding.message


@given(st.text("abcü", max_size=6), st.text("abcü", max_size=6))
def test_slips_are_counted_as_damerau_has_them(one: str, other: str) -> None:
    """The restricted distance, by its recursive definition."""

    @cache
    def count(i: int, j: int) -> int:
        if not i or not j:
            return i + j
        ways = [count(i - 1, j) + 1, count(i, j - 1) + 1]
        ways.append(count(i - 1, j - 1) + (one[i - 1] != other[j - 1]))
        if i > 1 and j > 1 and one[i - 1] == other[j - 2] and one[i - 2] == other[j - 1]:
            ways.append(count(i - 2, j - 2) + 1)
        return min(ways)

    true = count(len(one), len(other))
    assert count_slips(one, other, 12) == true
    for most in (1, 2):
        assert min(count_slips(one, other, most), most + 1) == min(true, most + 1)


# F. J. Damerau's four kinds of slip, and examples in use since: one step each.
def test_known_distances() -> None:
    for one, other in (
        ("genoa", "gneoa"),
        ("genoa", "genoaa"),
        ("genoa", "gena"),
        ("genoa", "geloa"),
    ):
        assert count_slips(one, other, 2) == 1
    assert count_slips("ca", "abc", 3) == 3  # restricted: 2 without the restriction


@given(TEXTS)
def test_a_known_name_is_never_named_itself(text: str) -> None:
    known = KnownNames(stay.name for stay in journey("Zürich", "Bern").stays)
    for spelling in known.list_spellings(text):
        assert spelling.text in " ".join(text.split())
        if spelling.text in ("Zürich", "Bern"):
            assert known.find_lost_accents(spelling.text) is None
            assert known.find_near_miss(spelling.text) is None
