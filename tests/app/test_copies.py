"""Two versions of a file side by side, and the command line that chooses between them."""

import json
import os
from pathlib import Path

import pytest

from wayfold.app.copies import Difference, find_unchosen, list_copies
from wayfold.cli.main import run
from wayfold.project.files import BookFolder

OURS = """version = 1

[book]
title = "South"
language = "en"
photographs = ["a", "b"]

[[chapter]]
place = "Lisbon"
title = "White city"

[[chapter]]
place = "Porto"
interleaf = true
"""
OTHER = """version = 1

[book]
title = "South again"
language = "en"
photographs = ["a", "b", "c"]

[[chapter]]
place = "Porto"

[[chapter]]
place = "Lisbon"
title = "White city"
accent = "#4a5b74"
"""


@pytest.fixture
def folder(tmp_path: Path) -> BookFolder:
    (tmp_path / "texts").mkdir()
    (tmp_path / "book.toml").write_text(OURS, "utf-8")
    return BookFolder(tmp_path)


def compare(folder: BookFolder) -> tuple[Difference, ...]:
    (copy,) = list_copies(folder)
    return copy.rows


def test_tables_are_told_by_where_they_differ(folder: BookFolder) -> None:
    (folder.root / "book 2.toml").write_text(OTHER, "utf-8")
    assert compare(folder) == (
        Difference("book · title", "South", "South again"),
        Difference("book · photographs", "a, b", "a, b, c"),
        Difference("chapter Porto · interleaf", "yes", ""),
        Difference("chapter Lisbon · accent", "", "#4a5b74"),
    )


def test_a_photograph_is_called_by_its_file(folder: BookFolder) -> None:
    photo = '[photo.3f2a]\nfile = "camera/H0007.jpg"\ncontent = "3f2a"\n'
    folder.photos_file.write_text(f"version = 1\n{photo}", "utf-8")
    other = f'version = 1\n{photo}caption = "Low water"\n'
    (folder.root / "photos-STUDIO.toml").write_text(other, "utf-8")
    assert compare(folder) == (Difference("photo · H0007.jpg (3f2a) · caption", "", "Low water"),)


def test_texts_stand_whole_beside_each_other(folder: BookFolder) -> None:
    (folder.texts / "lisbon.md").write_text("Same.\n\nOurs.\n\nEnd.\n", "utf-8")
    (folder.texts / "lisbon 2.md").write_text("Same.\n\nOther.\n\nMore.\n\nEnd.\n", "utf-8")
    assert compare(folder) == (
        Difference("", "Same.", "Same.", True),
        Difference("", "Ours.", "Other."),
        Difference("", "", "More."),
        Difference("", "End.", "End.", True),
    )


def test_one_that_cannot_be_read_is_compared_line_by_line(folder: BookFolder) -> None:
    (folder.root / "book 2.toml").write_text(OTHER.replace('"South again"', '"South'), "utf-8")
    (copy,) = list_copies(folder)
    assert "line 4" in copy.trouble
    assert Difference("", 'title = "South"', 'title = "South') in copy.rows


def test_the_command_line_lists_and_chooses(
    folder: BookFolder, capsys: pytest.CaptureFixture[str]
) -> None:
    book = str(folder.root)
    assert run(["copies", book]) == 0
    assert "no other versions" in capsys.readouterr().out
    other = folder.root / "book (conflicted copy).toml"
    other.write_text(OTHER, "utf-8")
    os.utime(other, (0, 0))
    (folder.root / "trip 2.toml").write_text("version = 1\n", "utf-8")
    assert run(["copies", book]) == 0
    told = capsys.readouterr().out
    assert "1  book (conflicted copy).toml" in told
    assert "book · title\n     ours   South\n     other  South again" in told
    assert "trip.toml itself is not there" in told
    assert run(["copies", book, "--json"]) == 0
    assert [c["of"] for c in json.loads(capsys.readouterr().out)["copies"]] == [
        "book.toml",
        "trip.toml",
    ]
    assert [f.where for f in find_unchosen(folder)] == [
        "book (conflicted copy).toml",
        "trip 2.toml",
    ]
    assert run(["copies", book, "--take", "3"]) == 2
    assert run(["copies", book, "--take", "1", "--put-away", "2"]) == 2
    assert folder.book_file.read_text("utf-8") == OURS
    assert run(["copies", book, "--take", "1"]) == 0
    assert folder.book_file.read_text("utf-8") == OTHER
    assert run(["copies", book, "--put-away", "1"]) == 0
    assert list_copies(folder) == ()
    assert run(["undo", book]) == 0
    assert run(["undo", book]) == 0
    assert folder.book_file.read_text("utf-8") == OURS
    assert len(list_copies(folder)) == 2


def test_history_gives_back_what_a_file_held(
    folder: BookFolder, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    book, out = str(folder.root), tmp_path / "found"
    assert run(["history", book]) == 0
    (folder.root / "book 2.toml").write_text(OTHER, "utf-8")
    assert run(["copies", book, "--put-away", "1"]) == 0
    assert run(["history", book, "--json"]) == 0
    told = capsys.readouterr().out
    changes = json.loads(told[told.index("{") :])["changes"]
    number = str(changes[-1]["number"])
    assert run(["history", book, "--take-out", number, "--into", str(out)]) == 0
    assert (out / "before" / "book 2.toml").read_text("utf-8") == OTHER
    assert not (out / "after" / "book 2.toml").exists()
    assert run(["history", book, "--take-out", number, "--into", str(out)]) == 2, "not over others"
    assert run(["history", book, "--take-out", "99", "--into", str(tmp_path / "more")]) == 2
