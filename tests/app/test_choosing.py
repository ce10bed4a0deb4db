"""Choosing in a whole book: repeats are left with a reason; photos.toml brings them back.

Picture by other people: source package of geovisio 2.15.1, ``tests/data`` (MIT).
"""

import json
import random
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from PIL import Image

from benchmarks.likeness import simulate_repeat
from tests.fetching import fetch_sample
from wayfold.app.choosing import choose_photos
from wayfold.app.new import begin_book
from wayfold.base.progress import NoProgress
from wayfold.cli.main import run

MORNING = datetime(2025, 5, 12, 9, 30)


def save(picture: Image.Image, path: Path, seconds: float) -> None:
    exif = Image.Exif()
    taken = MORNING + timedelta(seconds=seconds)
    exif.get_ifd(0x8769)[0x9003] = taken.strftime("%Y:%m:%d %H:%M:%S")
    picture.save(path, quality=90, exif=exif)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """Three repeats of a road within six seconds, and two other places soon after."""
    samples = fetch_sample("geovisio", "2.15.1", "tests/data")
    folder = tmp_path / "photographs"
    folder.mkdir()
    views = []
    for name in ("1", "c1", "d1"):
        with Image.open(samples / f"{name}.jpg") as image:
            views.append(image.convert("L").resize((900, 600)))
    rng = random.Random(1)
    for number in range(3):
        save(simulate_repeat(views[0], rng), folder / f"road{number}.jpg", 3 * number)
    save(views[1], folder / "second.jpg", 60)
    save(views[2], folder / "third.jpg", 120)
    begin_book(tmp_path, "A Day", [folder])
    return tmp_path


def names_taken(book: Path) -> list[str]:
    choosing = choose_photos(book, NoProgress())
    return sorted(Path(choosing.photos[v.photo].path).stem for v in choosing.verdicts if v.taken)


def test_one_repeat_is_taken_and_the_answer_is_kept(book: Path) -> None:
    found = names_taken(book)
    assert len(found) == 3
    assert {"second", "third"} < set(found)
    assert names_taken(book) == found


def test_a_word_in_photos_toml_wins(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    choosing = choose_photos(book, NoProgress())
    left = next(v.photo for v in choosing.verdicts if not v.taken)
    toml = book / "photos.toml"
    text = toml.read_text(encoding="utf-8")
    head = f"[photo.{left}]"
    assert head in text
    toml.write_text(text.replace(head, f'{head}\npick = "take"'), encoding="utf-8")
    capsys.readouterr()
    assert run(["choose", str(book), "--json"]) == 0
    report = json.loads(capsys.readouterr().out)
    rows = {row["photo"]: row for row in report["photographs"]}
    assert rows[left]["taken"]
    assert rows[left]["by_person"]
    assert sum(row["taken"] for row in report["photographs"]) == 3
    assert [len(group) for group in report["sets"]["alike"]] == [3]
    assert all(row["reason"] for row in report["photographs"])


def test_it_reads_in_lines(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["choose", str(book)]) == 0
    out = capsys.readouterr().out
    assert "2025-05-12" in out
    assert "Runner-up: road" in out
    assert "In all 3 of 5 photographs are taken." in out


def test_no_book_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["choose", str(tmp_path / "nowhere")]) == 2
    assert "nowhere" in capsys.readouterr().err
