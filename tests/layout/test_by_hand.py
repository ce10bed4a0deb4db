"""Pictures placed by hand: obeyed to the hair, set aside when they fit no more, never lost."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.layout.conftest import build_matter
from wayfold.base.geometry import Rect
from wayfold.book.arranging import BY_HAND, HandLaid, PlacedPicture
from wayfold.layout.by_hand import find_hand, lay_by_hand, say_misfit, tell_set_aside
from wayfold.layout.model import PageLayout, PictureFrame, TextFrame

FULL = Rect(0.0, 0.0, 1.0, 1.0)


def pictures(page: PageLayout) -> list[PictureFrame]:
    return [frame for frame in page.frames if isinstance(frame, PictureFrame)]


def captions(page: PageLayout) -> list[TextFrame]:
    return [frame for frame in page.frames if isinstance(frame, TextFrame)]


boxes = st.builds(
    Rect,
    st.floats(-40, 200),
    st.floats(-40, 280),
    st.floats(5, 260),
    st.floats(5, 300),
)


@given(box=boxes, aspect=st.floats(0.4, 3.0))
def test_a_box_is_obeyed_and_the_picture_never_stretched(box: Rect, aspect: float) -> None:
    matter = build_matter([aspect], (2,))
    photo = matter.photos["p0"]
    (page,) = lay_by_hand(matter, HandLaid("verso", (PlacedPicture("p0", 1, box),))).pages
    (frame,) = pictures(page)
    assert frame.box == box
    assert FULL.contains(frame.crop)
    # Geometry: the part shown has the shape of the frame that shows it.
    shown = photo.size.aspect * frame.crop.width / frame.crop.height
    assert shown == pytest.approx(box.width / box.height, rel=2e-3)
    assert page.family == BY_HAND


def test_a_crop_of_ones_own_is_shown_to_the_hair() -> None:
    crop = Rect(0.2, 0.1, 0.5, 0.5)
    box = Rect(30, 40, 90, 60)
    matter = build_matter([1.5], (3,))
    (page,) = lay_by_hand(matter, HandLaid("recto", (PlacedPicture("p0", 1, box, crop),))).pages
    found = pictures(page)[0].crop
    for side in ("x", "y", "width", "height"):
        assert getattr(found, side) == pytest.approx(getattr(crop, side), abs=1e-3)


def test_a_box_over_the_fold_is_one_picture_on_both_pages() -> None:
    matter = build_matter([1.5], (2, 3))
    box = Rect(100, 50, 220, 146)
    laid = lay_by_hand(matter, HandLaid("verso", (PlacedPicture("p0", 1, box),)))
    left, right = (pictures(page)[0] for page in laid.pages)
    assert left.box == box
    assert right.box == box.moved(-matter.grid.trim.width, 0.0)
    assert left.crop == right.crop
    assert left.clip == right.clip == matter.grid.media
    # Said from the right page it is the same.
    other = PlacedPicture("p0", 2, right.box)
    assert lay_by_hand(matter, HandLaid("verso", (other,))).pages == laid.pages


def test_one_page_ends_at_its_own_fold() -> None:
    matter = build_matter([1.5], (2,))
    laid = lay_by_hand(
        matter, HandLaid("verso", (PlacedPicture("p0", 1, Rect(100, 50, 220, 146)),))
    )
    (frame,) = pictures(laid.pages[0])
    assert frame.clip == matter.grid.media


@pytest.mark.parametrize(
    ("box", "where"),
    [
        (Rect(22, 22, 168, 112), "under"),
        (Rect(22, 22, 90, 247), "right"),
        (Rect(22, 100, 168, 169), "above"),
    ],
)
def test_a_caption_finds_the_white_that_is_left(box: Rect, where: str) -> None:
    matter = build_matter([box.width / box.height], (3,), captions={0: "The harbour at noon."})
    laid = lay_by_hand(matter, HandLaid("recto", (PlacedPicture("p0", 1, box),)))
    (caption,) = captions(laid.pages[0])
    assert caption.box.overlap(box) is None
    assert {
        "under": caption.box.y >= box.bottom,
        "right": caption.box.x >= box.right,
        "above": caption.box.bottom <= box.y,
    }[where]
    assert not laid.homeless


def test_captions_stand_in_white_between_pictures_where_there_is_no_other() -> None:
    matter = build_matter([1.5, 1.4], (3,), captions={0: "The harbour at noon.", 1: "The mole."})
    high, low = Rect(20, 22, 168, 90), Rect(20, 150, 168, 119)
    places = (PlacedPicture("p0", 1, high), PlacedPicture("p1", 1, low))
    laid = lay_by_hand(matter, HandLaid("recto", places))
    (caption,) = captions(laid.pages[0])
    assert high.bottom < caption.box.y
    assert caption.box.bottom < low.y
    assert not laid.homeless


def test_a_caption_that_finds_none_is_left_to_look_near_by() -> None:
    matter = build_matter([0.7], (3,), captions={0: "The harbour at noon."})
    media = matter.grid.media
    laid = lay_by_hand(matter, HandLaid("recto", (PlacedPicture("p0", 1, media),)))
    assert laid.homeless == ((3, "p0"),)
    assert captions(laid.pages[0]) == []


def test_each_caption_is_told_once_though_its_picture_is_on_both_pages() -> None:
    for box in (Rect(100, 50, 220, 146), Rect(-3, -3, 426, 303), Rect(30, 30, 380, 200)):
        matter = build_matter([1.5], (2, 3), captions={0: "The harbour at noon."})
        laid = lay_by_hand(matter, HandLaid("verso", (PlacedPicture("p0", 1, box),)))
        told = sum(len(captions(page)) for page in laid.pages) + len(laid.homeless)
        assert told == 1


MISFITS = {
    "recto": (((3,), ["p0", "p1"]), "begin on a recto"),
    "others": (((2,), ["p0"]), "other pictures"),
    "fewer pages": (((2,), ["p0", "p1"]), "one page only"),
}


@pytest.mark.parametrize("name", MISFITS)
def test_what_fits_no_more_is_set_aside_and_told(name: str) -> None:
    (numbers, photos), said = MISFITS[name]
    hand = HandLaid(
        "verso",
        (
            PlacedPicture("p0", 1, Rect(20, 20, 90, 60)),
            PlacedPicture("p1", 2 if name == "fewer pages" else 1, Rect(20, 90, 90, 60)),
        ),
    )
    matter = replace(build_matter([1.5] * len(photos), numbers), hand=hand)
    assert said in say_misfit(matter, hand)
    assert find_hand(matter) is None
    (finding,) = tell_set_aside([matter], {matter.block.id: hand})
    assert said in finding.message
    assert finding.where == f"page {numbers[0]}"


def test_blocks_that_went_are_told_too() -> None:
    hand = HandLaid("verso", (PlacedPicture("gone", 1, Rect(20, 20, 90, 60)),))
    (finding,) = tell_set_aside([build_matter([1.5])], {"group:gone": hand})
    assert finding.where == "book.toml, layout.by_hand.group:gone"
