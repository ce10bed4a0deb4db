"""Stacks of panoramas: widths agree, heights add up, and the box is neither bare nor burst."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.geometry import Rect
from wayfold.layout.stack import arrange_stack

BOX = Rect(20.0, 22.0, 168.0, 247.0)


@given(
    st.lists(st.floats(1.8, 5.0), min_size=1, max_size=4), st.floats(0, 10), st.floats(60.0, 300.0)
)
def test_a_stack_fits_or_is_none(aspects, gap, height):
    box = Rect(20.0, 22.0, 168.0, height)
    stack = arrange_stack(aspects, box, gap)
    heights = [168.0 / a for a in aspects]
    total = sum(heights) + gap * (len(aspects) - 1)
    fits = len(aspects) in (2, 3) and min(aspects) >= 2.0 and 0.55 * height <= total <= height
    if min(abs(total - height), abs(total - 0.55 * height)) > 1e-6 * height:
        assert (stack is not None) == fits
    if stack is None:
        return
    for rect, aspect in zip(stack.rects, aspects, strict=True):
        assert (rect.x, rect.width) == (box.x, box.width)
        assert abs(rect.width / rect.height / aspect - 1) <= 1e-9
    for above, below in pairwise(stack.rects):
        assert below.y - above.bottom == pytest.approx(gap, abs=1e-9)
    assert stack.rects[0].y == box.y
    assert stack.rects[-1].bottom <= box.bottom + 1e-6
    assert 0 < stack.score <= 1


def test_three_panoramas_by_hand():
    # 168/2 + 4 + 168/2.4 + 4 + 168/3 = 84 + 4 + 70 + 4 + 56
    stack = arrange_stack([2.0, 2.4, 3.0], BOX, 4.0)
    assert stack
    assert [r.height for r in stack.rects] == pytest.approx([84.0, 70.0, 56.0])
    assert stack.bounds.height == pytest.approx(218.0)


def test_another_shape_spoils_the_stack():
    assert arrange_stack([2.5, 1.9, 2.5], BOX, 4.0) is None
