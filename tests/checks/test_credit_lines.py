"""Credits that licences ask for: Creative Commons Attribution 4.0, 3(a)(1)."""

from dataclasses import replace

import pytest

from tests.checks.reading import only, write_book
from wayfold.checks.rules.credit_lines import find_missing_credits
from wayfold.checks.subject import Subject
from wayfold.photos.model import Credit


def show(colophon: str, credit: Credit) -> Subject:
    """A book with this colophon, and with a picture that says who made it."""
    book = write_book({"colophon": colophon}, {"a": "The quay"})
    return replace(book, photos={"a": replace(book.photos["a"], credit=credit)})


@pytest.mark.parametrize(
    "rights",
    [
        "CC BY 4.0",
        "CC-BY-SA 3.0",
        "https://creativecommons.org/licenses/by/4.0/",
        "Licensed under the Creative Commons Attribution 4.0 International License",
    ],
)
def test_whoever_gave_a_picture_is_named(rights: str) -> None:
    credit = Credit("Ida Holm", rights)
    assert list(find_missing_credits(show("The quay: Ida  Holm, CC BY 4.0.", credit))) == []
    found = only(list(find_missing_credits(show("Made in a kitchen.", credit))))
    assert found.where == "texts/colophon.md" and found.about == "a"
    assert "a.jpg was made by Ida Holm" in found.message


@pytest.mark.parametrize("rights", ["", "© Ida Holm, all rights reserved", "CC0 1.0"])
def test_what_asks_for_no_name_is_left(rights: str) -> None:
    book = show("Made in a kitchen.", Credit("Ida Holm", rights))
    assert list(find_missing_credits(book)) == []
