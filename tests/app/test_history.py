"""Undo, redo and the list of changes, from the command line."""

import json
from pathlib import Path

import pytest

from wayfold.book.edits import SetCaption
from wayfold.cli.main import run
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book, write_edit


def captions_of(root: Path) -> list[str]:
    choices = load_book(BookFolder(root)).book.choices.values()
    return [c.caption for c in choices if c.caption]


def test_a_change_is_taken_back_and_done_again(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = BookFolder(book)
    photo = next(iter(load_book(folder).known))
    before = captions_of(book)
    write_edit(folder, SetCaption(photo, "The quay before the rain"))
    assert run(["undo", str(book)]) == 0
    assert "a caption (photos.toml)" in capsys.readouterr().out
    assert captions_of(book) == before
    assert run(["redo", str(book)]) == 0
    assert captions_of(book) == [*before, "The quay before the rain"]
    capsys.readouterr()
    assert run(["history", str(book), "--json"]) == 0
    changes = json.loads(capsys.readouterr().out)["changes"]
    assert [c["kind"] for c in changes][-3:] == ["edit", "undo", "redo"]
    assert run(["history", str(book)]) == 0
    assert "done again: a caption" in capsys.readouterr().out.splitlines()[0]


def test_nothing_to_undo_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "book.toml").write_text('version = 1\n[book]\ntitle = "A"\n', encoding="utf-8")
    assert run(["undo", str(tmp_path)]) == 2
    assert "nothing to undo" in capsys.readouterr().err
