"""Heights: what is measured is what is set, and text that does not fit is said so."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wayfold.base.errors import UserError
from wayfold.base.findings import Severity
from wayfold.base.geometry import Rect
from wayfold.base.units import mm_from_pt
from wayfold.drawing.text import Align, Paragraph, Run, TextBlock

WORDS = "We walked round the bay until the light went, and then back by the upper road. " * 4


def overset(proof):
    return [f for f in proof.findings if f.rule == "overset"]


def test_height_is_lines_times_leading_and_the_space_between(
    setter, make_page, make_text, read_letters, group_lines, body
):
    second = replace(body, space_before_pt=7.5, first_indent_pt=10.5)
    paragraphs = (Paragraph((Run(WORDS),), body), Paragraph((Run(WORDS * 2),), second))
    height = setter.measure_heights([TextBlock(paragraphs, 80.0)])[0]
    text = make_text(*paragraphs, box=Rect(20, 20, 80, height))
    proof = setter.page_pdf(make_page(text))
    lines = group_lines(read_letters(proof.pdf))
    assert height == pytest.approx(mm_from_pt(len(lines) * 15.0 + 7.5), abs=1e-6)
    assert lines[-1][0].baseline == pytest.approx(20 + height - mm_from_pt(10.5 / 4), abs=0.005)
    assert not overset(proof)


def test_text_too_long_for_its_box_is_named_with_the_millimetres(
    setter, make_page, make_text, body
):
    paragraphs = (Paragraph((Run(WORDS),), body),)
    height = setter.measure_heights([TextBlock(paragraphs, 80.0)])[0]
    text = make_text(*paragraphs, box=Rect(20, 20, 80, height - 2.5), key="caption 7")
    (finding,) = overset(setter.page_pdf(make_page(text)))
    assert finding.where == "caption 7"
    assert finding.severity is Severity.BLOCK
    assert "2.5 mm" in finding.message


def test_a_word_wider_than_the_measure_is_named(setter, make_page, make_text, body):
    title = replace(body, size_pt=34.0, leading_pt=40.0, align=Align.LEFT, hyphenate=False)
    box = Rect(20, 20, 50, 60)
    page = make_page(make_text("The Antikythera isles", style=title, box=box, key="title"))
    (finding,) = overset(setter.page_pdf(page))
    assert "wider" in finding.message
    assert finding.where == "title"
    assert not overset(setter.page_pdf(make_page(make_text("The isles", style=title, box=box))))


def test_a_hundred_blocks_are_measured_in_their_order(setter, body):
    blocks = [TextBlock((Paragraph((Run("word " * 8 * n),), body),), 112.0) for n in range(1, 101)]
    together = setter.measure_heights(blocks)
    assert list(together) == sorted(together)
    assert together[40] == setter.measure_heights([blocks[40]])[0]
    assert setter.measure_heights([]) == ()


@pytest.mark.parametrize("text", ["", " ", "\u200b"])
def test_an_empty_paragraph_takes_one_line(setter, body, text):
    block = TextBlock((Paragraph((Run(text),), body),), 80.0)
    assert setter.measure_heights([block])[0] == pytest.approx(mm_from_pt(15.0))
    nothing = TextBlock((Paragraph((), body),), 80.0)
    assert setter.measure_heights([nothing])[0] == pytest.approx(mm_from_pt(15.0))


def test_line_breaks_and_newlines_end_lines(setter, body):
    for runs in [
        (Run("one", line_break=True), Run("two")),
        (Run("one\ntwo"),),
        (Run("one\r\ntwo"),),
    ]:
        block = TextBlock((Paragraph(runs, body),), 80.0)
        assert setter.measure_heights([block])[0] == pytest.approx(mm_from_pt(30.0))


def test_an_unknown_family_is_an_error_that_names_the_families(setter, make_page, make_text, body):
    style = replace(body, family="Nowhere Sans")
    with pytest.raises(UserError, match="Nowhere Sans") as caught:
        setter.page_pdf(make_page(make_text("Hello", style=style)))
    assert "EB Garamond" in caught.value.remedy
    with pytest.raises(UserError, match="Nowhere Sans"):
        setter.measure_heights([TextBlock((Paragraph((Run("x"),), style),), 50.0)])


SIGNS = st.text(st.characters(), max_size=60)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(SIGNS, max_size=4),
    st.sampled_from(list(Align)),
    st.booleans(),
    st.booleans(),
    st.sampled_from(["en", "tr", "el", "de-AT", "zh-Hant-TW", "x", "", "latin"]),
    st.floats(5.0, 150.0),
)
def test_any_string_is_set(
    setter, make_page, body, texts, align, small_caps, capitals, lang, width
):
    from wayfold.drawing.items import Text

    style = replace(body, align=align, small_caps=small_caps, capitals=capitals, language=lang)
    runs = tuple(Run(t, italic=True if i % 2 else None, leader=i == 2) for i, t in enumerate(texts))
    block = TextBlock((Paragraph(runs, style), Paragraph(runs, style)), width)
    height = setter.measure_heights([block])[0]
    text = Text(Rect(10, 10, width, height), block.paragraphs, "any")
    proof = setter.page_pdf(make_page(text))
    assert proof.pdf.startswith(b"%PDF")
    assert not [f for f in overset(proof) if "long" in f.message]


def test_markup_signs_are_letters(setter, make_page, make_text, read_letters, body):
    # Signs that mean something in Typst's markup, in JSON and in XML.
    text = "#let *x* = _y_ @z $a$ \\n \"q\" <b> & 'p' `c` // = - + ~ [d] {e}"
    style = replace(body, align=Align.LEFT, hyphenate=False)
    page = make_page(make_text(text, style=style))
    proof = setter.page_pdf(page)
    assert "".join(one.sign for one in read_letters(proof.pdf)) == text
    assert not proof.findings
