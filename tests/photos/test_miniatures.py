"""A print picture's miniature: the same picture, small, in sRGB, and nothing else in the file."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from wayfold.base.geometry import Rect
from wayfold.base.progress import NoProgress
from wayfold.photos.derive import DerivativeJob, make_derivatives
from wayfold.photos.make_profile import make_profile
from wayfold.photos.model import Photo

PART = Rect(0.0, 0.0, 1.0, 1.0)


def derive(photo: Photo, folder: Path, small: bool = True) -> DerivativeJob:
    target, miniature = folder / f"{small}.jpg", folder / "small" / "a.jpg"
    job = DerivativeJob(photo, PART, 90.0, 60.0, 300.0, target, miniature if small else None)
    assert make_derivatives([job], NoProgress(), workers=0) == ()
    return job


def pixels(path: Path, size: tuple[int, int]) -> Any:
    with Image.open(path) as image:
        return np.asarray(image.convert("RGB").resize(size, Image.Resampling.BOX)).astype(int)


def test_it_shows_the_same_and_the_print_picture_is_as_without(
    folder: Path, paint: Any, read: Any, tmp_path: Path
) -> None:
    paint(1500, 1000).save(folder / "a.jpg", quality=95)
    (photo,) = read(folder).photos
    job = derive(photo, tmp_path)
    assert job.miniature is not None
    with Image.open(job.miniature) as image:
        assert image.size == (320, 213)
        assert not image.getexif()
        assert "icc_profile" not in image.info
    assert np.abs(pixels(job.miniature, (12, 8)) - pixels(job.target, (12, 8))).max() <= 6
    assert derive(photo, tmp_path, small=False).target.read_bytes() == job.target.read_bytes()


def test_a_small_picture_is_not_enlarged(
    folder: Path, paint: Any, read: Any, tmp_path: Path
) -> None:
    paint(90, 60).save(folder / "a.jpg")
    (photo,) = read(folder).photos
    miniature = derive(photo, tmp_path).miniature
    assert miniature is not None
    with Image.open(miniature) as image:
        assert image.size == (90, 60)


def test_colours_of_a_wide_space_are_those_a_screen_shows(
    folder: Path, read: Any, tmp_path: Path
) -> None:
    # CSS Color Module Level 4: sRGB red is color(display-p3 0.9175 0.2003 0.1386).
    wide = Image.new("RGB", (900, 600), (234, 51, 35))
    wide.save(folder / "a.png", icc_profile=make_profile("Display P3"))
    (photo,) = read(folder).photos
    miniature = derive(photo, tmp_path).miniature
    assert miniature is not None
    assert pixels(miniature, (1, 1))[0, 0] == pytest.approx((255, 0, 0), abs=3)
