"""Quotation marks by language, dashes, French pauses."""

import pytest

from wayfold.words.punctuation import hold_last_word, hold_small_words, set_punctuation

LANGUAGES = ["en", "de", "fr", "it", "es"]


@pytest.mark.parametrize("language", LANGUAGES)
def test_outer_quotes_are_those_of_the_language(language):
    # The Unicode CLDR's "delimiters" of each language (from memory, CLDR 45).
    marks = {"en": "“”", "de": "„“", "fr": "«»", "it": "«»", "es": "«»"}[language]
    text = set_punctuation('He said "yes" again', language)
    assert [c for c in text if c in "“”„«»"] == list(marks)


@pytest.mark.parametrize(
    ("raw", "language", "text"),
    [
        ("It's 'fine'", "en", "It’s ‘fine’"),
        ("\"'Yes', he said\"", "en", "“‘Yes’, he said”"),
        ("\"'Ja', sagt er\"", "de", "„‚Ja‘, sagt er“"),
        (
            'Il dit "oui"!',
            "fr",
            "Il dit «\N{NO-BREAK SPACE}oui\N{NO-BREAK SPACE}»\N{NO-BREAK SPACE}!",
        ),
        (
            "Pourquoi? L'été: long",
            "fr",
            "Pourquoi\N{NO-BREAK SPACE}? L’été\N{NO-BREAK SPACE}: long",
        ),
        ("12-15 days, 1999-2004", "en", "12–15 days, 1999–2004"),
        ("2025-05-12", "en", "2025-05-12"),
        ("under CC0-1.0, pages 3-5.", "en", "under CC0-1.0, pages 3–5."),
        ("a well-known word", "en", "a well-known word"),
        ("green -- wet --- stubborn - all", "en", "green – wet — stubborn – all"),
        ("and so on...", "en", "and so on…"),
        (
            "On 12 May we walked 7 km in 2 h",
            "en",
            "On 12~May we walked 7~km in 2~h".replace("~", "\N{NO-BREAK SPACE}"),
        ),
        ("12 Mays, 3 makers, 4 hours", "en", "12 Mays, 3 makers, 4 hours"),
        ("am 12. Mai 2025", "de", "am 12.~Mai 2025".replace("~", "\N{NO-BREAK SPACE}")),
        (
            "le 1er août, le 2 août",
            "fr",
            "le 1er~août, le 2~août".replace("~", "\N{NO-BREAK SPACE}"),
        ),
        ("el 12 de mayo", "es", "el 12~de mayo".replace("~", "\N{NO-BREAK SPACE}")),
        (
            "il 3 marzo, 4 marziani",
            "it",
            "il 3~marzo, 4 marziani".replace("~", "\N{NO-BREAK SPACE}"),
        ),
        ("  two\n lines  ", "en", "two lines"),
        ("*no* _markdown_ <here> & `there`", "en", "*no* _markdown_ <here> & `there`"),
        ("", "en", ""),
    ],
)
def test_typewriter_becomes_print(raw, language, text):
    assert set_punctuation(raw, language) == text


def test_titles_break_by_sense():
    assert hold_small_words("From the Green Mountains to the Sea") == (
        "From the\N{NO-BREAK SPACE}Green Mountains to\N{NO-BREAK SPACE}the\N{NO-BREAK SPACE}Sea"
    )
    assert hold_small_words("Rome") == "Rome"


def test_a_caption_does_not_end_on_one_short_word():
    assert hold_last_word("The cloud opened and closed.") == (
        "The cloud opened and\N{NO-BREAK SPACE}closed."
    )
    assert hold_last_word("Boats in Donaudampfschifffahrt") == "Boats in Donaudampfschifffahrt"
    assert hold_last_word("Two boats") == "Two boats"
    assert hold_last_word("") == ""
