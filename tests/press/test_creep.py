"""Creep: worked examples of the two limiting models of a fold, and measured papers between them."""

import math

import pytest

from wayfold.book.materials import Binding
from wayfold.press.creep import move_to_fold, push_out


# Geometry of nested folds: total (n-1)t for hard folds, pi/2 (n-1)t for half-circle folds.
@pytest.mark.parametrize(
    ("caliper_um", "sheets", "coefficient", "total"),
    [
        (100, 4, 1, 0.30),
        (240, 3, 1, 0.48),
        (250, 4, 1, 0.75),
        (250, 5, 1, 1.00),
        (100, 4, math.pi / 2, 0.47),
        (240, 3, math.pi / 2, 0.75),
        (250, 4, math.pi / 2, 1.18),
        (240, 4, math.pi / 2, 1.13),
    ],
)
def test_total_push_out(caliper_um: float, sheets: int, coefficient: float, total: float) -> None:
    offsets = push_out([caliper_um] * sheets, coefficient)
    assert offsets[0] == 0
    assert offsets[-1] == pytest.approx(total, abs=0.005)
    assert len(offsets) == sheets


def test_mixed_papers() -> None:
    # A translucent sheet of 0.09 mm third from outside.
    assert push_out([240, 240, 90, 240], 1) == pytest.approx((0, 0.24, 0.48, 0.57))


def test_uncut_edges_need_no_shift() -> None:
    uncut = Binding(trim_fore_edge=False)
    assert move_to_fold(4, 240, uncut).paper == (0, 0, 0, 0)
    assert move_to_fold(3, 240, Binding(creep_coefficient=1.2)).paper == pytest.approx(
        (0, 0.288, 0.576)
    )
