"""Looking at whole files."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from tests.labelled_faces import fetch_pictures
from wayfold.base.geometry import Rect
from wayfold.photos.decode import open_whole
from wayfold.photos.look import Look
from wayfold.photos.look_record import pack_look, unpack_look
from wayfold.photos.looking import see
from wayfold.photos.model import Photo, SizePx


def photo_of(path: Path, kind: str = "JPEG", orientation: int = 1) -> Photo:
    with Image.open(path) as image:
        width, height = image.size
    if orientation >= 5:
        width, height = height, width
    return Photo("a", "a", str(path), SizePx(width, height), orientation, kind)


def look(path: Path, kind: str = "JPEG", orientation: int = 1) -> Look:
    seen = see(photo_of(path, kind, orientation))
    assert seen is not None
    return seen.look


@pytest.fixture(scope="module")
def scene(tmp_path_factory) -> Image.Image:
    """A large painted picture: even ground, sharp detail left of the middle, black corner."""
    rng = np.random.default_rng(7)
    picture = np.full((1300, 2200, 3), (120, 150, 190), float)
    for _ in range(60):
        x, y = rng.integers(500, 900), rng.integers(450, 850)
        picture[y : y + 30, x : x + 30] = rng.integers(0, 256, 3)
    picture[:150, :150] = 0
    picture += rng.normal(0, 2, (1300, 2200, 1))
    return Image.fromarray(picture.clip(0, 255).astype(np.uint8))


def test_one_picture_looks_the_same_in_every_kind_of_file(scene, tmp_path):
    looks = []
    for kind, ending in (("JPEG", "jpg"), ("PNG", "png"), ("TIFF", "tif"), ("WebP", "webp")):
        path = tmp_path / f"scene.{ending}"
        scene.save(path, quality=95)
        looks.append(look(path, kind))
    first = looks[0]
    for other in looks[1:]:
        assert other.likeness == first.likeness
        assert other.noise_px == first.noise_px == 2200
        assert other.edge_px == pytest.approx(first.edge_px, abs=0.8)
        assert other.lightness == pytest.approx(first.lightness, abs=0.5)
        assert np.allclose(other.salience.shares, first.salience.shares, atol=3e-3)
        assert [t.share for t in other.palette] == pytest.approx(
            [t.share for t in first.palette], abs=0.02
        )


@pytest.mark.parametrize("orientation", range(1, 9))
def test_it_is_the_upright_picture_that_is_looked_at(scene, tmp_path, orientation):
    # EXIF 2.32, tag 274: what has to be done to the stored pixels, undone by Pillow's names.
    undo = {
        1: None, 2: Image.Transpose.FLIP_LEFT_RIGHT, 3: Image.Transpose.ROTATE_180,
        4: Image.Transpose.FLIP_TOP_BOTTOM, 5: Image.Transpose.TRANSPOSE,
        6: Image.Transpose.ROTATE_90, 7: Image.Transpose.TRANSVERSE,
        8: Image.Transpose.ROTATE_270,
    }[orientation]  # fmt: skip
    small = scene.resize((1100, 650))
    stored = small.transpose(undo) if undo is not None else small
    upright, turned = tmp_path / "upright.png", tmp_path / "turned.png"
    small.save(upright)
    stored.save(turned)
    assert look(turned, "PNG", orientation) == look(upright, "PNG")


def test_the_black_corner_is_clipped_as_far_as_it_matters(scene, tmp_path):
    path = tmp_path / "scene.png"
    scene.resize((1100, 650)).save(path)
    found = look(path, "PNG")
    corner = Rect(0.0, 0.0, 150 / 2200, 150 / 1300)
    assert found.clipped == pytest.approx(found.salience.within(corner), abs=0.004)
    Image.new("RGB", (400, 300), "white").save(path)
    assert look(path, "PNG").clipped == pytest.approx(1.0, abs=1e-3)


def test_grain_is_measured_in_lightness(tmp_path):
    # sRGB 119 is L* 50, and one level more is 0.39 more (CIE 15 with IEC 61966-2-1).
    rng = np.random.default_rng(8)
    path = tmp_path / "grain.png"
    grey = rng.normal(119, 5, (1600, 2400)).clip(0, 255).round().astype(np.uint8)
    Image.fromarray(grey).save(path)
    found = look(path, "PNG")
    assert found.noise_px == 2400
    assert found.noise == pytest.approx(5 * 0.39, rel=0.1)
    assert found.edge_px == 1.4


def test_large_files_are_made_smaller_and_small_ones_are_not(scene, tmp_path):
    path = tmp_path / "scene.jpg"
    scene.save(path)
    image = open_whole(photo_of(path), 1000)
    assert (image.width, image.height) == (1100, 650)
    image = open_whole(photo_of(path), 3000)
    assert (image.width, image.height) == (2200, 1300)
    scene.save(tmp_path / "scene.png", compress_level=0)
    image = open_whole(photo_of(tmp_path / "scene.png", "PNG"), 700)
    assert (image.width, image.height) == (733, 433)


@pytest.mark.parametrize("mode", ["L", "RGB", "RGBA", "CMYK", "LA", "1", "P", "I;16"])
@pytest.mark.parametrize("size", [(1, 1), (3, 200), (900, 40)])
def test_odd_files_have_a_look(tmp_path, mode, size):
    path = tmp_path / ("odd.jpg" if mode == "CMYK" else "odd.png")
    Image.new(mode, size).save(path)
    found = look(path, "JPEG" if mode == "CMYK" else "PNG")
    assert found.likeness == "0" * 16
    assert found.faces == ()
    assert len(found.palette) == 1
    assert unpack_look(pack_look(found)) == found


def test_what_cannot_be_read_has_none(tmp_path):
    path = tmp_path / "cut.jpg"
    path.write_bytes(b"\xff\xd8\xff\xe0 no picture")
    assert see(Photo("a", "a", str(path), SizePx(40, 30))) is None
    assert see(Photo("a", "a", str(tmp_path / "gone.jpg"), SizePx(40, 30))) is None


def test_a_person_is_found_and_kept():
    found = look(fetch_pictures()["grace_hopper.jpg"])
    assert len(found.faces) == 1
    assert found.salience.within(found.faces[0].box) > 0.3
    assert unpack_look(pack_look(found)) == found


def test_a_record_of_another_shape_is_none(scene, tmp_path):
    path = tmp_path / "scene.png"
    scene.resize((420, 260)).save(path)
    whole = json.loads(pack_look(look(path, "PNG")))
    spoilt = [
        {}, [], None, 7, "look", {**whole, "noise": None},
        {**whole, "salience": [3, 3, "QEIPAA=="]}, {**whole, "salience": [1, 1, "no base64"]},
        {**whole, "salience": [True, 1, "QEIPAA=="]}, {**whole, "faces": [[0, 0, 1]]},
        {**whole, "faces": [[0, 0, 1, 1, "x", 0]]}, {**whole, "palette": [[1, 2, 3, 4, 5]]},
        {**whole, "likeness": "0"}, {**whole, "likeness": "z" * 16}, {**whole, "likeness": None},
        {**whole, "noise_px": 0}, {**whole, "noise_px": 1.5}, {**whole, "edge_px": float("nan")},
        *({k: v for k, v in whole.items() if k != name} for name in whole),
    ]  # fmt: skip
    for fields in spoilt:
        assert unpack_look(json.dumps(fields).encode()) is None, fields
    assert unpack_look(b"") is None
    assert unpack_look(b"\x00\xff") is None
