"""All words of a small book."""

from dataclasses import replace
from datetime import date

import pytest
from babel import Locale, localedata

from wayfold.base.errors import UserError
from wayfold.book.state import Book, PhotoChoice
from wayfold.photos.model import Photo, SizePx
from wayfold.plan.model import Plan, PlannedPage
from wayfold.story.model import Alternative, Block, BlockKind, Chapter, Story
from wayfold.words.write import write_words

K = BlockKind
ONE = (Alternative(1),)
PHOTOS = {
    "a": Photo("a", "a", "/a.jpg", SizePx(3, 2), caption="From the file's own words"),
    "b": Photo("b", "b", "/b.jpg", SizePx(3, 2), caption="Not wanted"),
    "c": Photo("c", "c", "/c.jpg", SizePx(3, 2)),
}
CHAPTERS = (
    Chapter(
        *("Zumaia", "By the sea", "Spain", date(2025, 5, 12), date(2025, 5, 15), "#bbccdd"),
        place="Zumaia",
    ),
    Chapter("On the Way to Rome", "", "", None, None),
)
BLOCKS = (
    Block("half-title", K.HALF_TITLE, ONE),
    Block("foreword", K.FOREWORD, ONE, text="foreword"),
    Block("contents", K.CONTENTS, ONE),
    Block("opener:0", K.OPENER, ONE, 0),
    Block("text:0", K.TEXT, ONE, 0, text="sea"),
    Block("group:a", K.GROUP, ONE, 0, ("a", "b", "c"), day=date(2025, 5, 14)),
    Block("opener:1", K.OPENER, ONE, 1),
    Block("colophon", K.COLOPHON, ONE, text="colophon"),
)
PLAN = Plan(tuple(PlannedPage(i, b.id) for i, b in enumerate(BLOCKS, start=1)), ())


def write(**changes):
    book = Book(
        title='The "Green" Mountains',
        **{
            "author": "Ines Calder",
            "texts": {"foreword": "Once.", "sea": "The sea.", "closing": "Home.", "odd": "Lost."},
            "choices": {"b": PhotoChoice(caption=""), "c": PhotoChoice(caption="It's - ours")},
            **changes,
        },
    )
    return write_words(book, Story(CHAPTERS, BLOCKS), PLAN, PHOTOS)


def plain(words, key) -> list[str]:
    return [p.plain.replace("\N{NO-BREAK SPACE}", " ") for p in words.get(key)]


def test_contents_carry_the_pages_of_the_plan():
    contents = write().get("contents")
    assert contents[0].plain == "Contents"
    lines = [[r.text for r in p.runs] for p in contents[1:]]
    assert lines == [
        ["Foreword", "", "2"],
        ["Zumaia", "", "4"],
        ["On the Way to Rome", "", "7"],
    ]
    assert all(p.runs[1].leader for p in contents[1:])
    assert all(p.style.figures == "tabular-old-style" for p in contents[1:])


def test_contents_name_the_place_of_a_chapter_whose_title_does_not():
    named = replace(CHAPTERS[0], title="Sand and Low Water")
    words = write_words(Book("T"), Story((named, CHAPTERS[1]), BLOCKS), PLAN, PHOTOS)
    lines = [[r.text for r in p.runs] for p in words.get("contents")[1:]]
    assert lines[1] == ["Sand and Low Water", "\N{EM SPACE}Zumaia", "", "4"]
    assert lines[2] == ["On the Way to Rome", "", "7"]


def test_openers_say_where_and_when_in_an_accent_that_reads():
    title, subtitle, line = write().get("opener:0")
    assert (title.plain, title.style.size_pt, title.style.italic) == ("Zumaia", 34.0, False)
    assert (subtitle.plain, subtitle.style.italic) == ("By the sea", True)
    assert line.plain.replace("\N{NO-BREAK SPACE}", " ") == "Spain, 12–15 May 2025"
    assert line.style.small_caps and line.style.tracking == 80.0
    assert line.style.colour.hex != "#bbccdd"
    # A chapter of which neither country nor dates are known has its title alone.
    assert len(write().get("opener:1")) == 1


def test_captions_come_from_the_person_before_the_file():
    words = write()
    assert plain(words, "caption:a") == ["From the file’s own words"]
    assert words.get("caption:b") == ()
    assert plain(words, "caption:c") == ["It’s – ours"]
    style = words.get("caption:a")[0].style
    assert (style.size_pt, style.leading_pt, style.italic) == (8.6, 11.5, True)


@pytest.mark.parametrize(
    ("language", "line"),
    [("en", "Day 3      14 May 2025"), ("de", "Tag 3      14. Mai 2025")],
)
def test_day_lines_count_from_the_first_day(language, line):
    (day,) = write(language=language).get("day:2025-05-14")
    assert day.plain.replace("\N{NO-BREAK SPACE}", " ") == line
    assert day.style.family == "Source Sans 3" and day.style.capitals


def test_titles_and_what_nobody_wrote():
    words = write()
    assert plain(words, "title") == ["The “Green” Mountains"]
    assert plain(words, "author") == ["Ines Calder"]
    assert words.get("subtitle") == ()
    assert "subtitle" not in words.paragraphs
    assert write(author=" ").get("author") == ()


def test_colophon_names_type_and_paper_unless_written():
    lines = plain(write(), "colophon")
    assert lines[0] == "Text and photographs: Ines Calder."
    assert any("EB Garamond" in line for line in lines)
    assert any("190 g/m²" in line for line in lines)
    assert plain(write(texts={"colophon": "Made at home."}), "colophon") == ["Made at home."]


def test_texts_nobody_shows_and_unknown_languages_are_findings():
    findings = write(language="pl").findings
    assert {(f.rule, f.where) for f in findings} == {
        ("words.language", "book.toml, language"),
        ("words.unused-text", "texts/closing.md"),
        ("words.unused-text", "texts/odd.md"),
    }


def test_books_that_open_from_the_right_are_warned_of():
    """The languages are those the Unicode CLDR writes from right to left, as Babel carries it."""
    bare = {code for code in localedata.locale_identifiers() if "_" not in code}
    right = {code for code in bare if Locale.parse(code).character_order == "right-to-left"}
    warned = {
        code
        for code in bare
        if "words.direction" in {f.rule for f in write(language=code).findings}
    }
    assert warned <= right
    assert warned >= {"ar", "ckb", "dv", "fa", "he", "ks", "ps", "sd", "syr", "ug", "ur", "yi"}
    (finding,) = (f for f in write(language="he-IL").findings if f.rule == "words.direction")
    assert (finding.severity, finding.where) == ("warn", "book.toml, language")


def test_display_type_shrinks_with_the_page():
    small = write(trim=Book("B").trim.__class__(148.0, 210.0)).get("title")[0].style
    assert small.size_pt == 24.0


def test_captions_and_titles_cannot_have_footnotes():
    with pytest.raises(UserError, match=r"caption cannot have a footnote \(\[\^1\]\)") as caught:
        write(choices={"c": PhotoChoice(caption="The quay[^1]")})
    assert caught.value.where == "photos.toml, photo.c, caption"
    named = replace(CHAPTERS[0], title="Zumaia[^1]")
    with pytest.raises(UserError, match="A title cannot have a footnote"):
        write_words(Book("T"), Story((named, CHAPTERS[1]), BLOCKS), PLAN, PHOTOS)
