"""The eight orientations, on other people's files and on painted ones."""

from __future__ import annotations

import io
import shutil
from pathlib import Path
from typing import Any

import numpy as np
import pi_heif
import pytest
from PIL import Image, ImageOps

from wayfold.base.geometry import Rect
from wayfold.photos.derive import make_preview
from wayfold.photos.model import SizePx
from wayfold.photos.orientation import locate_stored, stand_upright

WHOLE = Rect(0, 0, 1, 1)


def render(photo: Any, crop: Rect, target: Path, longest_px: int = 10_000) -> np.ndarray[Any, Any]:
    assert make_preview(photo, crop, longest_px, target) is None
    return np.asarray(Image.open(target).convert("RGB")).astype(int)


def difference(one: np.ndarray[Any, Any], other: np.ndarray[Any, Any]) -> float:
    assert one.shape == other.shape
    return float(np.abs(one - other).mean())


@pytest.mark.parametrize("ending", ["jpg", "webp"])
@pytest.mark.parametrize("orientation", range(2, 9))
def test_third_party_samples_stand_upright(
    pillow_images: Path, read_one: Any, tmp_path: Path, orientation: int, ending: str
) -> None:
    # Pillow's samples: the same portrait stored in each of the eight ways.
    photo = read_one(pillow_images / f"hopper_orientation_{orientation}.{ending}")
    assert photo.orientation == orientation
    upright = np.asarray(Image.open(pillow_images / "hopper.jpg").convert("RGB")).astype(int)
    shown = render(photo, WHOLE, tmp_path / "shown.jpg")
    assert difference(shown, upright) < 8
    for wrong in (upright[::-1], upright[:, ::-1], np.rot90(upright), np.rot90(upright, 3)):
        assert difference(shown, wrong) > 30


@pytest.mark.parametrize("orientation", range(1, 9))
def test_third_party_tiff_samples_stand_upright(
    pillow_images: Path, read_one: Any, tmp_path: Path, orientation: int
) -> None:
    # Pillow's fax samples with the TIFF 6.0 Orientation tag; all show g4_orientation_1.
    photo = read_one(pillow_images / f"g4_orientation_{orientation}.tif")
    assert (photo.orientation, photo.size) == (orientation, SizePx(590, 88))
    upright = Image.open(pillow_images / "g4_orientation_1.tif").convert("RGB")
    shown = render(photo, WHOLE, tmp_path / "shown.jpg")
    assert difference(shown, np.asarray(upright).astype(int)) < 6


def test_heic_is_not_turned_twice(heif_images: Path, read_one: Any, tmp_path: Path) -> None:
    # A camera's portrait, stored sideways with both a turn box (irot) and EXIF orientation.
    source = heif_images / "heif_special/guitar_cw90.hif"
    photo = read_one(source)
    assert photo.orientation == 1
    assert photo.size == SizePx(4672, 7008)
    exif = Image.Exif()
    exif.load(pi_heif.open_heif(source).info["exif"])
    thumbnail = exif.get_ifd(0x8769)  # the camera's own idea of the stored size: landscape
    assert (thumbnail[0xA002], thumbnail[0xA003]) == (7008, 4672)
    decoded = pi_heif.open_heif(source).to_pillow().resize((64, 96), Image.Resampling.BOX)
    shown = render(photo, WHOLE, tmp_path / "a.jpg", 96)
    assert difference(shown, np.asarray(decoded).astype(int)) < 10


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("longest_px", [10_000, 100])
def test_crop_is_cut_from_the_upright_picture(
    folder: Path, paint: Any, read: Any, tmp_path: Path, orientation: int, longest_px: int
) -> None:
    # Reference: Pillow's exif_transpose, then its crop.
    picture = paint(480, 322)
    exif = picture.getexif()
    exif[0x0112] = orientation
    picture.save(folder / "a.jpg", exif=exif, quality=98, subsampling=0)
    (photo,) = read(folder).photos
    crop = Rect(0.25, 0.125, 0.5, 0.625)
    upright = ImageOps.exif_transpose(Image.open(folder / "a.jpg"))
    assert upright.size == (photo.size.width_px, photo.size.height_px)
    width, height = upright.size
    box = [round(v) for v in (0.25 * width, 0.125 * height, 0.75 * width, 0.75 * height)]
    cut = upright.crop((box[0], box[1], box[2], box[3])).convert("RGB")
    shown = render(photo, crop, tmp_path / "a.jpg", longest_px)
    if longest_px == 100:
        assert max(shown.shape) == 100
        cut = cut.resize((shown.shape[1], shown.shape[0]), Image.Resampling.LANCZOS)
    assert difference(shown, np.asarray(cut).astype(int)) < 5


@pytest.mark.parametrize("orientation", range(1, 9))
def test_parts_go_to_their_stored_place_and_sizes_back(orientation: int) -> None:
    part = Rect(0.1, 0.2, 0.3, 0.4)
    stored = locate_stored(part, orientation)
    assert stored.area == pytest.approx(part.area)
    assert locate_stored(WHOLE, orientation) == WHOLE
    size = SizePx(3, 2)
    assert stand_upright(stand_upright(size, orientation), orientation) == size


def test_senseless_orientation_counts_as_upright(folder: Path, paint: Any, read: Any) -> None:
    for value in (0, 9, 255):
        picture = paint(40, 30, value)
        exif = picture.getexif()
        exif[0x0112] = value
        picture.save(folder / f"{value}.jpg", exif=exif)
    assert {p.orientation for p in read(folder).photos} == {1}


def test_png_orientation_behind_the_pixels(folder: Path, paint: Any, read: Any) -> None:
    # PNG third edition, 11.3.4.5: eXIf may stand before or after the pixels.
    exif = Image.Exif()
    exif[0x0112] = 6
    block = exif.tobytes().removeprefix(b"Exif\0\0")
    buffer = io.BytesIO()
    paint(40, 30).save(buffer, "PNG", exif=block)
    data = buffer.getvalue()
    place = data.index(b"eXIf") - 4
    chunk = data[place : place + 12 + len(block)]
    late = data.replace(chunk, b"")
    end = late.index(b"IEND") - 4
    (folder / "early.png").write_bytes(data)
    (folder / "late.png").write_bytes(late[:end] + chunk + late[end:])
    for photo in read(folder).photos:
        assert (photo.orientation, photo.size) == (6, SizePx(30, 40))


def test_shrunken_decoding_keeps_the_place_of_the_crop(
    pillow_images: Path, folder: Path, read: Any, tmp_path: Path
) -> None:
    # A photograph of 2000 x 1072 px, decoded at a fraction of its size: no shift, no cut edge.
    shutil.copy(pillow_images / "xmp_test.jpg", folder / "a.jpg")
    (photo,) = read(folder).photos
    whole = Image.open(folder / "a.jpg").convert("RGB")
    for crop in (WHOLE, Rect(0.31, 0.17, 0.43, 0.59)):
        box = [
            round(v) for v in (crop.x * 2000, crop.y * 1072, crop.right * 2000, crop.bottom * 1072)
        ]
        shown = render(photo, crop, tmp_path / "a.jpg", 120)
        size = (shown.shape[1], shown.shape[0])
        wanted = np.asarray(
            whole.crop((box[0], box[1], box[2], box[3])).resize(size, Image.Resampling.LANCZOS)
        )
        grey_shown, grey_wanted = shown.mean(axis=2), wanted.astype(int).mean(axis=2)
        best = min(
            (np.abs(np.roll(grey_shown, (dy, dx), (0, 1)) - grey_wanted)[2:-2, 2:-2].mean(), dy, dx)
            for dy in (-1, 0, 1) for dx in (-1, 0, 1)
        )  # fmt: skip
        assert best[1:] == (0, 0)


@pytest.mark.parametrize("ratio", [2, 3, 5, 9])
def test_shrunken_decoding_keeps_fine_detail(
    folder: Path, read: Any, tmp_path: Path, ratio: int
) -> None:
    # Stripes of four pixels in the result: none may be lost to the decoder's coarse shrinking.
    width = 240 * ratio
    stripes = np.where(np.arange(width) // (2 * ratio) % 2, 200, 60).astype("uint8")
    Image.fromarray(np.repeat(stripes[None, :], 160 * ratio, 0)).convert("RGB").save(
        folder / "a.jpg", quality=98
    )
    (photo,) = read(folder).photos
    shown = render(photo, WHOLE, tmp_path / "a.jpg", 240)[80, :, 1]
    middles = shown[8:-8].reshape(-1, 4)
    assert middles.max(axis=1).min() > 170
    assert middles.min(axis=1).max() < 90
