"""What is shown of a picture in a frame, and where on the page what matters may lie."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.geometry import Rect, Size
from wayfold.book.arranging import Arranging
from wayfold.book.state import Book, PhotoChoice
from wayfold.layout.cropping import crop_to, keep_across, keep_on_page, shown_aspect
from wayfold.layout.grid import make_grid
from wayfold.photos.crop import KEEP_ALL, WHOLE

BOLD = Book("B", arranging=Arranging(most_crop=0.95))


@given(st.floats(0.4, 3.0), st.floats(0.4, 3.0))
def test_crop_has_the_wanted_shape_and_loses_what_it_must(photo_of, aspect, wanted):
    photo = photo_of("p", aspect)
    crop = crop_to(BOLD, photo, wanted, KEEP_ALL)
    real = photo.size.aspect
    assert WHOLE.contains(crop)
    assert crop.width / crop.height * real == pytest.approx(wanted)
    assert crop.area == pytest.approx(min(real, wanted) / max(real, wanted))


def test_more_than_is_allowed_is_not_taken(photo_of):
    # A 3:2 picture keeps 8/9 of its width on a 4:3 page.
    photo = photo_of("p", 1.5)
    for most, fits in ((1 / 9 + 1e-6, True), (1 / 9 - 1e-6, False)):
        book = Book("B", arranging=Arranging(most_crop=most))
        assert (crop_to(book, photo, 4 / 3, KEEP_ALL) is not None) == fits


@given(st.floats(0.0, 0.5), st.floats(0.0, 0.5), st.floats(0.2, 0.5), st.floats(0.2, 0.5))
def test_a_crop_of_the_persons_own_is_hardly_touched(photo_of, x, y, width, height):
    mine = Rect(x, y, width, height)
    book = Book("B", choices={"p": PhotoChoice(crop=mine)})
    photo = photo_of("p", 1.5)
    assert shown_aspect(book, photo) == pytest.approx(1.5 * width / height)
    aspect = shown_aspect(book, photo)
    near = crop_to(book, photo, aspect * 1.02, KEEP_ALL)
    assert mine.contains(near)
    assert near.area == pytest.approx(mine.area / 1.02)
    assert crop_to(book, photo, aspect * 1.1, KEEP_ALL) is None


def test_faces_keep_away_from_trim_and_fold():
    """On A4 with 3 mm bleed: 8 mm from the trim and 12 mm from the fold, as the settings say."""
    book = Book("B")
    grid = make_grid(book)
    recto = keep_on_page(book, grid, grid.media, True).inside
    assert recto.x * 216 == pytest.approx(3 + 12)
    assert recto.right * 216 == pytest.approx(3 + 210 - 8)
    assert recto.y * 303 == pytest.approx(3 + 8)
    verso = keep_on_page(book, grid, grid.media, False).inside
    assert verso.x == pytest.approx(1 - recto.right)
    assert verso.width == pytest.approx(recto.width)


def test_a_frame_within_the_page_asks_nothing_of_faces():
    book = Book("B")
    grid = make_grid(book)
    assert keep_on_page(book, grid, grid.picture_area(True), True).inside == WHOLE


def test_the_fold_is_a_band_across_the_picture_and_dearer_where_the_sheets_differ():
    book = Book("B", trim=Size(200.0, 300.0), bleed=0.0)
    grid = make_grid(book)
    box = Rect(0.0, 0.0, 400.0, 300.0)
    keep = keep_across(book, grid, box, True)
    assert keep.fold == pytest.approx((188 / 400, 212 / 400))
    assert keep_across(book, grid, box, False).fold_price > keep.fold_price
