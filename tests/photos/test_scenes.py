"""Two pictures of one scene are known as such, pictures of different scenes are not.

Pictures by other people: source package of geovisio 2.15.1, ``tests/data`` (MIT): two cameras that
moved along a road and took a picture every two seconds (1-5, e1-e5), two pictures of one spot a
minute and a half apart (b1, b2), and single ones (c1, d1).
"""

from __future__ import annotations

import itertools
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from tests.fetching import fetch_sample
from wayfold.photos.model import Photo, SizePx
from wayfold.photos.scene_marks import SceneMarks, read_scene_marks
from wayfold.photos.scene_match import SAME_SCENE, count_agreeing

NAMES = ("1", "2", "3", "4", "5", "b1", "b2", "c1", "d1", "e1", "e2", "e3", "e4", "e5")


def make_record(path: Path) -> Photo:
    with Image.open(path) as image:
        return Photo(path.stem, path.stem, str(path), SizePx(*image.size))


@pytest.fixture(scope="module")
def folder() -> Path:
    return fetch_sample("geovisio", "2.15.1", "tests/data")


@pytest.fixture(scope="module")
def marks(folder: Path) -> dict[str, SceneMarks]:
    found = {name: read_scene_marks(make_record(folder / f"{name}.jpg")) for name in NAMES}
    return {name: m for name, m in found.items() if m is not None}


def test_neighbours_on_the_road_show_one_scene(marks: dict[str, SceneMarks]) -> None:
    assert set(marks) == set(NAMES)
    for one, other in [*itertools.pairwise("12345"), *itertools.pairwise(NAMES[-5:])]:
        assert count_agreeing(marks[one], marks[other]) >= 2 * SAME_SCENE, (one, other)


def test_pictures_of_different_places_do_not(marks: dict[str, SceneMarks]) -> None:
    def place(name: str) -> str:
        return "road" if name.isdigit() else name[0]

    for one, other in itertools.combinations(NAMES, 2):
        if place(one) != place(other):
            assert count_agreeing(marks[one], marks[other]) < SAME_SCENE / 2, (one, other)


def test_another_camera_sees_it_narrower_darker_noisier_and_turned(
    folder: Path, marks: dict[str, SceneMarks], tmp_path: Path
) -> None:
    rng = np.random.default_rng(4)
    for name in ("b1", "c1", "e1"):
        with Image.open(folder / f"{name}.jpg") as image:
            image.thumbnail((1600, 1600))
            width, height = image.size
            turned = image.convert("RGB").rotate(2.5, Image.Resampling.BICUBIC)
            part = turned.crop((width // 8, height // 8, width * 7 // 8, height * 7 // 8))
        values = np.asarray(part, float) * [0.75, 0.8, 0.7] + rng.normal(
            0, 6, (*part.size[::-1], 3)
        )
        path = tmp_path / f"{name}.jpg"
        Image.fromarray(np.clip(values, 0, 255).astype(np.uint8)).save(path, quality=85)
        seen = read_scene_marks(make_record(path))
        assert seen is not None
        assert count_agreeing(seen, marks[name]) >= SAME_SCENE, name
        assert count_agreeing(marks[name], seen) >= SAME_SCENE, name


def test_an_empty_sky_and_a_cut_file_have_nothing_to_know_them_by(tmp_path: Path) -> None:
    Image.new("RGB", (900, 600), (90, 140, 220)).save(tmp_path / "sky.jpg")
    sky = read_scene_marks(make_record(tmp_path / "sky.jpg"))
    assert sky is not None
    assert len(sky.spots) == 0
    assert count_agreeing(sky, sky) == 0
    whole = (tmp_path / "sky.jpg").read_bytes()
    record = make_record(tmp_path / "sky.jpg")
    (tmp_path / "sky.jpg").write_bytes(whole[: len(whole) // 3])
    assert read_scene_marks(record) is None
