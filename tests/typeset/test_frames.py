"""Threading a text through frames."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wayfold.base.geometry import Rect
from wayfold.base.units import mm_from_pt
from wayfold.drawing.text import Align, Paragraph, Run, TextBlock
from wayfold.typeset.frames import choose_lines
from wayfold.typeset.pieces import join_pieces, list_pieces

STORY = (
    "By noon the wind had turned. The nets were mended on the quay in the difficult, efficient "
    "manner of people who have done a thing ten thousand times; behind them the town climbed the "
    "hill in terraces of ochre and bone, and every stair ended in somebody’s kitchen. "
)


def letters_of(frames):
    return " ".join("".join(p.plain for frame in frames for p in frame).split())


def squeeze(text):
    return "".join(text.split())


def test_a_story_goes_on_from_frame_to_frame(setter, body):
    later = replace(body, first_indent_pt=10.5)
    paragraphs = [Paragraph((Run(STORY * n),), later) for n in (2, 1, 4, 3)]
    block = TextBlock(tuple(paragraphs), 105.0)
    heights = [60.0, 40.0, 55.0]
    frames = setter.split_to_height(block, heights)
    assert len(frames) == 4
    assert squeeze(letters_of(frames)) == squeeze(STORY * 10)
    for frame, height in zip(frames, heights, strict=False):
        assert setter.measure_heights([TextBlock(frame, 105.0)])[0] <= height + 1e-3
    line = mm_from_pt(15.0)
    for frame, following in pairwise(frames):
        if frame and frame[-1].continues:
            tail = following[0]
            assert tail.style.first_indent_pt == 0
            # At least two lines stand on either side of the cut.
            for part in (frame[-1], tail):
                assert setter.measure_heights([TextBlock((part,), 105.0)])[0] >= 2 * line - 1e-6
    assert any(frame[-1].continues for frame in frames[:3] if frame)


def test_frames_are_full_to_within_two_lines(setter, body):
    block = TextBlock((Paragraph((Run(STORY * 12),), body),), 105.0)
    frames = setter.split_to_height(block, [100.0, 100.0])
    line = mm_from_pt(15.0)
    height = setter.measure_heights([TextBlock(frames[0], 105.0)])[0]
    assert 100.0 - line <= height <= 100.0


def test_the_line_before_a_cut_is_as_full_as_the_others(
    setter, make_page, make_text, read_letters, group_lines, body
):
    block = TextBlock((Paragraph((Run(STORY * 6),), body),), 112.0)
    first, *_ = setter.split_to_height(block, [50.0])
    assert first[0].continues
    proof = setter.page_pdf(make_page(make_text(*first, box=Rect(20, 20, 112, 50))))
    lines = group_lines(read_letters(proof.pdf))
    last = [one for one in lines[-1] if one.sign != " "][-1]
    assert last.right >= 131.7
    assert not proof.findings


def test_a_text_that_fits_stays_whole(setter, body):
    block = TextBlock((Paragraph((Run(STORY),), body),), 105.0)
    assert setter.split_to_height(block, [200.0]) == (block.paragraphs, ())
    assert setter.split_to_height(block, [200.0, 50.0]) == (block.paragraphs, (), ())
    assert setter.split_to_height(block, []) == (block.paragraphs,)


def test_a_frame_too_low_for_a_line_stays_empty(setter, body):
    block = TextBlock((Paragraph((Run(STORY),), body),), 105.0)
    frames = setter.split_to_height(block, [2.0, 200.0])
    assert frames == ((), block.paragraphs, ())


def test_a_cut_at_a_line_break_is_no_cut_in_a_line(setter, body):
    runs = tuple(Run(f"Line {n}", line_break=n < 9) for n in range(10))
    block = TextBlock((Paragraph(runs, body),), 105.0)
    frames = setter.split_to_height(block, [mm_from_pt(75.0), 100.0])
    assert [p.plain.split("\n") for p in frames[0]] == [[f"Line {n}" for n in range(5)]]
    assert not frames[0][0].continues
    assert frames[1][0].plain.startswith("Line 5")


def test_text_without_spaces_is_cut_between_letters(setter, body):
    block = TextBlock(
        (Paragraph((Run("ა" * 10 + "ბგდევზთ" * 60),), replace(body, language="ka")),), 60.0
    )
    frames = setter.split_to_height(block, [20.0, 20.0])
    assert squeeze(letters_of(frames)) == squeeze(block.paragraphs[0].plain)


@pytest.mark.parametrize(
    ("lines", "most", "alone", "keep"),
    [
        (10, 6, False, 6),
        (10, 9, False, 8),  # one line would stand alone at the next head: a widow
        (3, 2, False, 0),
        (10, 1, False, 0),  # one line would stand alone at the foot: an orphan
        (10, 1, True, 1),  # nothing else in the frame: better one line than none
        (3, 2, True, 2),
        (2, 1, True, 1),
        (5, 0, True, 0),
    ],
)
def test_how_many_lines_stay(lines, most, alone, keep):
    # No single lines at foot or head: common practice in book typography.
    assert choose_lines(lines, most, alone=alone) == keep


RUNS = st.builds(
    Run,
    text=st.text(st.sampled_from(list("ab– \t\u00a0é\u0301\n語👩\u200d")), max_size=60),
    italic=st.sampled_from([None, True]),
    line_break=st.booleans(),
)


@given(st.lists(RUNS, max_size=4))
def test_pieces_joined_are_the_same_text(runs):
    pieces = list_pieces(runs)
    joined = join_pieces(pieces)
    before = Paragraph(tuple(runs), None).plain  # type: ignore[arg-type]
    assert Paragraph(joined, None).plain == before  # type: ignore[arg-type]
    looks = [(ch, r.italic) for r in runs for ch in r.text if ch != "\n"]
    assert [(ch, r.italic) for r in joined for ch in r.text] == looks
    assert all(piece for piece in pieces)


@settings(max_examples=25, deadline=None)
@given(
    st.lists(
        st.text(st.sampled_from("abcde fghi "), min_size=1, max_size=400), min_size=1, max_size=4
    ),
    st.lists(st.floats(0.0, 40.0), max_size=4),
    st.sampled_from([Align.LEFT, Align.JUSTIFY]),
)
def test_nothing_is_lost_between_frames(setter, body, texts, heights, align):
    style = replace(body, align=align, space_before_pt=4.0)
    block = TextBlock(tuple(Paragraph((Run(t),), style) for t in texts), 60.0)
    frames = setter.split_to_height(block, heights)
    assert len(frames) == len(heights) + 1
    assert squeeze(letters_of(frames)) == squeeze("".join(texts))
    for frame, height in zip(frames, heights, strict=False):
        assert not frame or setter.measure_heights([TextBlock(frame, 60.0)])[0] <= height + 0.01
