"""The likeness of pictures against another library's cosine transform, and on repeats by hand.

Pictures by other people: source package of geovisio 2.15.1, ``tests/data`` (MIT).
"""

from __future__ import annotations

import random
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from scipy.fft import dctn

from benchmarks.likeness import measure, simulate_repeat
from tests.fetching import fetch_sample
from wayfold.photos.likeness import count_unlike, hash_likeness


@pytest.fixture(scope="module")
def folder() -> Path:
    return fetch_sample("geovisio", "2.15.1", "tests/data")


def bits_of(likeness: str) -> list[bool]:
    return [digit == "1" for digit in f"{int(likeness, 16):064b}"]


def test_the_bits_are_the_lowest_waves_above_their_median(folder: Path) -> None:
    # Oracle: SciPy's DCT-II of the same 32 x 32 means (box filter: exact for whole multiples).
    with Image.open(folder / "c1.jpg") as image:
        grey = np.asarray(image.convert("L").resize((320, 256)), dtype=float)
    means = grey.reshape(32, 8, 32, 10).mean(axis=(1, 3))
    waves = dctn(means, type=2)[1:9, 1:9]
    assert bits_of(hash_likeness(grey)) == list((waves > np.median(waves)).ravel())


def test_light_contrast_and_size_do_not_matter(folder: Path) -> None:
    with Image.open(folder / "d1.jpg") as image:
        grey = np.asarray(image.convert("L").resize((640, 480)), dtype=float)
    likeness = hash_likeness(grey)
    assert hash_likeness(0.6 * grey + 20.0) == likeness
    assert (
        count_unlike(hash_likeness(grey.reshape(240, 2, 320, 2).mean(axis=(1, 3))), likeness) <= 1
    )


def test_repeats_by_hand_are_alike_and_other_places_are_not(folder: Path) -> None:
    views = {}
    for name in ("1", "b1", "c1", "d1"):
        with Image.open(folder / f"{name}.jpg") as image:
            views[name] = image.convert("L").resize((640, 480))
    rng = random.Random(3)
    for name, view in views.items():
        likeness = hash_likeness(np.asarray(simulate_repeat(view, rng)))
        again = hash_likeness(np.asarray(simulate_repeat(view, rng)))
        assert count_unlike(likeness, again) <= 16, name
        for other, unlike in views.items():
            if other != name:
                assert count_unlike(likeness, hash_likeness(np.asarray(unlike))) > 16


def test_precision_and_recall_of_simulated_repeats(folder: Path, tmp_path: Path) -> None:
    # Goal of the project's own (no single source): F1 of 0.9 at least.
    for name in ("1", "b1", "c1", "d1", "e1"):
        (tmp_path / f"{name}.jpg").symlink_to(folder / f"{name}.jpg")
    found = measure([tmp_path])
    precision, recall = found["precision"], found["recall"]
    assert 2 * precision * recall / (precision + recall) >= 0.9


@pytest.mark.parametrize("size", [(1, 1), (1, 300), (300, 2), (33, 31), (5, 5)])
@pytest.mark.parametrize("value", [0, 77, 255])
def test_a_picture_of_one_colour_has_no_bits(size: tuple[int, int], value: int) -> None:
    assert hash_likeness(np.full(size, value, dtype=np.uint8)) == "0" * 16
