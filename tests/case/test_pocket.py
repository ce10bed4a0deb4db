"""Pockets: published blanks, and geometry that folds up."""

import pytest

from wayfold.base.geometry import Size
from wayfold.book.casing import Pocket, PocketItem
from wayfold.case.pocket import (
    EASE,
    FINGER,
    FLAP,
    count_strips,
    fold_pocket,
    gusset_depth,
    pile_thickness,
    size_wrap,
)

A5 = PocketItem("leaflet", 148.0, 210.0, 6.0)


def test_a_published_wrap_as_its_result_is_printed() -> None:
    """Indiana University Libraries, pamphlet pocket: 20 x 10 x 0.5 cm takes 51 x 16 cm."""
    assert size_wrap(PocketItem("pamphlet", 100.0, 200.0, 5.0)) == Size(510.0, 160.0)


def test_the_sum_printed_beside_it_is_not_copied() -> None:
    """Known error: it says "45 + 1 = 51", adding 5 cm unsaid; the formula alone gives 46 x 16."""
    blank = size_wrap(PocketItem("pamphlet", 100.0, 200.0, 5.0))
    assert blank.width - 50.0 == 460.0 == 2.25 * 200 + 2 * 5
    assert blank.height == 160.0


def test_a_wrap_for_leaflets() -> None:
    """A5 leaflets of 6 mm by the same rule: 534.5 (484.5 without the 5 cm) x 210 mm."""
    assert size_wrap(A5) == Size(534.5, 210.0)


def test_a_gusset_opens_to_the_pile() -> None:
    """Two panels of d open to 2 d; d = q / 2 + 1: for 6 mm, 4 mm."""
    assert gusset_depth(6.0) == 4.0
    assert 2 * gusset_depth(6.0) >= 6.0


def test_strips_that_make_up_for_the_contents() -> None:
    """R&E, compensation guard: contents over strip; 4 mm at 0.16 mm are 25."""
    assert count_strips(4.0, 160.0) == 25
    assert count_strips(0.3, 160.0) == 0


def test_a_pocket_folds_to_its_face() -> None:
    pocket = Pocket((A5, PocketItem("ticket", 90.0, 180.0, 1.0)))
    made = fold_pocket(pocket)
    assert made is not None
    assert pile_thickness(pocket) == 7.0
    depth = gusset_depth(7.0)
    assert made.front.size == Size(148.0 + EASE, 210.0 - FINGER)
    # Face, two gussets of two panels each, two flaps: nothing over, nothing missing.
    assert made.blank.width == pytest.approx(made.front.width + 2 * (2 * depth + FLAP))
    assert made.blank.height == pytest.approx(made.front.height + 2 * depth + FLAP)
    widths = [
        b - a for a, b in zip((0, *made.folds_x), (*made.folds_x, made.blank.width), strict=True)
    ]
    assert widths == pytest.approx([FLAP, depth, depth, made.front.width, depth, depth, FLAP])
    heights = [
        b - a for a, b in zip((0, *made.folds_y), (*made.folds_y, made.blank.height), strict=True)
    ]
    assert heights == pytest.approx([made.front.height, depth, depth, FLAP])


def test_the_largest_of_each_way_counts() -> None:
    """A wide and a tall item: the pocket takes both."""
    made = fold_pocket(Pocket((PocketItem("a", 150, 100, 1), PocketItem("b", 80, 190, 1))))
    assert made is not None
    assert made.front.size == Size(150 + EASE, 190 - FINGER)


def test_no_items_no_pocket() -> None:
    assert fold_pocket(Pocket()) is None
