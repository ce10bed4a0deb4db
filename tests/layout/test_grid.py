"""Margins against the published canon, and the mirror about the fold."""

import pytest

from wayfold.base.geometry import Size
from wayfold.base.units import MM_PER_INCH as INCH
from wayfold.book.state import Book
from wayfold.layout.grid import make_grid

A4, A5, LETTER = Size(210.0, 297.0), Size(148.0, 210.0), Size(215.9, 279.4)
SIX_BY_NINE = Size(6 * INCH, 9 * INCH)
TRIMS = [A4, A5, LETTER, SIX_BY_NINE, Size(210.0, 210.0), Size(297.0, 210.0)]


@pytest.mark.parametrize(
    ("trim", "inner", "outer", "head", "foot", "tolerance"),
    [
        # Ninths of width and height: J. Tschichold, The Form of the Book (canon of van de Graaf).
        # The style keeps whole millimetres on A4, hence a third of a millimetre.
        (A4, 23.33, 46.67, 33.00, 66.00, 0.34),
        (A5, 16.44, 32.89, 23.33, 46.67, 0.25),
        # Worked example for 6 x 9 inches: inner 0.667, outer 1.333, top 1, bottom 2 inches
        # (published table of the ninths canon for US trim sizes).
        (SIX_BY_NINE, 0.667 * INCH, 1.333 * INCH, 1 * INCH, 2 * INCH, 0.26),
    ],
)
def test_text_margins_are_ninths(trim, inner, outer, head, foot, tolerance):
    margins = make_grid(Book("B", trim=trim)).text_margins
    assert margins.inner == pytest.approx(inner, abs=tolerance)
    assert margins.outer == pytest.approx(outer, abs=tolerance)
    assert margins.head == pytest.approx(head, abs=tolerance)
    assert margins.foot == pytest.approx(foot, abs=tolerance)


def test_canon_block_is_two_thirds_of_each_side():
    # Same source: text area 2/3 of width and height; A4 gives 140 x 198 mm, A5 98.67 x 140.
    area = make_grid(Book("B", trim=A4)).canon_area(True)
    assert (area.width, area.height) == pytest.approx((140.0, 198.0), abs=0.01)
    area = make_grid(Book("B", trim=A5)).canon_area(True)
    assert (area.width, area.height) == pytest.approx((98.67, 140.0), abs=0.01)


@pytest.mark.parametrize("trim", TRIMS)
def test_versos_mirror_rectos(trim):
    grid = make_grid(Book("B", trim=trim))
    for area in (grid.picture_area, grid.canon_area, grid.text_area):
        recto, verso = area(True), area(False)
        assert verso.x == pytest.approx(trim.width - recto.right)
        assert (verso.y, verso.width, verso.height) == (recto.y, recto.width, recto.height)
    assert grid.outer_x(False) == pytest.approx(trim.width - grid.outer_x(True))


@pytest.mark.parametrize("trim", TRIMS)
def test_columns_fill_the_picture_area(trim):
    grid = make_grid(Book("B", trim=trim))
    area = grid.picture_area(True)
    assert grid.column(0, 6, True).width == pytest.approx(area.width)
    assert grid.column(5, 1, True).right == pytest.approx(area.right)
    assert grid.column(1, 1, True).x - grid.column(0, 1, True).right == pytest.approx(5.0)


def test_inner_margin_of_text_is_half_the_outer():
    # The canon's one to two, kept when the measure is narrower than the canon's block.
    grid = make_grid(Book("B"))
    area = grid.text_area(True)
    assert grid.trim.width - area.right == pytest.approx(2 * area.x)
    assert 105.0 <= area.width <= 118.0
