"""A book's style and fonts as the app takes them up: found, refused, doubted, and in the keys."""

from __future__ import annotations

from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.typeset.fonts_made import make_font
from wayfold.app.fonts import open_typesetter
from wayfold.app.made import inputs_key
from wayfold.app.make import make_book
from wayfold.app.measuring import KeptMeasurer
from wayfold.app.style_doubts import count_letters, doubt_style
from wayfold.base.errors import UserError
from wayfold.base.progress import NoProgress
from wayfold.base.units import mm_from_pt
from wayfold.drawing.text import Paragraph, Run, TextBlock
from wayfold.project.cache import NumberCache
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book
from wayfold.project.style_files import list_styles
from wayfold.typeset.fonts import FontLibrary
from wayfold.words.styles import style_body


def write_book(root: Path, lines: str) -> BookFolder:
    (root / "book.toml").write_text(f'version = 1\n{lines}\n[book]\ntitle = "T"\n', "utf-8")
    return BookFolder(root)


def list_doubts(folder: BookFolder) -> list[tuple[str, str]]:
    library = open_typesetter(folder).fonts
    found = doubt_style(load_book(folder).book, folder, library)
    return [(finding.rule, finding.message) for finding in found]


def test_letters_of_a_line_as_the_copyfitting_table_has_them():
    # R. Bringhurst, The Elements of Typographic Style, table of copyfitting: an alphabet of 130 pt
    # sets 66 letters in 26 picas (312 pt); one of 141 pt in 119.2 mm as well.
    assert count_letters(mm_from_pt(312.0), 10.0, 13.0) == pytest.approx(66.0, abs=0.1)
    assert count_letters(119.2, 11.0, 141 / 11) == pytest.approx(66.0, abs=0.2)


@pytest.mark.parametrize("name", [entry.style.name for entry in list_styles()])
@pytest.mark.parametrize(("width", "height"), [(210, 297), (148, 210), (152.4, 228.6), (210, 210)])
def test_shipped_styles_have_45_to_75_letters_a_line(tmp_path, name, width, height):
    # The range of the same book, ch. 2; ``doubt_style`` holds the style's own measure to it.
    folder = write_book(tmp_path, f'style = "{name}"\n[page]\nwidth_mm={width}\nheight_mm={height}')
    assert list_doubts(folder) == []


@pytest.mark.parametrize(("measure", "letters"), [(40, 26), (60, 39)])
def test_a_measure_too_short_is_doubted(tmp_path, measure, letters):
    folder = write_book(tmp_path, f"[style]\ntext_measure_mm = {measure}")
    ((rule, message),) = list_doubts(folder)
    assert rule == "style"
    assert f"about {letters} letters" in message


def test_faint_ink_is_doubted(tmp_path):
    # WCAG 2.2: #777777 has 4.48 to 1 on white, #767676 has 4.54.
    assert list_doubts(write_book(tmp_path, '[style]\nquiet_ink = "#767676"')) == []
    ((_, message),) = list_doubts(write_book(tmp_path, '[style]\nquiet_ink = "#777777"'))
    assert "4.5" in message


def test_an_own_family_is_found_and_its_gaps_are_told(tmp_path):
    make_font(tmp_path / "fonts" / "deep" / "notes.ttf")
    folder = write_book(tmp_path, '[style]\nserif = "Field Notes"')
    assert "Field Notes" in open_typesetter(folder).fonts.families
    assert any("no italic" in message for _, message in list_doubts(folder))


@pytest.mark.parametrize(
    ("in_style", "in_book", "where"),
    [
        ("", '[style]\nserif = "Nowhere Roman"', "book.toml, style.serif"),
        ('sans = "Nowhere Roman"', 'style = "own"', "styles/own/style.toml, sans"),
    ],
)
def test_a_family_that_is_nowhere_is_refused(tmp_path, in_style, in_book, where):
    own = tmp_path / "styles" / "own"
    own.mkdir(parents=True)
    (own / "style.toml").write_text(f'version = 1\nabout = "A"\n{in_style}\n', "utf-8")
    with pytest.raises(UserError) as caught:
        open_typesetter(write_book(tmp_path, in_book))
    assert caught.value.where == where
    assert "Nowhere Roman" in caught.value.what
    assert "Alegreya" in caught.value.remedy and "fonts/" in caught.value.remedy


def test_a_restricted_font_stops_the_work(tmp_path):
    make_font(tmp_path / "fonts" / "kept.ttf", rights=2)
    with pytest.raises(UserError) as caught:
        open_typesetter(write_book(tmp_path, ""))
    assert caught.value.where == "fonts/kept.ttf"


def test_what_was_measured_with_another_font_is_not_taken(tmp_path):
    folder = write_book(tmp_path, '[style]\nserif = "Field Notes"')
    text = Run("Twelve words of one line, or of two where letters are wide.")
    heights = []
    for width in (300, 700):
        make_font(folder.fonts / "notes.ttf", width=width)
        block = TextBlock((Paragraph((text,), style_body(load_book(folder).book)),), 100.0)
        kept = KeptMeasurer(open_typesetter(folder), NumberCache(folder.cache, "measures"))
        heights += kept.measure_heights([block])
    assert heights[1] > 1.5 * heights[0]


def test_a_make_begins_anew_when_style_or_fonts_change(tmp_path):
    folder = write_book(tmp_path, "")
    book = load_book(folder).book
    keys = {inputs_key(folder, book.photographs)}
    own = tmp_path / "styles" / "own" / "style.toml"
    own.parent.mkdir(parents=True)
    own.write_text('version = 1\nabout = "A"\n', "utf-8")
    keys.add(inputs_key(folder, book.photographs))
    own.write_text('version = 1\nabout = "B"\n', "utf-8")
    keys.add(inputs_key(folder, book.photographs))
    make_font(tmp_path / "fonts" / "a.ttf")
    keys.add(inputs_key(folder, book.photographs))
    assert len(keys) == 4


def test_styles_that_name_families_of_the_package_have_their_fonts():
    for entry in list_styles():
        families = (entry.style.serif, entry.style.sans)
        assert set(families) <= set(FontLibrary(families).families)


def test_a_whole_book_in_another_style_is_set_in_its_type(book: Path) -> None:
    path = book / "book.toml"
    path.write_text(path.read_text("utf-8").replace('style = "garden"', 'style = "hearth"'))
    report = make_book(book, NoProgress())
    assert not report.nothing_to_do
    families = set()
    for page in PdfReader(book / "out" / "reading.pdf").pages:
        for font in page.get("/Resources", {}).get("/Font", {}).values():
            # ISO 32000-2, 9.9.2: a subset's name follows a tag of six letters.
            families.add(font.get_object()["/BaseFont"].split("+")[-1].split("-")[0])
    assert families == {"Alegreya", "AlegreyaSans"}
    assert [f for f in report.findings if f.rule in ("fonts", "style", "glyphs")] == []
