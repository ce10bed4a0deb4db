"""The two wide profiles, against libvips' own P3 profile and published colorimetry."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import pyvips
from PIL import ImageCms

from wayfold.demo.profiles import write_profile


def open_profile(name: str) -> Any:
    return ImageCms.ImageCmsProfile(io.BytesIO(write_profile(name))).profile


def test_adobe_rgb_has_the_published_colorants() -> None:
    # Adobe RGB (1998) Color Image Encoding 2005-05, annex A: the ICC PCS (D50) matrix.
    profile = open_profile("adobe-rgb")
    published = {
        "red_colorant": (0.60974, 0.31111, 0.01947),
        "green_colorant": (0.20528, 0.62567, 0.06087),
        "blue_colorant": (0.14919, 0.06322, 0.74457),
    }
    for name, xyz in published.items():
        assert getattr(profile, name)[0] == pytest.approx(xyz, abs=3e-4), name


def test_little_cms_accepts_them() -> None:
    for name, title in (("display-p3", "Display P3"), ("adobe-rgb", "Adobe RGB (1998)")):
        profile = open_profile(name)
        assert profile.profile_description == title
        assert profile.version == pytest.approx(4.4, abs=0.05)
        assert len(write_profile(name)) % 4 == 0


def test_p3_agrees_with_the_profile_in_libvips(tmp_path: Path) -> None:
    """libvips carries a Display P3 profile of its own (option "p3")."""
    rng = np.random.default_rng(7)
    pixels = rng.integers(0, 256, (40, 40, 3), dtype=np.uint8)
    image = pyvips.Image.new_from_array(pixels, interpretation="srgb")
    ours = tmp_path / "ours.icc"
    ours.write_bytes(write_profile("display-p3"))
    there = image.icc_transform("p3", input_profile="srgb", intent="relative").numpy().astype(int)
    mine = image.icc_transform(str(ours), input_profile="srgb", intent="relative").numpy()
    # Theirs has its curve as a table of a few points, ours as the formula: the dark end differs.
    difference = np.abs(there - mine.astype(int))
    assert difference.max() <= 2
    assert difference.mean() < 0.1
    other = tmp_path / "other.icc"
    other.write_bytes(write_profile("adobe-rgb"))
    wrong = image.icc_transform(str(other), input_profile="srgb", intent="relative").numpy()
    assert np.abs(there - wrong.astype(int)).mean() > 2


def test_any_other_name_is_refused() -> None:
    with pytest.raises(KeyError):
        write_profile("prophoto")
