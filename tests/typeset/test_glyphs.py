"""Signs and languages: what the fonts have, and what is said where they have not."""

from __future__ import annotations

import re
import string
from dataclasses import replace
from pathlib import Path

import pytest

from wayfold.base.errors import UserError
from wayfold.base.findings import Severity
from wayfold.drawing.text import Align, Paragraph, Run, TextBlock
from wayfold.typeset.engine import Typesetter
from wayfold.typeset.fonts import PACKAGED, FontLibrary, read_coverage, read_features
from wayfold.typeset.hyphens import HYPHENATED

# Pangrams and place names, from memory; what matters are the letters of each alphabet.
SAMPLES = {
    "vi": "Hội An, Đà Nẵng, Phú Quốc, Quảng Ngãi, sương mù trên đồng ruộng",
    "is": "Þingvellir, Seyðisfjörður, Kirkjubæjarklaustur, Ísafjörður",
    "lv": "Jūrmala, Ķemeri, Liepāja, Šķēde, Ģipka, Ņurmuiža, Žagare",
    "el": "Ξεσκεπάζω την ψυχοφθόρα βδελυγμία, Ελλάδα, Αθήνα",
    "uk": "Ґанок, Їжак, Єва, Київ, щастя",
    "pl": "Zażółć gęślą jaźń",
    "tr": "İzmir, Iğdır, Şanlıurfa, Çeşme",
}


@pytest.mark.parametrize("language", sorted(SAMPLES))
@pytest.mark.parametrize("italic", [False, True])
def test_european_and_vietnamese_text_has_all_its_letters(
    setter, make_page, make_text, read_letters, body, language, italic
):
    style = replace(body, language=language, italic=italic, align=Align.LEFT, hyphenate=False)
    proof = setter.page_pdf(make_page(make_text(SAMPLES[language], style=style)))
    assert not proof.findings
    read = "".join(one.sign for one in read_letters(proof.pdf)).replace("\ufffe", "")
    assert read.split() == SAMPLES[language].split()


def test_letters_and_marks_written_apart_are_no_finding(setter, make_page, make_text):
    # NFD (Unicode Annex 15): as file names of some systems give them.
    assert not setter.page_pdf(make_page(make_text("Ho\u0302\u0323i An"))).findings


def test_arabic_is_a_finding_that_names_each_letter(setter, make_page, make_text):
    finding, *_ = setter.page_pdf(make_page(make_text("The souk سوق", key="caption 3"))).findings
    assert finding.rule == "glyphs"
    assert finding.severity is Severity.BLOCK
    assert finding.where == "caption 3"
    for name in ("ARABIC LETTER SEEN", "ARABIC LETTER WAW", "ARABIC LETTER QAF", "U+0642"):
        assert name in finding.message


def test_the_warning_agrees_with_typst(setter):
    # PDF/A (ISO 19005-2, 6.2.11.8) allows no missing glyph; Typst refuses such a page.
    assert setter._session.has_sign("א")  # Libertinus Serif has Hebrew
    assert not setter._session.has_sign("س")


def test_a_sign_lent_by_another_family_is_only_a_warning(setter, make_page, make_text):
    finding, *_ = setter.page_pdf(make_page(make_text("Sign א here"))).findings
    assert finding.severity is Severity.WARN
    assert "Libertinus Serif" in finding.message
    lent = sorted(
        read_coverage(PACKAGED / "source-sans-3" / "SourceSans3-400Regular.ttf")
        - read_coverage(PACKAGED / "eb-garamond" / "EBGaramond-400Regular.ttf")
    )
    sign = next(chr(c) for c in lent if chr(c).isalpha())
    (finding,) = setter.page_pdf(make_page(make_text(sign))).findings
    assert finding.severity is Severity.WARN
    assert "Source Sans 3 stands in" in finding.message


def test_a_lost_surrogate_shows_as_the_sign_for_it(setter, make_page, make_text, read_letters):
    # U+FFFD REPLACEMENT CHARACTER (The Unicode Standard, 23.8).
    proof = setter.page_pdf(make_page(make_text("ab\ud800cd")))
    assert "".join(one.sign for one in read_letters(proof.pdf)) == "ab\ufffdcd"


def test_hyphenation_patterns_are_those_typst_has(setter, body):
    words = [
        *("internationalisationen", "dokumentationalistika", "verantwoordelijkheid"),
        *("kokoelmantiloissaan", "predstavnikoveranosti", "ethnographicalise"),
        *("представительство", "переговорыванието", "παραδειγματικότερα"),
        *("საქართველოსათვის", "अंतरराष्ट्रीयकरण", "Հայաստանիհանրապետություն"),
    ]
    codes = [a + b for a in string.ascii_lowercase for b in string.ascii_lowercase]
    blocks = [
        TextBlock(tuple(Paragraph((Run(w),), replace(body, language=c)) for w in words), 9.0)
        for c in codes
    ]
    heights = dict(zip(codes, setter.measure_heights(blocks), strict=True))
    divided = {code for code, height in heights.items() if height > min(heights.values()) + 1.0}
    assert divided == HYPHENATED


@pytest.mark.parametrize(
    ("language", "asked", "said"), [("lv", True, 1), ("lv", False, 0), ("de", True, 0)]
)
def test_missing_hyphenation_is_said_where_it_was_asked(
    setter, make_page, make_text, body, language, asked, said
):
    style = replace(body, language=language, hyphenate=asked)
    findings = setter.page_pdf(make_page(make_text("Liepaja", style=style))).findings
    assert [f.rule for f in findings] == ["hyphenation"] * said


SERIFS = ("EB Garamond", "Spectral", "Alegreya")


@pytest.mark.parametrize("family", SERIFS)
def test_the_serifs_have_what_the_styles_ask_for(family):
    library = FontLibrary([family])
    faces = [face for face in library.faces if face.family == family]
    for face in faces:
        # Registered tags of the OpenType layout features.
        assert {"smcp", "onum", "lnum", "tnum", "pnum", "liga", "case"} <= read_features(face.path)
    assert {(True, 400), (False, 400)} <= {(face.italic, face.weight) for face in faces}


def test_a_library_has_only_what_was_asked_for_besides_the_house():
    assert FontLibrary().families == ("EB Garamond", "Source Sans 3")
    library = FontLibrary(["Alegreya"])
    assert library.families == ("EB Garamond", "Source Sans 3", "Alegreya")
    assert set(library.known) > {"Spectral", "Alegreya Sans"}
    assert library.list_chain("Alegreya")[:2] == ("Alegreya", "EB Garamond")


@pytest.mark.parametrize("family", SERIFS[1:])
@pytest.mark.parametrize("language", ["is", "lv", "pl", "tr", "vi"])
def test_the_other_serifs_have_wide_latin(make_page, make_text, body, language, family):
    setter = Typesetter(FontLibrary([family]))
    for italic in (False, True):
        style = replace(body, family=family, language=language, italic=italic, hyphenate=False)
        assert not setter.page_pdf(make_page(make_text(SAMPLES[language], style=style))).findings


def test_no_fonts_is_an_error_that_says_what_to_do(tmp_path):
    for folder in (tmp_path, tmp_path / "absent", Path(__file__).parent):
        with pytest.raises(UserError, match="fonts are missing") as caught:
            FontLibrary(packaged=folder)
        assert "python -m pip install" in caught.value.remedy


def test_fonts_name_the_licence_that_lies_beside_them(setter):
    licences = setter.read_licences()
    assert set(licences) == set(FontLibrary().families)
    texts = [path.read_text("utf-8") for path in PACKAGED.rglob("LICENSE*")]
    assert texts
    for text in texts:
        assert re.search(r"SIL OPEN FONT LICENSE\s+Version 1\.1", text)
    assert set(licences.values()) == {"SIL Open Font License 1.1"}
