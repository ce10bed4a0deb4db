"""Page orders of folded sheets against published ones."""

import pytest

from wayfold.plan.model import Gathering
from wayfold.plan.paper import conjugate_leaf, is_recto, order_pages, sheet_of

# What any folded dummy of one to five sheets shows; outer side, then inner side, left | right.
DUMMIES = {
    1: ["4|1 2|3"],
    2: ["8|1 2|7", "6|3 4|5"],
    3: ["12|1 2|11", "10|3 4|9", "8|5 6|7"],
    4: ["16|1 2|15", "14|3 4|13", "12|5 6|11", "10|7 8|9"],
    5: ["20|1 2|19", "18|3 4|17", "16|5 6|15", "14|7 8|13", "12|9 10|11"],
}


def read_sheets(sheets: int) -> list[str]:
    return [
        f"{s.outer_left}|{s.outer_right} {s.inner_left}|{s.inner_right}"
        for s in order_pages(sheets)
    ]


@pytest.mark.parametrize("sheets", DUMMIES)
def test_page_order_of_a_dummy(sheets: int) -> None:
    assert read_sheets(sheets) == DUMMIES[sheets]


def test_published_order_of_eight_sheets() -> None:
    # caladan.nanosoft.ca/book.php lists a 32-page case: it starts 32,1 then 2,31 and ends with the
    # pairs 18,15 and 17,16 (pairs there are given without regard to left and right).
    order = read_sheets(8)
    assert order[0] == "32|1 2|31"
    assert order[-1] == "18|15 16|17"
    assert len(order) == 8


@pytest.mark.parametrize("sheets", range(1, 12))
def test_every_side_sums_to_one_more_than_the_pages(sheets: int) -> None:
    # The printer's rule of thumb for folded work (common practice, no single source).
    for s in order_pages(sheets):
        assert s.outer_left + s.outer_right == 4 * sheets + 1
        assert s.inner_left + s.inner_right == 4 * sheets + 1


@pytest.mark.parametrize("sheets", range(1, 8))
def test_against_paper_folded_in_the_head(sheets: int) -> None:
    """Nest sheets as lists and number them by turning leaves; the formulas must agree."""
    left = [(i, "left") for i in range(sheets)]
    right = [(i, "right") for i in reversed(range(sheets))]
    # Leaves from the front of the closed gathering: the right halves seen from outside come first.
    leaves = [(i, "right") for i, _ in left] + [(i, "left") for i, _ in right]
    order = order_pages(sheets)
    for leaf, (sheet, half) in enumerate(leaves, start=1):
        s = order[sheet]
        recto = s.outer_right if half == "right" else s.inner_right
        verso = s.inner_left if half == "right" else s.outer_left
        assert (recto, verso) == (2 * leaf - 1, 2 * leaf)
        assert sheet_of(recto, sheets) == sheet_of(verso, sheets) == sheet + 1
        other = conjugate_leaf(leaf, sheets)
        assert leaves[other - 1] == (sheet, "left" if half == "right" else "right")


def test_published_conjugates_and_centre() -> None:
    # n=4: leaf 3 (pages 5, 6) hangs together with leaf 6 (11, 12); 8|9 is the centre.
    assert conjugate_leaf(3, 4) == 6
    assert Gathering(1, 4, 1).centre == (8, 9)
    assert Gathering(2, 4, 17).centre == (24, 25)
    assert Gathering(2, 4, 17).last_page == 32


def test_odd_pages_are_rectos() -> None:
    assert [is_recto(p) for p in (1, 2, 3, 4)] == [True, False, True, False]


def test_no_sheets() -> None:
    with pytest.raises(ValueError, match="at least one sheet"):
        order_pages(0)
