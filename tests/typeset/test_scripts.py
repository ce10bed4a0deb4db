"""Alphabets: what the fonts draw, what is set in place of what they do not, what is said."""

from __future__ import annotations

import unicodedata
from dataclasses import replace

import pytest
from fontTools.ttLib import TTFont

from wayfold.base.errors import UserError
from wayfold.base.findings import Severity
from wayfold.base.geometry import Rect
from wayfold.drawing.text import Align, Paragraph, Run, TextBlock
from wayfold.typeset.fonts import PACKAGED, read_small_capitals
from wayfold.typeset.letters import find_direction

GARAMOND = PACKAGED / "eb-garamond" / "EBGaramond-400Regular.ttf"
# Place names, from memory; what matters are the letters of each alphabet.
NAMES = {
    "vi": "Hội An, Quảng Ngãi, Nước Mặn",
    "is": "Þingvellir, Seyðisfjörður, Kirkjubæjarklaustur",
    "lv": "Jūrmala, Ķemeri, Šķēde, Ņurmuiža, Ģipka",
    "el": "Ελλάδα, Θεσσαλονίκη, Ύδρα",
}
SOUK = "سوق الحميدية"


def read_small_capital_glyphs():
    """The glyphs that the font itself substitutes for small capitals, read here anew."""
    with TTFont(GARAMOND) as font:
        table = font["GSUB"].table
        lookups = {
            i
            for record in table.FeatureList.FeatureRecord
            if record.FeatureTag == "smcp"
            for i in record.Feature.LookupListIndex
        }
        parts = [p for i in lookups for p in table.LookupList.Lookup[i].SubTable]
        return {k for p in parts for k in getattr(getattr(p, "ExtSubTable", p), "mapping", {})}


def test_small_capitals_are_those_that_the_font_substitutes():
    glyphs = read_small_capital_glyphs()
    with TTFont(GARAMOND) as font:
        names = font.getBestCmap()
    drawn = read_small_capitals(GARAMOND)
    assert drawn == {code for code, name in names.items() if name in glyphs}
    assert {ord(c) for c in "aßþðžķ"} <= drawn
    assert ord("ộ") not in drawn


@pytest.mark.parametrize("language", sorted(NAMES))
@pytest.mark.parametrize("small_caps", [False, True])
def test_every_letter_shows_in_every_dress(
    setter, make_page, make_text, read_letters, body, language, small_caps
):
    style = replace(body, language=language, align=Align.LEFT, hyphenate=False)
    style = replace(style, small_caps=small_caps, tracking=80.0 if small_caps else 0.0)
    proof = setter.page_pdf(make_page(make_text(NAMES[language], style=style)))
    assert not proof.findings
    read = "".join(one.sign for one in read_letters(proof.pdf) if not one.sign.isspace())
    bare = unicodedata.normalize("NFD", NAMES[language].replace(" ", "")).casefold()
    read = unicodedata.normalize("NFD", read).casefold()
    # Greek capitals go without their accents.
    if small_caps and language == "el":
        bare = "".join(c for c in bare if not unicodedata.combining(c))
        read = "".join(c for c in read if not unicodedata.combining(c))
    assert read == bare


@pytest.mark.parametrize(
    ("text", "language", "capitals"),
    [
        ("Seyðisfjörður", "is", ""),
        ("Jūrmala", "lv", ""),
        ("Hội An", "vi", "HỘI AN"),
        ("Київ", "uk", "КИЇВ"),
        ("Θεσσαλονίκη", "el", ""),
        ("ᾠδή", "el", "ΩΙΔΗ"),
    ],
)
def test_a_line_whose_small_capitals_are_not_drawn_stands_in_capitals(
    setter, body, text, language, capitals
):
    """No ordinary small letters among small capitals: all stand equally high, or all are small."""
    style = replace(body, small_caps=True, language=language, hyphenate=False)
    plain = replace(style, small_caps=False)
    (wide,) = setter.measure_widths([Paragraph((Run(text),), style)])
    raised = Paragraph((Run(capitals or text.upper()),), replace(plain, size_pt=10.5 * 0.78))
    (want,) = setter.measure_widths([raised])
    assert (wide == pytest.approx(want, rel=0.001)) is bool(capitals)


def test_arabic_with_the_books_fonts_blocks_and_is_told_in_words(setter, make_page, make_text):
    findings = setter.page_pdf(make_page(make_text(f"The souk {SOUK}", key="caption 3"))).findings
    assert [(f.rule, f.severity, f.where) for f in findings] == [
        ("glyphs", Severity.BLOCK, "caption 3"),
        ("right-to-left", Severity.NOTE, "caption 3"),
    ]
    assert "Arabic writing" in findings[1].message


@pytest.mark.parametrize(
    ("text", "direction"),
    # Unicode Standard Annex 9, rules P2 and P3: the first strong character decides.
    [("", "ltr"), ("12, …", "ltr"), ("The souk سوق", "ltr"), ("سوق 12", "rtl"), ("(א) ab", "rtl")],
)
def test_the_first_letter_decides_which_way_a_paragraph_runs(text, direction):
    assert find_direction(text) == direction


def test_a_hebrew_sentence_ends_with_its_stop_at_the_left(
    setter, make_page, make_text, read_letters, body
):
    """Libertinus Serif, inside Typst, has Hebrew; the paragraph stands in an English book."""
    style = replace(body, align=Align.LEFT, hyphenate=False)
    proof = setter.page_pdf(make_page(make_text("שלום עולם.", style=style)))
    letters = [one for one in read_letters(proof.pdf) if not one.sign.isspace()]
    assert min(letters, key=lambda one: one.left).sign == "."
    assert max(letters, key=lambda one: one.left).sign == "ש"


def test_a_last_line_of_hebrew_ends_at_the_left(
    setter, make_page, make_text, read_letters, group_lines, body
):
    box = Rect(20.0, 20.0, 60.0, 200.0)
    text = " ".join(["שלום עולם"] * 9)
    proof = setter.page_pdf(make_page(make_text(text, style=body, box=box)))
    *_, last = group_lines([c for c in read_letters(proof.pdf) if not c.sign.isspace()])
    assert last[-1].right == pytest.approx(box.right, abs=0.6)
    assert last[0].left > box.x + 5.0


def test_an_unknown_family_is_an_error_that_names_those_there_are(setter, body):
    block = TextBlock((Paragraph((Run("Once."),), replace(body, family="Futhark Grotesk")),), 80.0)
    with pytest.raises(UserError, match="no font family “Futhark Grotesk”") as caught:
        setter.measure_heights([block])
    assert "EB Garamond, Source Sans 3" in caught.value.remedy


@pytest.mark.parametrize("language", sorted(NAMES))
def test_text_too_long_for_its_box_shows_whole_and_blocks(
    setter, make_page, make_text, read_letters, body, language
):
    text = " ".join([NAMES[language]] * 12)
    style = replace(body, language=language, hyphenate=False)
    box = Rect(20.0, 20.0, 60.0, 12.0)
    proof = setter.page_pdf(make_page(make_text(text, style=style, box=box)))
    (finding,) = proof.findings
    assert (finding.rule, finding.severity) == ("overset", Severity.BLOCK)
    letters = read_letters(proof.pdf)
    read = "".join(c.sign for c in letters if not c.sign.isspace())
    assert unicodedata.normalize("NFC", read) == text.replace(" ", "")
    # The finding's number is the one that can be measured on the page.
    over = float(finding.message.split("is ")[1].split(" mm")[0])
    lowest = max(c.baseline for c in letters)
    assert over == pytest.approx(lowest - box.bottom, abs=1.5)
