"""Faces cut, near the knife, near the fold: pages that pass and pages that do not, in mm.

A picture of 100 mm shown 1:1 makes a hundredth of it one millimetre.
"""

from dataclasses import replace

import pytest

from wayfold.base.geometry import Rect, Size
from wayfold.book.arranging import Arranging
from wayfold.book.state import Book, PhotoChoice
from wayfold.checks.rules.faces_kept import find_lost_faces
from wayfold.checks.subject import Subject
from wayfold.layout.model import BookLayout, PageLayout, PictureFrame
from wayfold.photos.look import Face, Look, Salience
from wayfold.photos.model import Photo, SizePx

WHOLE = Rect(0.0, 0.0, 1.0, 1.0)
FACE = Rect(0.4, 0.4, 0.1, 0.1)
LOOK = Look((Face(FACE, 0.9),), Salience(1, 1, (1.0,)), (), 1.4, 0.5, 2000, 0.0, 55.0)
PHOTO = Photo("a", "a", "/journey/kiosk.jpg", SizePx(1000, 1000), look=LOOK)
BLEED = Rect(-3.0, -3.0, 106.0, 106.0)


def find(box: Rect, number: int = 3, crop: Rect = WHOLE, book: Book | None = None):
    """Lay the picture on a page of 100 x 100 mm, and on the facing one where it reaches over."""
    book = book or Book("A book", trim=Size(100.0, 100.0))
    pages = [PageLayout(number, "any", (PictureFrame(box, "a", crop),))]
    if number % 2 == 0 and box.right > 110.0:
        over = PictureFrame(box.moved(-100.0, 0.0), "a", crop)
        pages.append(PageLayout(number + 1, "any", (over,)))
    subject = Subject(book, photos={"a": PHOTO}, layout=BookLayout(tuple(pages)))
    return list(find_lost_faces(subject))


def tell(*args, **more) -> list[str]:
    """Say what is wrong in a word: cut, knife or fold."""
    return [
        next(word for word in ("cut", "knife", "fold") if word in finding.message)
        for finding in find(*args, **more)
    ]


def test_whole_faces_well_inside_pass():
    assert tell(BLEED) == []
    assert tell(Rect(20.0, 20.0, 60.0, 60.0)) == []
    # Half of the picture cropped away, the face with it: nobody misses what is not there.
    assert tell(Rect(20.0, 20.0, 30.0, 60.0), crop=Rect(0.6, 0.0, 0.3, 0.6)) == []


@pytest.mark.parametrize("left", [0.41, 0.45, 0.49])
def test_a_crop_through_a_face_is_named(left):
    (found,) = find(Rect(20.0, 20.0, 50.0, 60.0), crop=Rect(left, 0.0, 0.5, 0.6))
    assert (found.rule, found.where) == ("faces-kept", "page 3")
    assert "cut by the edge of kiosk.jpg" in found.message and "page 3 another way" in found.remedy


def test_a_crop_of_ones_own_is_looked_at_too():
    crop = Rect(0.45, 0.0, 0.5, 0.6)
    book = Book("A book", trim=Size(100.0, 100.0), choices={"a": PhotoChoice(crop=crop)})
    (found,) = find(Rect(20.0, 20.0, 50.0, 60.0), crop=crop, book=book)
    assert "cut" in found.message and "your own" in found.remedy


# Shown 1:1 from 37 mm on, the face (at 40 mm) begins 3 mm from the edge that the page is cut at.
@pytest.mark.parametrize(
    ("number", "crop", "expected"),
    [
        (2, Rect(0.37, 0.0, 0.6, 1.0), "knife"),
        (3, Rect(0.37, 0.0, 0.6, 1.0), "fold"),
        (3, Rect(0.0, 0.37, 1.0, 0.6), "knife"),
        (2, Rect(0.31, 0.0, 0.6, 1.0), None),
        (3, Rect(0.31, 0.0, 0.6, 1.0), "fold"),
        (3, Rect(0.27, 0.0, 0.6, 1.0), None),
    ],
)
def test_distances_are_those_asked_for(number, crop, expected):
    box = Rect(0.0, 0.0, 100.0 * crop.width, 100.0 * crop.height)
    assert tell(box, number, crop) == ([expected] if expected else [])


def test_other_distances_may_be_asked_for():
    arranging = Arranging(face_from_trim=2.0, face_from_fold=2.0)
    book = Book("A book", trim=Size(100.0, 100.0), arranging=arranging)
    crop = Rect(0.37, 0.0, 0.6, 1.0)
    for number in (2, 3):
        assert tell(Rect(0.0, 0.0, 60.0, 100.0), number, crop, book) == []


def test_a_bordered_picture_may_have_a_face_at_its_edge():
    assert tell(Rect(20.0, 20.0, 60.0, 60.0), crop=Rect(0.4, 0.0, 0.6, 0.6)) == []


# Across two pages of 100 mm the fold lies at 100; twice as large the face is from 80 to 100 mm.
@pytest.mark.parametrize(
    ("off", "expected"),
    [
        (0.0, "fold"),
        (10.0, "fold"),
        (-13.0, None),
        (33.0, None),
        (30.0, "fold"),
    ],
)
def test_a_face_in_the_fold_is_named_once(off, expected):
    found = find(Rect(off, -60.0, 200.0, 200.0), number=2)
    assert [f.message.split(";")[0][-4:] for f in found] == ([expected] if expected else [])
    assert all(f.where == "pages 2 and 3" for f in found)


def test_a_picture_not_looked_at_is_passed_over():
    subject = Subject(
        Book("A book"),
        photos={"a": replace(PHOTO, look=None)},
        layout=BookLayout((PageLayout(3, "any", (PictureFrame(BLEED, "a"),)),)),
    )
    assert list(find_lost_faces(subject)) == []
