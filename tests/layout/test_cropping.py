"""Crops stay within the picture and within what the person shows of it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.geometry import Rect
from wayfold.book.state import Book, PhotoChoice
from wayfold.layout.cropping import crop_loss, crop_to, shown_aspect

WHOLE = Rect(0.0, 0.0, 1.0, 1.0)


@given(st.floats(0.4, 3.0), st.floats(0.4, 3.0))
def test_crop_has_the_wanted_shape_and_loses_what_is_said(photo_of, aspect, wanted):
    photo = photo_of("p", aspect)
    crop = crop_to(Book("B"), photo, wanted)
    assert WHOLE.contains(crop)
    real = photo.size.aspect
    assert crop.width / crop.height * real == pytest.approx(wanted)
    assert 1 - crop.area == pytest.approx(crop_loss(real, wanted))


@given(st.floats(0.0, 0.5), st.floats(0.0, 0.5), st.floats(0.2, 0.5), st.floats(0.2, 0.5))
def test_a_crop_of_the_persons_own_is_never_left(photo_of, x, y, width, height):
    mine = Rect(x, y, width, height)
    book = Book("B", choices={"p": PhotoChoice(crop=mine)})
    photo = photo_of("p", 1.5)
    assert mine.contains(crop_to(book, photo, 1.0))
    assert shown_aspect(book, photo) == pytest.approx(1.5 * width / height)


def test_a_picture_that_fits_loses_nothing():
    assert crop_loss(1.5, 1.5) == 0.0
    # A 3:2 picture on a 4:3 page keeps 8/9 of its width.
    assert crop_loss(3 / 2, 4 / 3) == pytest.approx(1 / 9)
