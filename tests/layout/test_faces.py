"""No way of laying pictures cuts a face, or brings one to the knife or into the fold."""

from __future__ import annotations

import random
from collections import Counter

import pytest

from tests.labelled_faces import fetch_pictures, read_labels, take_parts
from tests.layout.face_pages import (
    PAGES,
    TRIMS,
    are_one_face,
    find_wrongs,
    lay_by_all,
    look_by_labels,
    look_for_real,
    make_photo,
)
from wayfold.base.geometry import Rect, Size
from wayfold.layout.model import PageLayout, PictureFrame

A4 = Size(210.0, 297.0)
MEDIA = Rect(-3.0, -3.0, 216.0, 303.0)
ROUGHLY = 1.5
"""How far (mm) a face may seem nearer than it should where hand and finder draw it otherwise."""


def test_there_are_faces_enough():
    labels = read_labels()
    assert len(labels) >= 15
    assert sum(len(one.faces) for one in labels) >= 25
    whole = Rect(0.0, 0.0, 1.0, 1.0)
    assert all(whole.contains(face) for one in labels for face in one.faces)
    assert all(one.package.licence for one in labels)


@pytest.mark.parametrize(
    ("face", "box", "said"),
    [
        (Rect(0.4, 0.4, 0.2, 0.1), MEDIA, []),
        (Rect(-0.01, 0.4, 0.2, 0.1), MEDIA, ["cut by its frame", "from the fold"]),
        (Rect(0.04, 0.4, 0.2, 0.1), MEDIA, ["its air cut", "from the fold"]),
        (Rect(0.115, 0.4, 0.2, 0.1), MEDIA, ["11.2 mm from the fold"]),
        (Rect(0.7, 0.4, 0.1, 0.1), MEDIA, []),
        (Rect(0.81, 0.4, 0.1, 0.1), MEDIA, ["5.8 mm from the right"]),
        (Rect(0.4, 0.06, 0.2, 0.1), MEDIA, ["4.6 mm from the head"]),
        # With white all round, only a crop can do harm.
        (Rect(0.02, 0.4, 0.2, 0.1), Rect(20.0, 20.0, 160.0, 220.0), ["its air cut"]),
        (Rect(0.15, 0.4, 0.2, 0.1), Rect(20.0, 20.0, 160.0, 220.0), []),
        # Across the fold, seen from the right page.
        (Rect(0.2, 0.4, 0.1, 0.1), Rect(-213.0, -3.0, 426.0, 303.0), []),
        (Rect(0.45, 0.4, 0.1, 0.1), Rect(-213.0, -3.0, 426.0, 303.0), ["from the fold"]),
        (Rect(0.56, 0.4, 0.1, 0.1), Rect(-213.0, -3.0, 426.0, 303.0), []),
        (Rect(0.34, 0.4, 0.1, 0.1), Rect(-213.0, -3.0, 426.0, 303.0), []),
        (Rect(0.36, 0.4, 0.1, 0.1), Rect(-213.0, -3.0, 426.0, 303.0), ["from the fold"]),
    ],
)
def test_the_judge_sees_what_is_wrong(face, box, said):
    """``face`` in fractions of the frame; the picture is larger by a tenth on every side."""
    crop = Rect(0.1, 0.1, 0.8, 0.8)
    in_picture = Rect(
        crop.x + face.x * crop.width,
        crop.y + face.y * crop.height,
        face.width * crop.width,
        face.height * crop.height,
    )
    page = PageLayout(3, "bled", (PictureFrame(box, "p", crop),))
    wrongs = find_wrongs([page], A4, {"p": [in_picture]})
    assert len(wrongs) == len(said)
    assert all(words in wrong for words, wrong in zip(said, wrongs, strict=True))


def test_no_way_of_laying_one_picture_harms_a_face():
    laid: Counter[str] = Counter()
    wrongs = []
    chance = random.Random(1)
    for labelled in [*read_labels(), *take_parts(50, 1)]:
        photo = make_photo(labelled, look_by_labels(labelled, chance.choice([0.6, 1.0])))
        for numbers in ((2, 3), chance.choice(PAGES)):
            for trim in chance.sample(TRIMS, 2):
                for spread in lay_by_all([photo], trim, numbers):
                    laid[spread.family] += 1
                    wrongs += find_wrongs(spread.pages, trim, {photo.id: labelled.faces})
    assert wrongs == []
    # Some of them were bled, cropped and laid across, so that there was something to do wrong.
    assert {"bled", "across", "reaching", "framed", "window"} <= set(laid), laid


def test_no_way_of_laying_several_pictures_harms_a_face():
    laid: Counter[str] = Counter()
    wrongs = []
    chance = random.Random(2)
    pictures = [*read_labels(), *take_parts(40, 2)]
    for _ in range(12):
        here = chance.sample(pictures, chance.choice([2, 2, 3, 4]))
        photos = [make_photo(one, look_by_labels(one, 1.0)) for one in here]
        faces = {photo.id: one.faces for photo, one in zip(photos, here, strict=True)}
        trim, numbers = chance.choice(TRIMS), chance.choice(PAGES)
        for spread in lay_by_all(photos, trim, numbers):
            laid[spread.family] += 1
            wrongs += find_wrongs(spread.pages, trim, faces)
    assert wrongs == []
    assert {"group", "facing", "two windows"} <= set(laid), laid


def test_faces_that_are_found_come_to_no_harm():
    """What is known of a picture is what looking at it told; the judge has the boxes by hand."""
    files = fetch_pictures()
    laid: Counter[str] = Counter()
    wrongs = []
    faces = unseen = 0
    chance = random.Random(3)
    for labelled in [*read_labels(), *take_parts(12, 9)]:
        look = look_for_real(labelled, files[labelled.file])
        seen = [
            f for f in labelled.faces if any(are_one_face(f, found.box) for found in look.faces)
        ]
        faces += len(labelled.faces)
        unseen += len(labelled.faces) - len(seen)
        photo = make_photo(labelled, look)
        for numbers in ((2, 3), chance.choice(PAGES)):
            for trim in chance.sample(TRIMS, 2):
                for spread in lay_by_all([photo], trim, numbers):
                    laid[spread.family] += 1
                    wrongs += find_wrongs(spread.pages, trim, {photo.id: seen}, ROUGHLY)
    assert wrongs == []
    assert unseen <= 0.05 * faces
    assert {"bled", "framed", "window"} <= set(laid), laid
