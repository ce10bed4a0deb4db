"""Widths of lines against HarfBuzz (uharfbuzz)."""

from __future__ import annotations

from dataclasses import replace

import pytest
import uharfbuzz as hb

from wayfold.base.units import mm_from_pt
from wayfold.drawing.text import Align, Paragraph, Run
from wayfold.typeset.fonts import FontLibrary

NAMES = ("Ålesund", "San\u00a0Pedro\u00a0de\u00a0Atacama", "Kaikōura", "Å", "Reykjavík")


@pytest.mark.parametrize("italic", [False, True])
def test_lines_are_as_wide_as_harfbuzz_makes_them(setter, body, italic):
    style = replace(body, align=Align.LEFT, hyphenate=False, italic=italic)
    found = setter.measure_widths([Paragraph((Run(name),), style) for name in NAMES])
    face = hb.Face(
        hb.Blob.from_file_path(
            str(FontLibrary().find_face(style.family, style.italic, style.weight).path)
        )
    )
    for name, width in zip(NAMES, found, strict=True):
        font, buffer = hb.Font(face), hb.Buffer()
        buffer.add_str(name)
        buffer.guess_segment_properties()
        hb.shape(font, buffer, {"onum": True, "pnum": True})
        advance = sum(p.x_advance for p in buffer.glyph_positions) / face.upem
        assert width == pytest.approx(mm_from_pt(advance * style.size_pt), abs=0.01)


def test_nothing_is_measured_for_nothing(setter):
    assert setter.measure_widths([]) == ()
