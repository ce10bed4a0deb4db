"""Superior figures: the font's own, on no line's head, and no line stands lower for them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from fontTools.ttLib import TTFont

from wayfold.base.geometry import Rect
from wayfold.base.units import mm_from_pt
from wayfold.drawing.text import Align, Paragraph, Run, TextBlock
from wayfold.typeset.fonts import PACKAGED

WORDS = "What a road! What a road… “What?” and – (a pass) and a climb; again, a road. So on! "


def call(paragraph_words: list[str], style) -> Paragraph:
    runs = []
    for number, word in enumerate(paragraph_words, start=1):
        runs += [Run(word), Run(str(number), superior=True), Run(" ")]
    return Paragraph(tuple(runs), style)


def read_superior_width(digit: str) -> float:
    """The width in em of a digit's superior form, from the font's own tables."""
    with TTFont(PACKAGED / "eb-garamond" / "EBGaramond-400Regular.ttf") as font:
        table, cmap = font["GSUB"].table, font.getBestCmap()
        lookups = [
            i
            for record in table.FeatureList.FeatureRecord
            if record.FeatureTag == "sups"
            for i in record.Feature.LookupListIndex
        ]
        parts = [p for i in lookups for p in table.LookupList.Lookup[i].SubTable]
        mapped = {}
        for part in parts:
            mapped |= getattr(getattr(part, "ExtSubTable", part), "mapping", {})
        return font["hmtx"][mapped[cmap[ord(digit)]]][0] / font["head"].unitsPerEm


@pytest.mark.parametrize("digit", list("0123456789"))
def test_figures_are_the_fonts_own(setter, body, digit):
    style = replace(body, align=Align.LEFT, hyphenate=False)
    one, two = (
        Paragraph((Run("a"), Run(digit * n, superior=True), Run("b")), style) for n in (1, 3)
    )
    short, long = setter.measure_widths([one, two])
    assert (long - short) / 2 == pytest.approx(
        mm_from_pt(10.5 * read_superior_width(digit)), abs=0.02
    )


@pytest.mark.parametrize("width", [24.0, 31.0, 38.0, 45.0, 52.0, 66.0])
def test_no_line_begins_with_one(
    setter, make_page, make_text, read_letters, group_lines, body, width
):
    paragraph = call(WORDS.split() * 3, replace(body, align=Align.LEFT, hyphenate=False))
    text = make_text(paragraph, box=Rect(20.0, 20.0, width, 250.0))
    letters = read_letters(setter.page_pdf(make_page(text)).pdf)
    lines = group_lines([c for c in letters if not c.sign.isspace() and c.sign != "\u2060"])
    assert len(lines) > 5
    assert not [line[0].sign for line in lines if line[0].sign.isdigit()]


def test_lines_keep_their_distance(setter, body):
    plain = Paragraph((Run(WORDS),), body)
    called = call(WORDS.split(), body)
    for width in (50.0, 80.0):
        heights = setter.measure_heights([TextBlock((p,), width) for p in (plain, called)])
        for height in heights:
            lines = height / mm_from_pt(body.leading_pt)
            assert lines == pytest.approx(round(lines), abs=1e-6)
