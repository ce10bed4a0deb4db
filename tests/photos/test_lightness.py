"""How light a photograph is, against sRGB's own formula (IEC 61966-2-1) and painted pictures."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from wayfold.base.cache import NoCache
from wayfold.base.geometry import Rect
from wayfold.base.progress import NoProgress
from wayfold.photos.crew import Crew
from wayfold.photos.lightness import FINE, Lightness, measure_lightness
from wayfold.photos.model import Photo
from wayfold.photos.read import read_photographs

# Relative luminance of sRGB's corners and middle grey. IEC 61966-2-1: the primaries' weights are
# 0.2126, 0.7152, 0.0722; the signal 188 is half the light (0.5029), 119 some 0.1845.
COLOURS = [
    ((0, 0, 0), 0.0),
    ((255, 255, 255), 1.0),
    ((255, 0, 0), 0.2126),
    ((0, 255, 0), 0.7152),
    ((0, 0, 255), 0.0722),
    ((188, 188, 188), 0.5029),
    ((119, 119, 119), 0.1845),
]


def read(folder: Path, image: Image.Image, **options: Any) -> Photo:
    folder.mkdir(parents=True, exist_ok=True)
    image.save(folder / "picture.png", **options)
    catalogue = read_photographs([folder], {}, NoCache(), NoProgress(), Crew(0))
    (photo,) = catalogue.photos
    return photo


def measured(photo: Photo) -> Lightness:
    lightness = measure_lightness(photo)
    assert lightness is not None
    return lightness


@pytest.mark.parametrize(("colour", "luminance"), COLOURS)
def test_plain_colours(tmp_path: Path, colour: tuple[int, int, int], luminance: float) -> None:
    found = measured(read(tmp_path, Image.new("RGB", (640, 480), colour)))
    assert found.values == pytest.approx((luminance,) * len(found.values), abs=0.004)


def test_cells_keep_the_pictures_shape(tmp_path: Path) -> None:
    for number, (size, cells) in enumerate(
        [((640, 480), (FINE, 72)), ((400, 800), (48, FINE)), ((900, 300), (FINE, 32))]
    ):
        found = measured(read(tmp_path / str(number), Image.new("RGB", size)))
        assert (found.columns, found.rows) == cells


def test_every_part_is_read_where_it_is(tmp_path: Path) -> None:
    pixels = np.zeros((480, 640, 3), dtype=np.uint8)
    pixels[:240, 320:] = 255  # white at the upper right
    found = measured(read(tmp_path, Image.fromarray(pixels)))
    means = {
        name: float(np.mean(found.within(part)))
        for name, part in {
            "upper left": Rect(0.0, 0.0, 0.45, 0.45),
            "upper right": Rect(0.55, 0.0, 0.45, 0.45),
            "lower right": Rect(0.55, 0.55, 0.45, 0.45),
        }.items()
    }
    assert means == pytest.approx(
        {"upper left": 0.0, "upper right": 1.0, "lower right": 0.0}, abs=0.02
    )


def test_a_turned_picture_is_read_upright(tmp_path: Path) -> None:
    # Exif orientation 6 (CIPA DC-008): the file's first row is the upright picture's right side.
    pixels = np.zeros((480, 640, 3), dtype=np.uint8)
    pixels[:240] = 255
    exif = Image.Exif()
    exif[0x0112] = 6
    found = measured(read(tmp_path, Image.fromarray(pixels), exif=exif))
    assert (found.columns, found.rows) == (72, FINE)
    assert np.mean(found.within(Rect(0.6, 0.0, 0.4, 1.0))) == pytest.approx(1.0, abs=0.02)
    assert np.mean(found.within(Rect(0.0, 0.0, 0.4, 1.0))) == pytest.approx(0.0, abs=0.02)


def test_parts_touch_whole_cells() -> None:
    found = Lightness(2, (0.1, 0.2, 0.3, 0.4))
    assert found.within(Rect(0.0, 0.0, 1.0, 1.0)) == (0.1, 0.2, 0.3, 0.4)
    assert found.within(Rect(0.0, 0.0, 0.5, 0.5)) == (0.1,)
    assert found.within(Rect(0.4, 0.6, 0.2, 0.1)) == (0.3, 0.4)
    assert found.within(Rect(-1.0, -1.0, 1.0, 1.0)) == ()
    assert found.within(Rect(1.0, 0.0, 0.5, 1.0)) == ()


def test_a_lost_file_is_not_known(tmp_path: Path) -> None:
    photo = read(tmp_path, Image.new("RGB", (64, 48)))
    Path(photo.path).unlink()
    assert measure_lightness(photo) is None
    broken = tmp_path / "broken.png"
    broken.write_bytes(b"\x89PNG\r\n\x1a\nnothing more")
    assert measure_lightness(replace(photo, path=str(broken))) is None
