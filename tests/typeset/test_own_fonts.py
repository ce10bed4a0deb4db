"""A person's own fonts: found by family, refused or told of by what their makers allow."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from babel import Locale
from fontTools.ttLib import TTCollection, TTFont

from tests.typeset.fonts_made import SIGNS, make_font
from wayfold.base.errors import UserError
from wayfold.typeset.engine import Typesetter
from wayfold.typeset.fonts import FontLibrary, read_alphabet, read_coverage
from wayfold.typeset.own_fonts import (
    LETTERS,
    judge_own_fonts,
    list_needed,
    refuse_unfit,
)

SMALL_CAPS_AND_FIGURES = """
feature smcp { sub u0061 by u0041; } smcp;
feature onum { sub u0030 by u0031; } onum;
"""


def judge(folder: Path, language: str = "en", serif: str = "Field Notes") -> list[tuple[str, str]]:
    library = FontLibrary([serif], folder)
    found = judge_own_fonts(folder, library, serif, "Source Sans 3", language, lambda p: p.name)
    return [(f.where, f.message) for f in found]


def make_whole_family(folder: Path, **about: object) -> None:
    for italic in (False, True):
        name = "Italic" if italic else "Regular"
        make_font(folder / f"{name}.ttf", italic=italic, features=SMALL_CAPS_AND_FIGURES, **about)


def test_an_own_family_is_set_with(tmp_path, make_page, make_text, body, read_letters):
    make_whole_family(tmp_path)
    setter = Typesetter(FontLibrary(["Field Notes"], tmp_path))
    style = replace(body, family="Field Notes", hyphenate=False)
    proof = setter.page_pdf(make_page(make_text("abc", style=style)))
    assert not proof.findings
    # The widths are the made font's: half an em a letter.
    first, second, _ = read_letters(proof.pdf)
    assert second.x - first.x == pytest.approx(0.5 * 10.5 * 25.4 / 72, abs=0.01)


def test_a_whole_family_leaves_no_doubt(tmp_path):
    make_whole_family(tmp_path)
    assert judge(tmp_path) == []
    assert judge(tmp_path, "de") == []


def test_an_own_family_goes_before_the_packages(tmp_path):
    make_font(tmp_path / "mine.ttf", "EB Garamond")
    library = FontLibrary(own=tmp_path)
    faces = [face for face in library.faces if face.family == "EB Garamond"]
    assert [face.path.name for face in faces] == ["mine.ttf"]


# OpenType 1.9 / ISO/IEC 14496-22, OS/2 fsType: bit 1 restricted, 2 preview and print, 3 editable;
# 8 no subsetting, 9 bitmaps only. Of several usage bits the least restrictive counts.
@pytest.mark.parametrize("rights", [0x0002, 0x0102])
def test_a_restricted_font_is_refused(tmp_path, rights):
    make_font(tmp_path / "kept.ttf", rights=rights)
    with pytest.raises(UserError) as caught:
        refuse_unfit(tmp_path, lambda path: f"fonts/{path.name}")
    assert caught.value.where == "fonts/kept.ttf"
    assert "does not allow" in caught.value.what
    assert "choose another" in caught.value.remedy


@pytest.mark.parametrize("rights", [0x0000, 0x0004, 0x0008, 0x0006, 0x000A])
def test_fonts_that_may_be_embedded_are_taken(tmp_path, rights):
    make_whole_family(tmp_path, rights=rights)
    refuse_unfit(tmp_path, str)
    assert judge(tmp_path) == []


@pytest.mark.parametrize(("rights", "word"), [(0x0104, "only whole"), (0x0204, "bitmaps")])
def test_what_a_font_allows_only_in_part_is_told(tmp_path, rights, word):
    make_whole_family(tmp_path, rights=rights)
    refuse_unfit(tmp_path, str)
    told = judge(tmp_path)
    assert [where for where, _ in told] == ["Italic.ttf", "Regular.ttf"]
    assert all(word in message for _, message in told)


def test_a_font_that_cannot_be_read_is_told(tmp_path):
    make_whole_family(tmp_path)
    whole = (tmp_path / "Regular.ttf").read_bytes()
    (tmp_path / "cut.ttf").write_bytes(whole[:300])
    (tmp_path / "words.otf").write_bytes(b"no font at all")
    (tmp_path / "empty.ttf").write_bytes(b"")
    (tmp_path / "page.woff2").write_bytes(b"wOF2")
    refuse_unfit(tmp_path, str)
    told = dict(judge(tmp_path))
    assert set(told) == {"cut.ttf", "words.otf", "empty.ttf", "page.woff2"}
    assert "web pages" in told.pop("page.woff2")
    assert all("cannot be read" in message for message in told.values())


def test_what_a_family_lacks_is_told(tmp_path):
    make_font(tmp_path / "only.ttf", letters=SIGNS.replace("ß", "").replace("7", ""))
    told = [message for _, message in judge(tmp_path, "de-AT")]
    assert any("no italic" in message for message in told)
    assert any("no small capitals" in message for message in told)
    assert any("no old-style figures" in message for message in told)
    assert any("lacks 7ß" in message for message in told)
    assert any("lacks 7," in message for _, message in judge(tmp_path, "en"))


def test_a_font_of_many_cuts_is_told(tmp_path):
    make_whole_family(tmp_path, weights=(300, 400, 700))
    ((where, message),) = judge(tmp_path)
    assert where == "Field Notes" and "many cuts" in message


def test_a_collection_is_read(tmp_path, make_page, make_text, body):
    # Two fonts in one file (ISO/IEC 14496-22, 4.6.3).
    make_whole_family(tmp_path / "apart")
    collection = TTCollection()
    collection.fonts = [TTFont(path) for path in sorted((tmp_path / "apart").glob("*.ttf"))]
    (tmp_path / "fonts").mkdir()
    collection.save(tmp_path / "fonts" / "both.ttc")
    assert judge(tmp_path / "fonts") == []
    setter = Typesetter(FontLibrary(["Field Notes"], tmp_path / "fonts"))
    style = replace(body, family="Field Notes", hyphenate=False)
    assert not setter.page_pdf(make_page(make_text("abc", style=style))).findings


@pytest.mark.parametrize("language", sorted(LETTERS))
def test_what_a_language_needs_covers_its_months_days_and_languages(language):
    # Unicode CLDR, as Babel has it: names of months and days, and of some languages.
    locale = Locale.parse(language)
    named = [*locale.months["format"]["wide"].values(), *locale.days["format"]["wide"].values()]
    named += [locale.languages[code] for code in ("de", "en", "es", "fr", "pl", "tr")]
    letters = {sign for name in named for sign in name if sign.isalpha()}
    assert letters | {sign.upper() for sign in letters if len(sign.upper()) == 1} <= set(
        list_needed(language)
    ) | {"I", "İ"}


@pytest.mark.parametrize("language", sorted(LETTERS))
@pytest.mark.parametrize("serif", ["EB Garamond", "Spectral", "Alegreya"])
def test_the_packages_serifs_have_what_languages_need(language, serif):
    faces = [f for f in FontLibrary([serif]).faces if f.family == serif]
    for face in faces:
        assert {ord(sign) for sign in list_needed(language)} <= read_coverage(face.path)


def test_a_family_that_is_not_used_is_not_judged(tmp_path):
    make_font(tmp_path / "only.ttf")
    assert judge(tmp_path, serif="EB Garamond") == []


def test_the_key_changes_with_the_files(tmp_path):
    before = FontLibrary(own=tmp_path).key
    make_font(tmp_path / "a.ttf")
    first = FontLibrary(own=tmp_path).key
    make_font(tmp_path / "a.ttf", width=520)
    assert len({before, first, FontLibrary(own=tmp_path).key}) == 3
    assert FontLibrary(["Spectral"]).key != FontLibrary().key == before


def test_an_alphabet_is_as_wide_as_its_letters(tmp_path):
    assert read_alphabet(make_font(tmp_path / "a.ttf", width=400)) == pytest.approx(26 * 0.4)
