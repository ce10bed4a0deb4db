"""The colophon the book writes itself: only what is known, each thing once."""

from dataclasses import replace
from datetime import date

import pytest
from babel.dates import format_date

from wayfold.book.materials import Printer
from wayfold.book.state import Book
from wayfold.photos.model import Credit, Photo, SizePx
from wayfold.plan.model import EndRole, Interleaf, InterleafEnd, Plan, PlannedPage
from wayfold.story.model import Alternative, Block, BlockKind, Story
from wayfold.words.colophon import draft_colophon, list_credits, write_colophon
from wayfold.words.write import write_words

BOOK = Book("B", author="Ines Calder", finished=date(2026, 11, 29))
OFL = "SIL Open Font License 1.1"
LICENCES = {"EB Garamond": OFL, "Source Sans 3": OFL}


def tell(book=BOOK, credits=(), *, families=("EB Garamond", "Source Sans 3"), leaves=False):
    paragraphs = write_colophon(book, families, LICENCES, credits, with_leaves=leaves)
    return [p.plain.replace("\N{NO-BREAK SPACE}", " ") for p in paragraphs]


def test_each_thing_has_its_line_in_order():
    assert tell(leaves=True) == [
        "Text and photographs: Ines Calder.",
        "Set in EB Garamond & Source Sans 3 (SIL Open Font License 1.1).",
        "Printed on double-sided matte, A3+, 190 g/m².",
        "Translucent leaves: translucent paper, A3+, 112 g/m².",
        "Printer: A3+ inkjet.",
        "Folded, sewn and cased in by hand.",
        "Finished on 29 November 2026.",
    ]


def test_what_is_not_known_or_not_there_has_no_line():
    book = replace(BOOK, author="", finished=None, printer=Printer(name=" "))
    assert [line.split(" ")[0] for line in tell(book)] == ["Set", "Printed", "Folded,"]


@pytest.mark.parametrize("language", ["en", "de", "fr", "it", "es"])
def test_the_date_has_the_form_of_its_language(language):
    """The long date of the Unicode CLDR, as Babel carries it."""
    last = tell(replace(BOOK, language=language))[-1]
    locale = "en_GB" if language == "en" else language
    want = format_date(date(2026, 11, 29), "long", locale=locale)
    assert want in last and last.endswith(f"{want}.")


def test_makers_are_named_once_with_rights_that_say_more():
    credits = [
        Credit("Jo Marsh", "© 2025 Jo Marsh. All rights reserved."),
        Credit("jo marsh", "CC BY 4.0"),
        Credit("Ines Calder", "Copyright Ines Calder 2024-2025"),
        Credit("", "© Parish of San Juan"),
        Credit("Jo Marsh", "CC BY 4.0"),
    ]
    assert list_credits(BOOK, credits) == {
        "© Parish of San Juan": [],
        "Ines Calder": [],
        "Jo Marsh": ["CC BY 4.0"],
    }
    assert tell(credits=credits)[:2] == [
        "Text: Ines Calder.",
        "Photographs: Ines Calder; Jo Marsh, CC BY 4.0; © Parish of San Juan.",
    ]


def test_an_author_who_took_all_pictures_is_named_for_both():
    credits = [Credit("INES CALDER", "© Ines Calder"), Credit("Ines Calder", "")]
    assert tell(credits=credits)[0] == "Text and photographs: Ines Calder."
    assert tell(replace(BOOK, author=""), credits)[0] == "Photographs: INES CALDER."


def test_no_stop_is_set_twice():
    assert tell(credits=[Credit("Marsh & Co.")])[1] == "Photographs: Marsh & Co."


def test_families_of_one_licence_stand_together():
    lines = tell(families=("EB Garamond", "Own Face", "Source Sans 3"))
    assert lines[1] == f"Set in EB Garamond & Source Sans 3 ({OFL}), Own Face."


PHOTOS = {
    name: Photo(name, name, f"/{name}.jpg", SizePx(3, 2), credit=credit)
    for name, credit in (("a", Credit("Jo Marsh")), ("b", Credit("Nobody Shown")))
}
BLOCKS = (
    Block("single:a", BlockKind.SINGLE, (Alternative(1),), None, ("a",)),
    Block("colophon", BlockKind.COLOPHON, (Alternative(1),), text="colophon"),
)
PLAN = Plan(tuple(PlannedPage(i, b.id) for i, b in enumerate(BLOCKS, start=1)), ())


def write(book=BOOK, plan=PLAN, blocks=BLOCKS):
    return write_words(book, Story((), blocks), plan, PHOTOS, licences=LICENCES)


def plain(words):
    return [p.plain.replace("\N{NO-BREAK SPACE}", " ") for p in words.get("colophon")]


def test_only_pictures_and_type_that_the_book_shows_are_named():
    lines = plain(write())
    assert lines[1] == "Photographs: Jo Marsh."
    # No day line and no map: nothing is set in the sans.
    assert lines[2] == f"Set in EB Garamond ({OFL})."
    dated = (replace(BLOCKS[0], day=date(2025, 5, 12)), BLOCKS[1])
    assert plain(write(blocks=dated))[2] == f"Set in EB Garamond & Source Sans 3 ({OFL})."
    mapped = (Block("overview", BlockKind.OVERVIEW, (Alternative(2),)), *BLOCKS)
    assert plain(write(blocks=mapped))[2] == f"Set in EB Garamond & Source Sans 3 ({OFL})."


def test_leaves_are_named_where_the_plan_has_some():
    ends = (InterleafEnd(1, EndRole.WANTED, 1), InterleafEnd(2, EndRole.STUB, None))
    veiled = replace(PLAN, interleaves=(Interleaf(1, 1, ends),))
    assert not any("Translucent" in line for line in plain(write()))
    assert any("Translucent" in line for line in plain(write(plan=veiled)))


def test_the_draft_is_never_shorter():
    drafted = draft_colophon(BOOK, [p.credit for p in PHOTOS.values() if p.credit])
    assert len("".join(p.plain for p in drafted)) >= len("".join(plain(write())))


def test_a_colophon_of_ones_own_that_leaves_a_maker_out_is_told():
    own = replace(BOOK, texts={"colophon": "Made at home."})
    (finding,) = (f for f in write(own).findings if f.rule == "words.credit")
    assert (finding.severity, finding.where) == ("note", "texts/colophon.md")
    assert "Jo Marsh" in finding.message and "Nobody" not in finding.message
    for text in ("Photographs by Jo Marsh.", "Pictures: jo *Marsh*"):
        told = write(replace(BOOK, texts={"colophon": text}))
        assert "words.credit" not in {f.rule for f in told.findings}
