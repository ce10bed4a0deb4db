"""Ways that truly differ, by hand."""

import pytest

from wayfold.base.geometry import Rect
from wayfold.layout.arrangement import Arrangement
from wayfold.layout.different import differ_truly, pick_different

BOX = Rect(0, 0, 100, 100)
BESIDE = (Rect(0, 0, 48, 32), Rect(52, 0, 48, 32))
BELOW = (Rect(0, 0, 48, 32), Rect(0, 36, 48, 32))
LARGE_FIRST = (Rect(0, 0, 60, 40), Rect(64, 0, 36, 24))
LARGE_LAST = (Rect(0, 0, 36, 24), Rect(40, 0, 60, 40))


@pytest.mark.parametrize(
    ("one", "other", "differ"),
    [
        (BESIDE, BELOW, True),
        (LARGE_FIRST, LARGE_LAST, True),
        (BESIDE, BESIDE, False),
        (BESIDE, tuple(r.moved(1, 1) for r in BESIDE), False),
        (BESIDE, tuple(r.moved(0, 40) for r in BESIDE), False),
        # The same page with the pictures exchanged.
        (BESIDE, BESIDE[::-1], False),
    ],
)
def test_what_differs(one, other, differ):
    assert differ_truly(one, other, BOX) is differ
    assert differ_truly(other, one, BOX) is differ


def test_the_best_of_each_kind_is_taken():
    ranked = [
        Arrangement(BESIDE, 0.9),
        Arrangement(tuple(r.moved(1, 0) for r in BESIDE), 0.8),
        Arrangement(BELOW, 0.7),
        Arrangement(LARGE_FIRST, 0.6),
    ]
    assert [a.score for a in pick_different(ranked, 2, BOX)] == [0.9, 0.7]
    # 0.6 is not worth offering beside 0.9.
    assert [a.score for a in pick_different(ranked, 9, BOX)] == [0.9, 0.7]
