"""A file's ending is what Python's own paths say it is."""

from __future__ import annotations

from pathlib import PurePosixPath

import pytest

from wayfold.photos.kinds import Kind, is_other_picture, kind_of_name


@pytest.mark.parametrize(
    "name",
    [
        *("a.jpg", "a.JPG", "/b.c/a", "/b.jpg/a", "/b/a.tar.jpg", ".jpg", "a.", "a", "", "/b/.jpg"),
        *("a b.Tif", "/é🏔/ü.png", "a.jpg/", "a..jpg", "/b/a.jpg.xmp"),
    ],
)
def test_the_ending_is_that_of_the_path(name):
    suffix = PurePosixPath(name).suffix.lower()
    told = kind_of_name(name) is not None
    assert told == (suffix in {".jpg", ".tif", ".png"} and not name.endswith("/"))


def test_other_pictures_are_told_apart():
    assert kind_of_name("/x/a.HEIC") is Kind.HEIC
    assert is_other_picture("/x/a.psd")
    assert not is_other_picture("/x/a.jpg")
