"""Whatever the person brings, the message says what to do and nothing is lost."""

import shutil
from datetime import datetime
from pathlib import Path

import pytest

from tests.app.conftest import LISBON, paint
from wayfold.app.make import make_book
from wayfold.app.new import begin_book
from wayfold.base.errors import ConflictError, NotFoundError, UserError
from wayfold.base.progress import NoProgress


def start(tmp_path: Path) -> Path:
    root = tmp_path / "book"
    (root / "photographs").mkdir(parents=True)
    begin_book(root, "Book", [root / "photographs"])
    return root


def refusal(root: Path) -> UserError:
    with pytest.raises(UserError) as caught:
        make_book(root, NoProgress())
    return caught.value


def test_no_photographs(tmp_path: Path) -> None:
    error = refusal(start(tmp_path))
    assert "no photographs" in error.what
    assert "book.toml" in error.remedy


def test_none_readable(tmp_path: Path) -> None:
    root = start(tmp_path)
    (root / "photographs" / "torn.jpg").write_bytes(b"\xff\xd8\xff torn")
    (root / "photographs" / "empty.jpg").write_bytes(b"")
    error = refusal(root)
    assert "torn.jpg" in error.what
    assert "empty.jpg" in error.what


def test_a_folder_of_photographs_that_is_gone(tmp_path: Path) -> None:
    root = start(tmp_path)
    shutil.rmtree(root / "photographs")
    assert "photographs" in refusal(root).where


def test_one_photograph_only(tmp_path: Path) -> None:
    root = start(tmp_path)
    paint(root / "photographs" / "a.jpg", (900, 600), 10, datetime(2025, 5, 1, 8), LISBON)
    report = make_book(root, NoProgress())
    assert report.page_count % 4 == 0


def test_all_without_dates(tmp_path: Path) -> None:
    root = start(tmp_path)
    for i in range(4):
        paint(root / "photographs" / f"{i}.jpg", (900, 600), 10 * i, None, LISBON)
    report = make_book(root, NoProgress())
    assert any(f.rule.startswith("trip.") and f.remedy for f in report.findings)


def test_a_sheet_that_is_too_small(tmp_path: Path) -> None:
    root = start(tmp_path)
    paint(root / "photographs" / "a.jpg", (900, 600), 10, datetime(2025, 5, 1, 8), LISBON)
    book = root / "book.toml"
    book.write_text(
        book.read_text("utf-8").replace("sheet_mm = [483.0, 329.0]", "sheet_mm = [420, 297]"),
        "utf-8",
    )
    error = refusal(root)
    assert "mm" in error.what + error.remedy
    assert error.remedy


def test_a_newer_book_is_left_alone(tmp_path: Path) -> None:
    root = start(tmp_path)
    book = root / "book.toml"
    book.write_text(book.read_text("utf-8").replace("version = 1", "version = 7"), "utf-8")
    assert "newer" in refusal(root).what


def test_new_refuses_a_missing_folder_and_a_second_book(tmp_path: Path) -> None:
    with pytest.raises(NotFoundError):
        begin_book(tmp_path / "b", "B", [tmp_path / "nowhere"])
    root = start(tmp_path)
    with pytest.raises(ConflictError):
        begin_book(root, "Again", [])


def test_a_spoilt_cache_is_made_again(tmp_path: Path) -> None:
    root = start(tmp_path)
    paint(root / "photographs" / "a.jpg", (900, 600), 10, datetime(2025, 5, 1, 8), LISBON)
    make_book(root, NoProgress())
    made = root / ".wayfold" / "cache" / "made.json"
    made.write_text("{torn", "utf-8")
    assert not make_book(root, NoProgress()).nothing_to_do


def test_a_moved_picture_keeps_its_identity(tmp_path: Path) -> None:
    root = start(tmp_path)
    first = root / "photographs" / "a.jpg"
    paint(first, (900, 600), 10, datetime(2025, 5, 1, 8), LISBON)
    make_book(root, NoProgress())
    photos = root / "photos.toml"
    photos.write_text(photos.read_text("utf-8") + 'caption = "Kept"\n', "utf-8")
    (root / "photographs" / "sub").mkdir()
    first.rename(root / "photographs" / "sub" / "renamed ü.jpg")
    make_book(root, NoProgress())
    text = photos.read_text("utf-8")
    assert text.count("[photo.") == 1
    assert "sub/renamed ü.jpg" in text
    assert "Kept" in text


def test_a_picture_edited_elsewhere_keeps_its_caption(tmp_path: Path) -> None:
    root = start(tmp_path)
    file = root / "photographs" / "a.jpg"
    paint(file, (900, 600), 10, datetime(2025, 5, 1, 8), LISBON)
    make_book(root, NoProgress())
    photos = root / "photos.toml"
    photos.write_text(photos.read_text("utf-8") + 'caption = "Kept"\n', "utf-8")
    paint(file, (900, 600), 90, datetime(2025, 5, 1, 8), LISBON)
    report = make_book(root, NoProgress())
    # The picture itself, and the wash that takes its colour.
    assert report.pictures == 2
    text = photos.read_text("utf-8")
    assert text.count("[photo.") == 1
    assert "Kept" in text
