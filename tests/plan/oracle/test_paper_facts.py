"""The oracle itself against facts of binding, before it judges anything else.

Source of page orders: geometry of folding; a published list for sheets of 32 pages begins 32|1,
2|31 and ends 17|16, 18|15. Of the places of wrapped leaves: geometry; see each row.
"""

import pytest

from tests.plan.oracle.evaluate import find_ends, number_sheets, pile


@pytest.mark.parametrize(
    ("sheets", "inner", "after"),
    [
        (4, 2, [4, 12]),  # four sheets, wrapped round the inner two
        (4, 4, [0, 16]),  # wrapped round all: before page 1, after page 16
        (3, 1, [4, 8]),
        (5, 3, [4, 16]),
        (4, 0, [8, 8]),  # inside the innermost: both leaves at the centre
        (1, 1, [0, 4]),
        (1, 0, [2, 2]),
    ],
)
def test_wrapped_leaves_fall_where_folded_paper_puts_them(
    sheets: int, inner: int, after: list[int]
) -> None:
    assert list(find_ends((sheets,), ((0, sheets - inner),)).values()) == [after]


def test_leaves_of_later_gatherings_count_on() -> None:
    assert find_ends((2, 4), ((0, 1), (1, 2))) == {
        "translucent 0/1": [2, 6],
        "translucent 1/2": [12, 20],
    }


def test_two_wraps_in_one_gathering_do_not_move_each_other() -> None:
    ends = find_ends((4,), ((0, 1), (0, 3)))
    assert sorted(ends.values()) == [[2, 14], [6, 10]]


def test_every_fold_gives_two_leaves() -> None:
    leaves = pile((3, 2), ((0, 0), (1, 2)))
    assert leaves.count("paper") == 10
    assert leaves[0] == leaves[7] == "translucent 0/0"


def test_pages_of_one_sheet_are_those_of_the_published_order() -> None:
    sheet_of_page = number_sheets((8,))
    shown: dict[tuple[int, int], list[int]] = {}
    for page, sheet in enumerate(sheet_of_page, start=1):
        shown.setdefault(sheet, []).append(page)
    assert shown[0, 0] == [1, 2, 31, 32]
    assert shown[0, 7] == [15, 16, 17, 18]


def test_only_the_two_middle_pages_face_each_other_on_one_sheet() -> None:
    for sheets in range(1, 9):
        sheet_of_page = number_sheets((sheets,))
        facing = [p for p in range(2, 4 * sheets, 2) if sheet_of_page[p - 1] == sheet_of_page[p]]
        assert facing == [2 * sheets]
