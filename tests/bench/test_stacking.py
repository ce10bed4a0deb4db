"""Words beside a drawing keep their order, their room, and as near their places as can be."""

from statistics import fmean

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.bench.stacking import stack_boxes

HEIGHTS = st.lists(st.floats(1.0, 12.0), min_size=1, max_size=7)


@given(st.data(), HEIGHTS)
def test_boxes_lie_in_order_without_overlap(data: st.DataObject, heights: list[float]) -> None:
    middles = sorted(data.draw(st.floats(0.0, 100.0)) for _ in heights)
    tops = stack_boxes(middles, heights, 0.0, 100.0)
    for (a, height), b in zip(zip(tops, heights, strict=True), tops[1:], strict=False):
        assert a + height <= b + 1e-9
    assert tops[0] >= -1e-9
    assert tops[-1] + heights[-1] <= 100.0 + 1e-9


def test_boxes_with_room_stand_about_their_middles() -> None:
    assert stack_boxes((10.0, 30.0), (4.0, 8.0), 0.0, 100.0) == (8.0, 26.0)


def test_boxes_in_each_others_way_move_apart_evenly() -> None:
    assert stack_boxes((10.0, 10.0), (4.0, 4.0), 0.0, 100.0) == (6.0, 10.0)


def test_too_many_boxes_begin_at_the_top() -> None:
    tops = stack_boxes((5.0, 5.0, 5.0), (4.0, 4.0, 4.0), 0.0, 10.0)
    assert tops == (0.0, 4.0, 8.0)


@given(st.data(), HEIGHTS)
def test_boxes_with_room_all_round_give_way_as_little_as_can_be(
    data: st.DataObject, heights: list[float]
) -> None:
    """Least squares in order, by the max-min formula of isotonic regression.

    Source: Robertson, Wright & Dykstra, Order Restricted Statistical Inference (1988), from memory.
    """
    count = len(heights)
    middles = sorted(data.draw(st.floats(0.0, 100.0)) for _ in heights)
    above = [sum(heights[:i]) for i in range(count)]
    wished = [middles[i] - heights[i] / 2 - above[i] for i in range(count)]
    best = [
        above[i] + max(min(fmean(wished[j : k + 1]) for k in range(i, count)) for j in range(i + 1))
        for i in range(count)
    ]
    assert stack_boxes(middles, heights, -1e6, 1e6) == pytest.approx(best)
