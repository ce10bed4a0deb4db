"""Items of lists hang from their sign: all their lines begin at one place."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wayfold.base.geometry import Rect
from wayfold.base.units import mm_from_pt
from wayfold.drawing.text import Align, TextBlock
from wayfold.words.markdown import TextStyles, set_markdown

ITEM = "wide words wander while west winds wail " * 6


@pytest.mark.parametrize(("mark", "ems"), [("- ", 1.0), ("1. ", 1.5), ("12. ", 1.5)])
def test_lines_begin_behind_the_sign(
    setter, make_page, make_text, read_letters, group_lines, body, mark, ems
):
    (paragraph,) = set_markdown(mark + ITEM, TextStyles(body, body), "t")
    text = make_text(paragraph, box=Rect(20.0, 20.0, 70.0, 200.0))
    proof = setter.page_pdf(make_page(text))
    assert not proof.findings
    lines = group_lines([c for c in read_letters(proof.pdf) if c.sign.strip()])
    assert len(lines) > 3
    assert lines[0][0].x == pytest.approx(20.0, abs=0.3)
    # On the first line the text itself begins behind the sign.
    begins = [next(c.x for c in lines[0] if c.sign == "w"), *(line[0].x for line in lines[1:])]
    assert begins == pytest.approx([20.0 + mm_from_pt(ems * 10.5)] * len(lines), abs=0.35)


def test_an_item_cut_between_frames_hangs_on(setter, body):
    style = replace(body, align=Align.LEFT)
    (paragraph,) = set_markdown("- " + ITEM, TextStyles(style, style), "t")
    first, second, left = setter.split_to_height(TextBlock((paragraph,), 60.0), [22.0, 90.0])
    assert not left
    assert (first[0].style.first_indent_pt, first[0].style.hanging_pt) == (0.0, 10.5)
    assert (second[0].style.first_indent_pt, second[0].style.hanging_pt) == (10.5, 10.5)
    assert [r.text for r in second[0].runs if r.width_pt] == []
