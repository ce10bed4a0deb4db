"""Strips: rows add up, heights agree, aspects hold. The sums are plane geometry, done by hand."""

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.geometry import Rect
from wayfold.layout.strip import LEAST_HEIGHT, MOST_STRETCH, arrange_strip

BOX = Rect(20.0, 22.0, 168.0, 247.0)
shapes = st.lists(st.floats(0.4, 3.0), min_size=3, max_size=7)


@pytest.mark.parametrize(
    ("aspects", "width", "height"),
    [
        # (W - (k - 1) g) / sum of aspects, by hand
        ([Fraction(3, 2)] * 3, 168, Fraction(166) / Fraction(9, 2)),
        ([Fraction(3, 2)] * 4, 168, Fraction(165) / 6),
        ([Fraction(3, 2)] * 7, 380, Fraction(374) / Fraction(21, 2)),
        ([Fraction(2, 3), Fraction(3, 2), Fraction(4, 3), 1], 168, Fraction(165) / Fraction(9, 2)),
    ],
)
def test_one_row_is_as_high_as_its_width_allows(aspects, width, height):
    strip = arrange_strip([float(a) for a in aspects], Rect(0, 0, width, 247.0))
    assert strip
    assert [r.height for r in strip.rects] == pytest.approx([float(height)] * len(aspects))
    assert strip.rects[-1].right == pytest.approx(width, abs=1e-9)


@given(shapes, st.floats(60.0, 400.0), st.floats(0.0, 5.0))
def test_rows_hold_together(aspects, width, gap):
    box = Rect(BOX.x, BOX.y, width, BOX.height)
    strip = arrange_strip(aspects, box, gap)
    if strip is None:
        return
    rows = {}
    for rect, aspect in zip(strip.rects, aspects, strict=True):
        assert abs(rect.width / rect.height / aspect - 1) <= 1e-9
        assert rect.height >= LEAST_HEIGHT - 1e-9
        assert box.contains(rect)
        rows.setdefault(rect.y, []).append(rect)
    assert len(rows) <= 2
    for row in rows.values():
        assert row[0].x == box.x
        assert all(r.height == row[0].height for r in row)
        assert all(b.x - a.right == pytest.approx(gap, abs=1e-9) for a, b in pairwise(row))
    heights = [row[0].height for row in rows.values()]
    assert max(heights) <= MOST_STRETCH * min(heights) + 1e-9
    if len(rows) == 2:
        (upper, lower) = rows.values()
        assert lower[0].y - upper[0].bottom == pytest.approx(gap, abs=1e-9)
    assert 0 < strip.score <= 1


@given(shapes)
def test_the_order_is_kept(aspects):
    strip = arrange_strip(aspects, BOX)
    if strip:
        assert list(strip.rects) == sorted(strip.rects, key=lambda r: (r.y, r.x))


def test_six_alike_make_two_equal_rows():
    strip = arrange_strip([1.5] * 6, BOX)
    assert strip
    assert [r.height for r in strip.rects] == pytest.approx([166 / 4.5] * 6)
    assert [r.x for r in strip.rects[:3]] == [r.x for r in strip.rects[3:]]


def test_five_alike_leave_the_last_row_ragged():
    strip = arrange_strip([1.5] * 5, BOX)
    assert strip
    assert len({round(r.height, 9) for r in strip.rects}) == 1
    assert sum(r.y == BOX.y for r in strip.rects) == 3
    six = arrange_strip([1.5] * 6, BOX)
    assert six
    assert strip.score < six.score


def test_only_the_last_row_is_ragged():
    strip = arrange_strip([0.667, 1.5, 1.5, 1.5, 1.5, 1.5], BOX, least_height=30.0)
    assert strip
    rows = {y: [r for r in strip.rects if r.y == y] for y in sorted({r.y for r in strip.rects})}
    upper, lower = rows.values()
    assert upper[-1].right == pytest.approx(BOX.right)
    assert lower[-1].right <= BOX.right + 1e-9


def test_tall_pictures_do_not_outgrow_the_box():
    strip = arrange_strip([0.5] * 3, Rect(0, 0, 168, 60))
    assert strip
    assert {r.height for r in strip.rects} == {60.0}


@pytest.mark.parametrize(
    ("aspects", "box"),
    [
        ([1.5, 1.5], BOX),
        ([1.5] * 8, BOX),
        ([3.0] * 7, BOX),
        ([1.5] * 6, Rect(0, 0, 168, 60)),
        ([1.5] * 5, Rect(0, 0, 3, 60)),
    ],
)
def test_what_makes_no_strip(aspects, box):
    assert arrange_strip(aspects, box) is None


def test_an_impossible_shape_is_refused():
    with pytest.raises(ValueError, match="cannot arrange"):
        arrange_strip([1.5, 0.0, 1.5], BOX)
