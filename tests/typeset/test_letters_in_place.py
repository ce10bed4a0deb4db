"""Where letters stand, against HarfBuzz (uharfbuzz), read back from the PDF by PDFium."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
import uharfbuzz as hb

from wayfold.base.geometry import Rect
from wayfold.base.units import mm_from_pt, pt_from_mm
from wayfold.drawing.text import Align, Figures, Paragraph, Run, TextBlock
from wayfold.typeset.fonts import PACKAGED, FontLibrary

LONG = (
    "The road went down to the harbour, and the boats lay waiting in the early light; we counted "
    "the stones of the mole, “forty-one,” she said, and nobody contradicted. By noon the wind had "
    "turned, and the nets were mended on the quay by people who had done it ten thousand times. "
)


def shape(path, text, **features):
    face = hb.Face(hb.Blob.from_file_path(str(path)))
    font, buffer = hb.Font(face), hb.Buffer()
    buffer.add_str(text)
    buffer.guess_segment_properties()
    hb.shape(font, buffer, features)
    names = [font.glyph_to_string(info.codepoint) for info in buffer.glyph_infos]
    return names, [p.x_advance / face.upem for p in buffer.glyph_positions]


@pytest.mark.parametrize(
    ("change", "features"),
    [
        ({}, {"onum": True, "pnum": True}),
        ({"figures": Figures.LINING}, {"lnum": True, "pnum": True}),
        ({"figures": Figures.TABULAR_OLD_STYLE}, {"onum": True, "tnum": True}),
        ({"small_caps": True}, {"onum": True, "pnum": True, "smcp": True}),
        ({"italic": True}, {"onum": True, "pnum": True}),
        ({"tracking": 80.0}, {"onum": True, "pnum": True, "liga": False}),
        (
            {"family": "Source Sans 3", "figures": Figures.LINING},
            {"lnum": True, "pnum": True},
        ),
    ],
)
def test_letters_stand_where_harfbuzz_puts_them(
    setter, make_page, make_text, read_letters, body, change, features
):
    style = replace(body, align=Align.LEFT, hyphenate=False, **change)
    text = "Harbour, 1471: Average Wool"
    page = make_page(make_text(text, style=style))
    letters = read_letters(setter.page_pdf(page).pdf)
    face = FontLibrary().find_face(style.family, style.italic, style.weight)
    _, advances = shape(face.path, text, **features)
    assert len(letters) == len(advances) == len(text)
    pen = 20.0
    for letter, advance in zip(letters, advances, strict=True):
        assert letter.x == pytest.approx(pen, abs=0.005)
        pen += mm_from_pt((advance + style.tracking / 1000) * style.size_pt)


def test_small_caps_are_the_fonts_own():
    # The case above could pass for a font without small caps; this one has them by name.
    path = PACKAGED / "eb-garamond" / "EBGaramond-400Regular.ttf"
    names, _ = shape(path, "bay", smcp=True)
    assert names == ["b.sc", "a.sc", "y.sc"]


def test_old_style_and_lining_figures_differ():
    path = PACKAGED / "eb-garamond" / "EBGaramond-400Regular.ttf"
    assert shape(path, "14", onum=True)[0] != shape(path, "14", lnum=True)[0]


def test_spaced_letters_carry_no_space_after_the_last(
    setter, make_page, make_text, read_letters, body
):
    style = replace(body, align=Align.RIGHT, hyphenate=False, tracking=200.0)
    plain = replace(style, tracking=0.0)
    ends = [
        read_letters(setter.page_pdf(make_page(make_text("HILL", style=s))).pdf)[-1].right
        for s in (style, plain)
    ]
    assert ends[0] == pytest.approx(ends[1], abs=0.01)


def test_baselines_lie_on_the_grid_whatever_stands_in_a_line(
    setter, make_page, make_text, read_letters, group_lines, body
):
    # A line's box is the leading; the first baseline is first_baseline_pt under the box's top.
    runs = (
        Run(LONG),
        Run("Then the ship came in ", italic=True),
        Run("ten o’clock", small_caps=True),
    )
    mixed = Paragraph((*runs, Run(" Ελλάδα, Þingvellir, Ứ "), Run(LONG)), body)
    after = Paragraph((Run(LONG),), replace(body, first_indent_pt=10.5))
    lines = group_lines(read_letters(setter.page_pdf(make_page(make_text(mixed, after))).pdf))
    assert len(lines) > 8
    for number, line in enumerate(lines):
        expected = 20.0 + mm_from_pt(15.0 - 10.5 / 4 + number * 15.0)
        assert line[0].baseline == pytest.approx(expected, abs=0.005)


def test_justified_lines_fill_the_measure_and_the_last_does_not(
    setter, make_page, make_text, read_letters, group_lines, body
):
    lines = group_lines(read_letters(setter.page_pdf(make_page(make_text(LONG))).pdf))
    for line in lines[:-1]:
        letters = [one for one in line if one.sign not in " "]
        assert letters[0].x == pytest.approx(20.0, abs=0.01)
        # Stops and hyphens hang by up to their own width.
        assert 131.7 <= letters[-1].right <= 132.0 + mm_from_pt(10.5 * 0.35)
    assert lines[-1][-1].right < 131.0


def test_hyphens_hang_beyond_the_measure(
    setter, make_page, make_text, read_letters, group_lines, body
):
    words = "internationally incomprehensibilities characteristically " * 6
    narrow = make_text(words, box=Rect(20, 20, 40, 200))
    lines = group_lines(read_letters(setter.page_pdf(make_page(narrow)).pdf))
    hyphens = [line[-1] for line in lines if line[-1].sign in "-\u00ad\u2010\x02\ufffe"]
    assert hyphens
    assert any(one.right > 60.0 + 0.2 for one in hyphens)


def test_first_indent_and_space_before(
    setter, make_page, make_text, read_letters, group_lines, body
):
    second = Paragraph((Run("Second"),), replace(body, first_indent_pt=10.5, space_before_pt=6))
    lines = group_lines(read_letters(setter.page_pdf(make_page(make_text("First", second))).pdf))
    assert lines[1][0].x - lines[0][0].x == pytest.approx(mm_from_pt(10.5), abs=0.05)
    step = pt_from_mm(lines[1][0].baseline - lines[0][0].baseline)
    assert step == pytest.approx(21.0, abs=0.01)


def test_space_before_the_first_paragraph_of_a_block_is_dropped(setter, body):
    style = replace(body, space_before_pt=30.0)
    block = TextBlock((Paragraph((Run("One line"),), style),), 100.0)
    assert setter.measure_heights([block])[0] == pytest.approx(mm_from_pt(15.0))


def test_leader_dots_stand_in_columns_and_stop_an_em_before_the_number(
    setter, make_page, make_text, read_letters, group_lines, body
):
    style = replace(body, align=Align.LEFT, hyphenate=False, figures=Figures.TABULAR_OLD_STYLE)
    rows = [("Foreword", "5"), ("The long way round the bay", "17"), ("Isles", "104")]
    paragraphs = [Paragraph((Run(a), Run(leader=True), Run(b)), style) for a, b in rows]
    lines = group_lines(read_letters(setter.page_pdf(make_page(make_text(*paragraphs))).pdf))
    assert len(lines) == 3
    em = mm_from_pt(10.5)
    columns = []
    for line, (title, number) in zip(lines, rows, strict=True):
        dots = [one for one in line if one.sign == "."]
        figures = line[-len(number) :]
        assert "".join(one.sign for one in figures) == number
        assert em - 0.05 <= figures[0].x - dots[-1].right <= 2 * em
        assert dots[0].left - next(o for o in line if o.sign == title[-1]).right >= 0.4 * em
        assert figures[-1].x < 132.0
        columns.append([132.0 - dot.x for dot in dots])
        for a, b in pairwise(dots):
            assert b.x - a.x == pytest.approx(0.55 * em, abs=0.01)
    # Counted from the right end of the measure, every dot of every line is on one grid.
    for place in (place for column in columns for place in column):
        steps = (place - columns[0][0]) / (0.55 * em)
        assert steps == pytest.approx(round(steps), abs=0.01)


def test_centred_right_and_vertical(setter, make_page, make_text, read_letters, body):
    from wayfold.drawing.text import VerticalAlign

    style = replace(body, align=Align.CENTER, hyphenate=False)
    text = make_text("HOH", style=style, box=Rect(20, 20, 100, 100))
    letters = read_letters(setter.page_pdf(make_page(text)).pdf)
    assert (letters[0].left + letters[-1].right) / 2 == pytest.approx(70.0, abs=0.1)
    low = replace(text, vertical=VerticalAlign.BOTTOM)
    letters = read_letters(setter.page_pdf(make_page(low)).pdf)
    assert letters[0].baseline == pytest.approx(120.0 - mm_from_pt(10.5 / 4), abs=0.005)
    middle = replace(text, vertical=VerticalAlign.MIDDLE)
    letters = read_letters(setter.page_pdf(make_page(middle)).pdf)
    expected = 70.0 - mm_from_pt(7.5) + mm_from_pt(15.0 - 10.5 / 4)
    assert letters[0].baseline == pytest.approx(expected, abs=0.005)


def test_turned_text_turns_clockwise_about_the_middle_of_its_box(
    setter, make_page, make_text, read_letters, body
):
    style = replace(body, align=Align.LEFT, hyphenate=False)
    text = replace(make_text("HIGH", style=style, box=Rect(50, 60, 40, 20)), turn_deg=90.0)
    letters = read_letters(setter.page_pdf(make_page(text)).pdf)
    # The box's middle is (70, 70). A point (dx, dy) from it goes to (-dy, dx).
    dy = 60.0 + mm_from_pt(15.0 - 10.5 / 4) - 70.0
    assert letters[0].x == pytest.approx(70.0 - dy, abs=0.01)
    assert letters[0].baseline == pytest.approx(70.0 - 20.0, abs=0.01)
    assert letters[-1].baseline > letters[0].baseline


def test_no_line_begins_with_a_dash_between_spaces(
    setter, make_page, make_text, read_letters, group_lines, body
):
    # Common practice in typography, no single source.
    text = make_text("time after time — and so — it goes – on ", box=Rect(20, 20, 30, 200))
    for width in range(18, 60):
        narrow = replace(text, box=Rect(20, 20, width, 200))
        lines = group_lines(read_letters(setter.page_pdf(make_page(narrow)).pdf))
        assert not {line[0].sign for line in lines} & {"–", "—"}


def test_capitals_follow_the_language(setter, make_page, make_text, read_letters, body):
    # Unicode SpecialCasing.txt (tr), and Greek capitals without tonos (CLDR el-Upper).
    for language, small, big in [
        ("tr", "izmir ılıca", "İZMİR ILICA"),
        ("el", "Ελλάδα", "ΕΛΛΑΔΑ"),
        ("de", "Straße", "STRASSE"),
        ("en", "fjord", "FJORD"),
    ]:
        style = replace(body, align=Align.LEFT, capitals=True, hyphenate=False, language=language)
        letters = read_letters(setter.page_pdf(make_page(make_text(small, style=style))).pdf)
        assert "".join(one.sign for one in letters) == big
