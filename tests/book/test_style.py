"""Margins by the canons, against what is printed of them."""

import pytest

from wayfold.base.geometry import Size
from wayfold.book.style import Canon


@pytest.mark.parametrize("canon", list(Canon))
def test_on_a_page_of_two_to_three_margins_are_two_three_four_six(canon):
    # J. Tschichold, The Form of the Book: on a 2:3 page the ninths give 2:3:4:6 (inner, head,
    # outer, foot), and the text is as high as the page is wide.
    margins = canon.margins(Size(180.0, 270.0))
    unit = margins.inner / 2
    assert (margins.head, margins.outer, margins.foot) == pytest.approx(
        (3 * unit, 4 * unit, 6 * unit)
    )
    assert 270.0 - margins.head - margins.foot == pytest.approx(180.0)


def test_ninths_of_a4():
    # The same canon as published for A4: 23.33, 46.67, 33 and 66 mm.
    margins = Canon.NINTHS.margins(Size(210.0, 297.0))
    assert (margins.inner, margins.outer) == pytest.approx((23.33, 46.67), abs=0.005)
    assert (margins.head, margins.foot) == pytest.approx((33.0, 66.0))


def test_two_three_four_six_stays_so_on_other_pages():
    margins = Canon.TWO_THREE_FOUR_SIX.margins(Size(210.0, 297.0))
    parts = [margins.inner, margins.head, margins.outer, margins.foot]
    assert [part / parts[0] for part in parts] == pytest.approx([1.0, 1.5, 2.0, 3.0])
