"""Crops: nothing that matters is cut, and none keeps less than the plain middle would."""

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from wayfold.base.geometry import Rect
from wayfold.photos.crop import (
    LEAST_KEPT,
    WHOLE,
    Keep,
    bears_crop,
    claim_room,
    find_crop,
    list_crops,
)
from wayfold.photos.look import Face, Look, Salience

COLUMNS, ROWS = 12, 8


def make_look(shares, faces=()) -> Look:
    total = sum(shares)
    salience = Salience(COLUMNS, ROWS, tuple(s / total for s in shares))
    return Look(tuple(faces), salience, (), 1.4, 0.3, 2000, 0.0, 55.0)


def mirror(look: Look) -> Look:
    rows = [look.salience.shares[r * COLUMNS : (r + 1) * COLUMNS] for r in range(ROWS)]
    faces = [
        Face(Rect(1 - f.box.right, f.box.y, f.box.width, f.box.height), f.confidence, -f.facing)
        for f in look.faces
    ]
    return make_look([s for row in rows for s in reversed(row)], faces)


saliences = st.lists(st.floats(0.01, 1.0), min_size=COLUMNS * ROWS, max_size=COLUMNS * ROWS)
boxes = st.builds(Rect, *(st.floats(0.02, 0.8),) * 2, *(st.floats(0.05, 0.18),) * 2)
faces = st.builds(Face, boxes, st.just(0.9), st.floats(-1, 1))
looks = st.builds(make_look, saliences, st.lists(faces, max_size=3))
shapes = st.floats(0.6, 2.2)


@given(looks, shapes, shapes, st.floats(0.0, 0.4))
@settings(deadline=None)
def test_a_crop_has_its_shape_keeps_faces_and_most_of_what_is_looked_at(look, aspect, wanted, most):
    crop = find_crop(look, aspect, wanted, most)
    assume(crop is not None)
    assert WHOLE.contains(crop, 1e-9)
    assert crop.width / crop.height * aspect == pytest.approx(wanted)
    assert crop.area >= 1 - most - 1e-6
    assert look.salience.within(crop) >= LEAST_KEPT - 1e-9
    assert all(crop.contains(claim_room(face, aspect)) for face in look.faces)


@given(st.none() | looks, shapes, shapes, st.floats(0.0, 0.4))
@settings(deadline=None)
def test_whether_there_is_a_crop_is_told_without_finding_it(look, aspect, wanted, most):
    found = find_crop(look, aspect, wanted, most)
    assert bears_crop(look, aspect, wanted, most) is (found is not None)


@given(looks, shapes, shapes, st.floats(0.0, 0.4))
@settings(deadline=None, max_examples=40)
def test_other_crops_are_as_sound_and_well_apart(look, aspect, wanted, most):
    crops = list_crops(look, aspect, wanted, most)
    if find_crop(look, aspect, wanted, most) is not None:
        assert crops
    for n, crop in enumerate(crops):
        assert WHOLE.contains(crop, 1e-9)
        assert crop.width / crop.height * aspect == pytest.approx(wanted)
        assert crop.area >= 1 - most - 1e-6
        assert look.salience.within(crop) >= LEAST_KEPT - 1e-9
        assert all(crop.contains(claim_room(face, aspect)) for face in look.faces)
        assert crop not in crops[:n]


def test_a_picture_not_looked_at_can_be_moved_too():
    # Twice as wide as the frame may lose a half: it can be moved from edge to edge.
    crops = list_crops(None, 2.0, 1.0, 0.5)
    assert crops[0] == Rect(0.25, 0.0, 0.5, 1.0)
    assert {round(c.x, 2) for c in crops} >= {0.0, 0.5}
    assert all(c.width == pytest.approx(0.5) for c in crops)


@given(looks, shapes, shapes)
@settings(deadline=None)
def test_no_crop_keeps_less_than_the_plain_middle(look, aspect, wanted):
    crop = find_crop(look, aspect, wanted, 0.5)
    width = min(1.0, wanted / aspect)
    height = width * aspect / wanted
    middle = Rect((1 - width) / 2, (1 - height) / 2, width, height)
    if crop is None:
        # Then the middle cuts something too, or keeps too little.
        cut = not all(middle.contains(claim_room(face, aspect)) for face in look.faces)
        assert cut or middle.area < 0.5 or look.salience.within(middle) < LEAST_KEPT + 1e-9
    elif all(middle.contains(claim_room(face, aspect)) for face in look.faces):
        assert look.salience.within(crop) >= look.salience.within(middle) - 1e-6


@given(looks, shapes)
@settings(deadline=None)
def test_a_frame_of_the_pictures_own_shape_shows_all_of_it(look, aspect):
    assert find_crop(look, aspect, aspect, 0.0) == WHOLE


@given(looks, shapes, shapes)
@settings(deadline=None)
def test_a_mirrored_picture_is_cropped_mirrored(look, aspect, wanted):
    one, other = find_crop(look, aspect, wanted, 0.3), find_crop(mirror(look), aspect, wanted, 0.3)
    assert (one is None) == (other is None)
    if one and other:
        # Ties may fall either way; what is kept is the same.
        kept = mirror(look).salience.within(other)
        assert look.salience.within(one) == pytest.approx(kept, abs=1e-6)


def test_a_face_moves_the_window_and_one_too_many_forbids_it():
    even = [1.0] * (COLUMNS * ROWS)
    left = Face(Rect(0.05, 0.3, 0.1, 0.1), 0.9)
    right = Face(Rect(0.85, 0.3, 0.1, 0.1), 0.9)
    crop = find_crop(make_look(even, [left]), 1.5, 1.4, 0.2)
    assert crop is not None
    assert crop.x < 0.02
    assert find_crop(make_look(even, [left, right]), 1.5, 1.2, 0.3) is None


def test_the_salience_of_cells_at_a_border_counts_by_area():
    look = make_look([1.0] * (COLUMNS * ROWS))
    assert look.salience.within(Rect(0.1, 0.2, 0.35, 0.55)) == pytest.approx(0.35 * 0.55)
    assert look.salience.within(WHOLE) == pytest.approx(1.0)


def test_a_face_goes_out_of_the_fold():
    """A face in the middle of a spread is moved aside by as much zoom as is allowed."""
    shares = [1.0] * (COLUMNS * ROWS)
    face = Face(Rect(0.47, 0.4, 0.05, 0.08), 0.9)
    keep = Keep(WHOLE, (0.47, 0.53))
    look = make_look(shares, [face])
    assert find_crop(look, 1.4, 1.4, 0.0, keep=keep) is None
    keep = Keep(WHOLE, (0.48, 0.52))
    # All is worth looking at: so much zoom would lose too much.
    assert find_crop(look, 1.4, 1.4, 0.3, keep=keep) is None
    lone = [100.0 if 3 <= i % COLUMNS <= 8 and 2 <= i // COLUMNS <= 5 else 0.1 for i in range(96)]
    crop = find_crop(make_look(lone, [face]), 1.4, 1.4, 0.3, keep=keep)
    assert crop is not None
    room = claim_room(face, 1.4)
    low, high = crop.x + 0.48 * crop.width, crop.x + 0.52 * crop.width
    assert room.right <= low + 1e-9 or room.x >= high - 1e-9
    off = Face(Rect(0.40, 0.4, 0.05, 0.08), 0.9)
    beside = find_crop(make_look([*shares], [off]), 1.4, 1.4, 0.07, keep=Keep(WHOLE, (0.47, 0.53)))
    assert beside is not None


def test_a_picture_nobody_looked_at_is_cropped_about_its_middle():
    crop = find_crop(None, 1.5, 1.35, 0.2)
    assert crop is not None
    assert crop.center.x == pytest.approx(0.5)
    assert crop.center.y == pytest.approx(0.5)
    assert crop.width == pytest.approx(0.9)
