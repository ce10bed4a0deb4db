"""Crops of pictures with faces boxed by hand: none keeps less than the plain middle would.

What is kept is reckoned here anew, as the sum over cells of what of them lies in the window.
"""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.labelled_faces import Labelled, read_labels, take_parts
from wayfold.base.geometry import Rect
from wayfold.photos.crop import LEAST_KEPT, find_crop
from wayfold.photos.look import Face, Look, Salience

PICTURES = (*read_labels(), *take_parts(60, 3))
AIR = 0.35
CLOSE = 1e-6


def measure_kept(look: Look, window: Rect) -> float:
    """Give the share of the salient in a window: row weights x shares x column weights."""
    salience = look.salience
    shares = np.array(salience.shares).reshape(salience.rows, salience.columns)
    down = _weigh(salience.rows, window.y, window.bottom)
    across = _weigh(salience.columns, window.x, window.right)
    return float(down @ shares @ across)


def _weigh(cells: int, start: float, end: float) -> np.ndarray:
    """Give what of each cell lies between ``start`` and ``end``, as parts of the cell."""
    edges = np.arange(cells + 1) / cells
    return np.clip(np.minimum(edges[1:], end) - np.maximum(edges[:-1], start), 0, None) * cells


def find_middle(aspect: float, wanted: float) -> Rect:
    """Give the largest window of a shape about the middle."""
    width, height = min(1.0, wanted / aspect), min(1.0, aspect / wanted)
    return Rect((1 - width) / 2, (1 - height) / 2, width, height)


def harms(window: Rect, labelled: Labelled, air: float) -> bool:
    """Whether a window cuts a face, or the air round it as far as the picture has any."""
    for face in labelled.faces:
        down = air * face.height
        across = down / labelled.size.aspect
        room = Rect(face.x - across, face.y - down, face.width + 2 * across, face.height + 2 * down)
        within = room.overlap(Rect(0.0, 0.0, 1.0, 1.0))
        if within is None or not window.contains(within, CLOSE):
            return True
    return False


@st.composite
def looks(draw: st.DrawFn, labelled: Labelled) -> Look:
    """Give a look of a picture: faces as labelled, the salient in bumps anywhere, some even."""
    rows, columns = draw(st.sampled_from([(8, 12), (16, 16), (24, 18)]))
    y, x = np.mgrid[0:rows, 0:columns]
    grid = np.full((rows, columns), draw(st.floats(0.0, 1.0)) + 1e-3)
    for _ in range(draw(st.integers(0, 4))):
        middle = draw(st.floats(0, rows)), draw(st.floats(0, columns))
        wide = draw(st.floats(0.3, 6.0))
        bump = np.exp(-((y - middle[0]) ** 2 + (x - middle[1]) ** 2) / wide**2)
        grid += draw(st.floats(0.1, 20.0)) * bump
    shares = tuple(float(share) for share in (grid / grid.sum()).ravel())
    faces = tuple(Face(box, 1.0) for box in labelled.faces)
    return Look(faces, Salience(columns, rows, shares), (), 1.4, 0.3, 2000, 0.0, 55.0)


@given(st.data(), st.sampled_from(PICTURES), st.floats(0.4, 3.2), st.floats(0.02, 0.5))
@settings(deadline=None, max_examples=150)
def test_no_crop_keeps_less_than_the_middle_nor_cuts_a_face(data, labelled, wanted, most_loss):
    look = data.draw(looks(labelled))
    aspect = labelled.size.aspect
    crop = find_crop(look, aspect, wanted, most_loss)
    middle = find_middle(aspect, wanted)
    if crop is None:
        # Then the middle was no answer either.
        lost = 1.0 - middle.area > most_loss - CLOSE
        too_little = measure_kept(look, middle) < LEAST_KEPT + CLOSE
        assert lost or too_little or harms(middle, labelled, 0.5)
        return
    assert not harms(crop, labelled, AIR)
    assert measure_kept(look, crop) >= LEAST_KEPT - CLOSE
    if not harms(middle, labelled, 0.5):
        assert measure_kept(look, crop) >= measure_kept(look, middle) - CLOSE


def test_some_pictures_can_be_cropped_and_some_cannot():
    """So the property above has both cases to look at."""
    even = Salience(4, 4, (1 / 16,) * 16)
    found = [
        find_crop(
            Look(tuple(Face(b, 1.0) for b in one.faces), even, (), 1.4, 0.3, 2000, 0.0, 55.0),
            one.size.aspect,
            one.size.aspect * by,
            0.08,
        )
        for one in read_labels()
        for by in (0.93, 0.97, 1.0, 1.03, 1.07)
    ]
    cropped = sum(crop is not None for crop in found)
    assert len(found) > cropped > len(found) / 3
