"""Which pictures a drawing needs, and when two placements need the same file."""

import pytest

from wayfold.base.geometry import Affine, Rect, Size
from wayfold.drawing.colour import BLACK
from wayfold.drawing.items import Contour, Drawing, Picture, Placed, Shape
from wayfold.drawing.pictures import list_pictures, picture_key

HALF = Rect(0.0, 0.25, 1.0, 0.5)
PICTURE = Picture(Rect(10, 20, 120, 80), "photo", HALF)


def test_the_halves_of_a_picture_across_the_fold_share_one_key():
    verso = Picture(Rect(-3, -3, 426, 303), "photo", HALF, Rect(-3, -3, 213, 303))
    recto = Picture(Rect(-213, -3, 426, 303), "photo", HALF, Rect(0, -3, 213, 303))
    assert picture_key(verso) == picture_key(recto)


def test_noise_far_below_a_pixel_does_not_count():
    # 0.0001 mm is less than a hundredth of a pixel even at 2400 an inch.
    nudged = Picture(Rect(10, 20, 120 + 1e-4, 80 - 1e-4), "photo", HALF)
    assert picture_key(nudged) == picture_key(PICTURE)


@pytest.mark.parametrize(
    "other",
    [
        Picture(Rect(10, 20, 120, 80), "other", HALF),
        Picture(Rect(10, 20, 121, 80), "photo", HALF),
        Picture(Rect(10, 20, 120, 81), "photo", HALF),
        Picture(Rect(10, 20, 120, 80), "photo", Rect(0.0, 0.2, 1.0, 0.5)),
        Picture(Rect(10, 20, 120, 80), "photo"),
    ],
    ids=["another picture", "wider", "higher", "another part", "the whole"],
)
def test_what_must_be_made_anew_has_another_key(other):
    assert picture_key(other) != picture_key(PICTURE)


def test_where_it_lies_and_what_it_is_called_do_not_count():
    elsewhere = Picture(PICTURE.box.moved(5, 5), "photo", HALF, Rect(0, 0, 9, 9), "a bridge")
    assert picture_key(elsewhere) == picture_key(PICTURE)


def named(asset: str) -> Picture:
    return Picture(Rect(0, 0, 1, 1), asset)


def test_pictures_come_from_bottom_to_top_however_deep():
    size = Size(210, 297)
    line = Shape((Contour(()),), fill=BLACK)
    inner = Drawing("inner", size, 0.0, (named("c"), line))
    middle = Drawing("middle", size, 0.0, (named("b"), Placed(inner, Affine.turn(90)), named("d")))
    outer = Drawing("outer", size, 3.0, (named("a"), line, Placed(middle), named("e")))
    assert [picture.asset for picture in list_pictures(outer)] == list("abcde")
    assert list(list_pictures(Drawing("empty", size, 3.0, ()))) == []
