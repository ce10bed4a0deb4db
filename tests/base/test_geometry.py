"""Laws of plane geometry, and the map of ISO 32000-2, 8.3.3: x' = ax + cy + e, y' = bx + dy + f."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from wayfold.base.geometry import Affine, Point, Rect, Size

numbers = st.floats(-1e3, 1e3)
lengths = st.floats(0.01, 1e3)
points = st.builds(Point, numbers, numbers)
rects = st.builds(Rect, numbers, numbers, lengths, lengths)
affines = st.builds(Affine, *[st.floats(-10, 10)] * 4, numbers, numbers)


def near(one: Point, other: Point, tolerance: float = 1e-6) -> bool:
    return math.isclose(one.x, other.x, rel_tol=1e-9, abs_tol=tolerance) and math.isclose(
        one.y, other.y, rel_tol=1e-9, abs_tol=tolerance
    )


def matrix(affine: Affine) -> np.ndarray:
    a, b, c, d, e, f = (getattr(affine, k) for k in "abcdef")
    return np.array([[a, c, e], [b, d, f], [0, 0, 1]])


def test_iso_216_keeps_its_aspect_when_halved():
    # ISO 216: the sides are as 1 to the square root of 2, to the millimetre.
    for size in (Size(210, 297), Size(148, 210), Size(297, 420)):
        assert size.turned.aspect == pytest.approx(math.sqrt(2), rel=5e-3)
        assert size.turned.turned == size


@given(rects)
def test_edges_of_a_rectangle(rect):
    assert rect.right - rect.x == pytest.approx(rect.width, abs=1e-9)
    assert rect.bottom - rect.y == pytest.approx(rect.height, abs=1e-9)
    assert rect.area == rect.size.width * rect.size.height
    assert near(rect.center, Point((rect.x + rect.right) / 2, (rect.y + rect.bottom) / 2))
    assert rect.contains(rect)


@given(rects, lengths)
def test_growing(rect, by):
    grown = rect.grown(by)
    assert grown.contains(rect)
    assert not rect.contains(grown)
    assert near(grown.center, rect.center)
    back = grown.grown(-by)
    assert back.width == pytest.approx(rect.width, abs=1e-9)


def test_growing_by_the_bleed():
    # A4 with 3 mm of bleed is 216 x 303 mm (common practice).
    assert Rect(0, 0, 210, 297).grown(3) == Rect(-3, -3, 216, 303)


@given(rects, rects)
def test_overlap_lies_in_both(one, other):
    common = one.overlap(other)
    assert other.overlap(one) == common
    if common is None:
        across = min(one.right, other.right) - max(one.x, other.x)
        down = min(one.bottom, other.bottom) - max(one.y, other.y)
        assert min(across, down) <= 1e-6
    else:
        assert one.contains(common)
        assert other.contains(common)


def test_rectangles_that_touch_do_not_overlap():
    page = Rect(0, 0, 210, 297)
    assert page.overlap(page.moved(210, 0)) is None
    assert page.overlap(page.moved(209.9, 0)) is not None


@given(affines, affines, points)
def test_then_is_the_product_of_matrices(first, second, point):
    joined = first.then(second)
    assert np.allclose(matrix(joined), matrix(second) @ matrix(first), rtol=1e-9, atol=1e-6)
    assert near(joined.apply(point), second.apply(first.apply(point)), 1e-5)


@given(affines, points)
def test_inverse_leads_back(affine, point):
    assume(abs(affine.a * affine.d - affine.b * affine.c) > 0.5)
    assert near(affine.inverse().apply(affine.apply(point)), point, 1e-4)
    assert np.allclose(matrix(affine.inverse()), np.linalg.inv(matrix(affine)), atol=1e-5)


def test_a_flat_map_has_no_inverse():
    with pytest.raises(ZeroDivisionError):
        Affine(1, 1, 1, 1).inverse()


@pytest.mark.parametrize(
    ("angle", "expected"),
    # y grows downwards: a quarter turn clockwise takes right to down.
    [(0, (1, 0)), (90, (0, 1)), (180, (-1, 0)), (270, (0, -1)), (-90, (0, -1)), (450, (0, 1))],
)
def test_quarter_turns_are_exact_and_clockwise(angle, expected):
    turned = Affine.turn(angle).apply(Point(1, 0))
    assert (turned.x, turned.y) == expected


@given(st.floats(-720, 720), points)
def test_turning_keeps_distances(angle, point):
    turned = Affine.turn(angle).apply(point)
    assert math.hypot(turned.x, turned.y) == pytest.approx(math.hypot(point.x, point.y), abs=1e-6)


def test_an_eighth_turn():
    turned = Affine.turn(45).apply(Point(math.sqrt(2), 0))
    assert near(turned, Point(1, 1), 1e-12)


def test_shift_and_scale():
    assert Affine.shift(3, -4).apply(Point(1, 1)) == Point(4, -3)
    assert Affine.scale(2).apply(Point(3, 5)) == Point(6, 10)
    assert Affine.scale(2, -1).apply(Point(3, 5)) == Point(6, -5)


@given(rects, points, affines)
def test_the_image_of_a_rectangle_holds_the_images_of_its_points(rect, point, affine):
    inside = Point(
        rect.x + rect.width * (point.x + 1e3) / 2e3, rect.y + rect.height * (point.y + 1e3) / 2e3
    )
    image = affine.apply(inside)
    assert affine.apply_rect(rect).contains(Rect(image.x, image.y, 0, 0), 1e-5)


def test_a_sheet_turned_about_its_short_edge():
    # A point 10 mm from the left and 20 from the top of a 483 x 329 sheet, turned by 180°.
    turn = Affine.turn(180).then(Affine.shift(483, 329))
    assert turn.apply(Point(10, 20)) == Point(473, 309)
    assert turn.apply_rect(Rect(0, 0, 483, 329)) == Rect(0, 0, 483, 329)
