"""The gathering seen from the head lies as folded paper does.

Sources: geometry of folding (the conjugate of leaf L is 2n + 1 - L); where the leaves of a wrapped
bifolium fall: four sheets round the inner two, after pages 4 and 12 of the gathering (worked out by
hand from a folded dummy).
"""

import itertools

import pytest

from tests.bench.making import gather, wrap
from wayfold.bench.fan import Frame, find_thread, gap_of, nest_folds, trace_folds
from wayfold.plan.model import EndRole

FRAME = Frame(20.0, 74.0, 40.0, 10.0)
W, E = EndRole.WANTED, EndRole.ECHO


@pytest.mark.parametrize("sheets", [1, 2, 4, 16])
def test_a_sheet_is_a_leaf_and_its_conjugate(sheets: int) -> None:
    plan = gather(sheets)
    folds = nest_folds(plan.gatherings[0], ())
    assert [fold.sheet for fold in folds] == list(range(1, sheets + 1))
    for fold, line in trace_folds(plan.gatherings[0], folds, FRAME):
        leaf = fold.sheet
        conjugate = 2 * sheets + 1 - leaf
        assert line[0].y == pytest.approx(FRAME.line_of(leaf - 1))
        assert line[-1].y == pytest.approx(FRAME.line_of(conjugate - 1))


def test_a_wrapped_leaf_falls_after_pages_4_and_12_of_four_sheets() -> None:
    plan = gather(3, 4, interleaves=(wrap(2, 2, (12 + 4, W, 17), (12 + 12, E, None)),))
    gathering = plan.gatherings[1]
    folds = nest_folds(gathering, plan.interleaves)
    assert [f.sheet for f in folds] == [1, 2, None, 3, 4]
    line = next(li for f, li in trace_folds(gathering, folds, FRAME) if f.interleaf)
    # Pages 5 to 8 are leaves 3 and 4: the leaf lies before leaf 3, in opening 2; and in opening 6.
    assert line[0].y == pytest.approx(FRAME.middle_of(2))
    assert line[-1].y == pytest.approx(FRAME.middle_of(6))
    assert [gap_of(gathering, p) for p in (12, 16, 24, 28)] == [0, 2, 6, 8]


def test_both_leaves_at_a_centre_lie_one_above_the_other() -> None:
    plan = gather(2, interleaves=(wrap(1, 2, (4, W, 4), (4, W, 5)),))
    folds = nest_folds(plan.gatherings[0], plan.interleaves)
    assert folds[-1].sheet is None  # innermost of all
    line = next(li for f, li in trace_folds(plan.gatherings[0], folds, FRAME) if f.interleaf)
    assert FRAME.line_of(1) < line[0].y < FRAME.middle_of(2) < line[-1].y < FRAME.line_of(2)


@pytest.mark.parametrize("sheets", [2, 5, 16])
def test_no_line_crosses_another(sheets: int) -> None:
    """Nested paper cannot: outer lines stay outside on every upright line through the fan."""
    plan = gather(sheets, interleaves=(wrap(1, 0, (0, E, None), (4 * sheets, W, 4 * sheets)),))
    gathering = plan.gatherings[0]
    folds = nest_folds(gathering, plan.interleaves)
    traced = [line for _, line in trace_folds(gathering, folds, FRAME)]
    middle = FRAME.middle_of(sheets)
    for outer, inner in itertools.pairwise(traced):
        assert min(p.x for p in outer) < min(p.x for p in inner)
        for a, b in zip(outer, inner, strict=True):
            assert abs(a.y - middle) > abs(b.y - middle) or a.x < b.x
    start, knot = find_thread(gathering, folds, FRAME)
    assert start.y == knot.y == middle
    assert start.x < min(p.x for p in traced[0])
    assert knot.x > min(p.x for p in traced[-1])


def test_the_fan_keeps_its_frame() -> None:
    plan = gather(16)
    lines = trace_folds(plan.gatherings[0], nest_folds(plan.gatherings[0], ()), FRAME)
    points = [p for _, line in lines for p in line]
    assert min(p.x for p in points) >= FRAME.left - 1e-9
    assert max(p.x for p in points) <= FRAME.right + 1e-9
