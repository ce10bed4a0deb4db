"""A small book of painted pictures, made once for all tests of the whole path."""

import shutil
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from PIL import Image

from tests.desk_book import LISBON, PORTO, sexagesimal
from wayfold.app.make import make_book
from wayfold.app.new import begin_book
from wayfold.base.progress import NoProgress


def paint(
    path: Path, size: tuple[int, int], hue: int, taken: datetime | None, place: tuple
) -> None:
    """Write a JPEG of a soft gradient with a capture time and place in its EXIF."""
    band = Image.linear_gradient("L").resize(size)
    other = Image.linear_gradient("L").rotate(90).resize(size)
    picture = Image.merge("HSV", (Image.new("L", size, hue), other, band)).convert("RGB")
    exif = Image.Exif()
    if taken is not None:
        exif.get_ifd(0x8769)[0x9003] = taken.strftime("%Y:%m:%d %H:%M:%S")
    latitude, longitude = place
    gps = exif.get_ifd(0x8825)
    gps[1], gps[2] = "N", sexagesimal(latitude)
    gps[3], gps[4] = "E" if longitude >= 0 else "W", sexagesimal(abs(longitude))
    path.parent.mkdir(parents=True, exist_ok=True)
    picture.save(path, quality=90, exif=exif)


def paint_trip(folder: Path) -> None:
    """Twelve pictures over four days in two towns."""
    start = datetime(2025, 5, 12, 9, 30)
    for i in range(12):
        size = [(1200, 800), (800, 1200), (1000, 1000)][i % 3]
        place = LISBON if i < 6 else PORTO
        taken = start + timedelta(hours=8 * i)
        paint(folder / f"IMG {i:02} é🏔.jpg", size, 20 * i, taken, place)


@pytest.fixture(scope="session")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book already made; tests that change it take a copy."""
    root = tmp_path_factory.mktemp("book") / "two towns ü"
    paint_trip(root / "photographs")
    begin_book(root, "Two Towns", [root / "photographs"])
    (root / "texts").mkdir(exist_ok=True)
    (root / "texts" / "foreword.md").write_text("We went *west*.\n", encoding="utf-8")
    make_book(root, NoProgress())
    return root


@pytest.fixture(scope="session")
def place_and_copy(made_once: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """Where a made book lies, and a copy of it to be put there again."""
    root = tmp_path_factory.mktemp("place") / made_once.name
    shutil.copytree(made_once, root)
    (root / ".wayfold" / "cache" / "made.json").unlink()
    make_book(root, NoProgress())  # it lies elsewhere now: what was made has to be noted anew
    copy = tmp_path_factory.mktemp("copy") / made_once.name
    shutil.copytree(root, copy)
    return root, copy


@pytest.fixture
def book(place_and_copy: tuple[Path, Path]) -> Path:
    """A made book, always at the same place and times kept, so that nothing seems changed."""
    root, copy = place_and_copy
    shutil.rmtree(root)
    shutil.copytree(copy, root)
    return root
