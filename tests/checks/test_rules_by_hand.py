"""What is told of pictures placed and cropped by hand: pages that pass, and pages that do not."""

from dataclasses import replace

import pytest

from wayfold.base.findings import Severity
from wayfold.base.geometry import Rect, Size
from wayfold.book.arranging import BY_HAND
from wayfold.book.state import Book, PhotoChoice
from wayfold.checks.rules.own_crops import find_own_crops
from wayfold.checks.rules.picture_edges import find_bad_edges
from wayfold.checks.subject import Subject
from wayfold.layout.model import BookLayout, PageLayout, PictureFrame
from wayfold.photos.look import Face, Look, Salience
from wayfold.photos.model import Photo, SizePx
from wayfold.plan.model import Gathering, Plan, PlannedPage

WHOLE = Rect(0.0, 0.0, 1.0, 1.0)
LOOK = Look(
    (Face(Rect(0.1, 0.1, 0.1, 0.1), 0.9), Face(Rect(0.7, 0.1, 0.1, 0.1), 0.9)),
    *(Salience(1, 1, (1.0,)), (), 1.4, 0.5, 2000, 0.0, 55.0),
)
PHOTO = Photo("a", "a", "/journey/kiosk.jpg", SizePx(1000, 1000), look=LOOK)


def lay(box: Rect, number: int = 3, crop: Rect = WHOLE, family: str = BY_HAND) -> Subject:
    """A page of 100 x 100 mm, bleed 3 mm; what reaches far over a verso's fold is on both pages."""
    pages = [PageLayout(number, family, (PictureFrame(box, "a", crop),))]
    if number % 2 == 0 and box.right > 110.0:
        over = PictureFrame(box.moved(-100.0, 0.0), "a", crop)
        pages.append(PageLayout(number + 1, family, (over,)))
    book = Book("A book", trim=Size(100.0, 100.0))
    return Subject(book, photos={"a": PHOTO}, layout=BookLayout(tuple(pages)))


@pytest.mark.parametrize(
    "box",
    [
        Rect(-3, -3, 106, 106),  # through the bleed all round
        Rect(10, 10, 80, 80),  # white all round
        Rect(3, 3, 94, 94),  # just far enough inside
        Rect(0, 10, 80, 80),  # from the fold of a recto
    ],
)
def test_clear_edges_pass(box: Rect) -> None:
    assert list(find_bad_edges(lay(box))) == []


@pytest.mark.parametrize(
    ("box", "number", "words"),
    [
        (Rect(10, -1, 60, 60), 3, "goes 1.0 mm over the head"),
        (Rect(10, 0, 60, 60), 3, "ends 0.0 mm before the head"),
        (Rect(10, 41, 60, 60), 3, "goes 1.0 mm over the foot"),
        (Rect(38, 10, 60, 60), 3, "ends 2.0 mm before the fore-edge"),
        (Rect(2, 10, 60, 60), 2, "ends 2.0 mm before the fore-edge"),
        (Rect(1, 10, 60, 60), 3, "ends 1.0 mm before the fold"),
        (Rect(-20, 10, 60, 60), 3, "reaches 20 mm over the fold"),
    ],
)
def test_edges_that_show_white_or_look_like_slips_are_named(
    box: Rect, number: int, words: str
) -> None:
    (found,) = find_bad_edges(lay(box, number))
    assert words in found.message
    assert (found.severity, found.about) == (Severity.WARN, "a")
    assert found.where == f"page {number}"


def test_a_picture_over_a_fold_of_two_sheets_is_noted_if_a_hand_put_it_there() -> None:
    box = Rect(-3, -3, 206, 106)
    (found,) = find_bad_edges(lay(box, 4))
    assert "two sheets" in found.message
    assert found.severity is Severity.NOTE
    assert list(find_bad_edges(lay(box, 4, family="across"))) == []
    pages = tuple(PlannedPage(n, None, 0) for n in range(1, 5))
    centre = Plan(pages, (Gathering(1, 1, 1),))
    assert list(find_bad_edges(replace(lay(box, 2), plan=centre))) == []


def test_a_crop_that_takes_little_is_not_spoken_of() -> None:
    assert list(find_own_crops(lay(Rect(10, 10, 80, 80)))) == []
    assert list(find_own_crops(lay(Rect(10, 10, 80, 80), crop=Rect(0, 0, 0.9, 0.92)))) == []


def test_a_face_left_out_and_much_taken_are_noted() -> None:
    crop = Rect(0.5, 0.0, 0.5, 1.0)
    found = list(find_own_crops(lay(Rect(10, 10, 40, 80), crop=crop)))
    assert [f.message for f in found] == [
        "Your crop of kiosk.jpg leaves out a face.",
        "Your crop takes 50% of kiosk.jpg; a layout would take 18% at most.",
    ]
    assert {f.severity for f in found} == {Severity.NOTE}
    # What a layout cropped by itself is the layout's business.
    assert list(find_own_crops(lay(Rect(10, 10, 40, 80), crop=crop, family="group"))) == []


def test_a_crop_in_the_photographs_file_is_ones_own_on_any_page() -> None:
    crop = Rect(0.5, 0.0, 0.5, 1.0)
    subject = lay(Rect(10, 10, 40, 80), crop=crop, family="group")
    own = replace(subject.book, choices={"a": PhotoChoice(crop=crop)})
    assert len(list(find_own_crops(replace(subject, book=own)))) == 2
