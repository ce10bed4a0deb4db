"""Edits in the files: each where it belongs, several together one change to undo."""

import os
import sys
from pathlib import Path

import pytest

from wayfold.base.errors import NotFoundError
from wayfold.book.edits import Edit, HoldBlocks, SetChapterLeaf, SetInterleaf, SetPicks, apply_edit
from wayfold.book.planning import PinChoice
from wayfold.book.state import Book, Pick
from wayfold.project.files import BookFolder
from wayfold.project.journal import Journal
from wayfold.project.store import load_book, start_book, write_edit

PHOTO = "0123456789ab"


@pytest.fixture
def folder(tmp_path: Path) -> BookFolder:
    folder = BookFolder(tmp_path)
    start_book(folder, Book("A Title"))
    file = 'version = 1\n\n[photo.0123456789ab] # mine\nfile = "a.jpg"\ncontent = "c"\n'
    folder.photos_file.write_text(file, encoding="utf-8")
    Journal(folder).catch_up()
    return folder


@pytest.mark.parametrize(
    "edit",
    [
        SetInterleaf(PHOTO, True),
        SetChapterLeaf("Lisbon", True),
        HoldBlocks((PinChoice("single:a", page=9),)),
    ],
)
def test_what_is_written_is_what_the_edit_says(folder: BookFolder, edit: Edit) -> None:
    before = load_book(folder).book
    write_edit(folder, edit)
    assert load_book(folder).book == apply_edit(before, edit)
    Journal(folder).undo()
    assert load_book(folder).book == before


def test_a_leaf_is_taken_away_again(folder: BookFolder) -> None:
    text = folder.photos_file.read_text("utf-8")
    write_edit(folder, SetInterleaf(PHOTO, True))
    assert "interleaf = true" in folder.photos_file.read_text("utf-8")
    write_edit(folder, SetInterleaf(PHOTO, False))
    assert folder.photos_file.read_text("utf-8") == text
    write_edit(folder, SetChapterLeaf("Lisbon", True), SetChapterLeaf("Lisbon", False))
    (chapter,) = load_book(folder).book.chapters
    assert (chapter.place, chapter.interleaf) == ("Lisbon", False)


def test_edits_made_together_are_one_change(folder: BookFolder) -> None:
    before = load_book(folder).book
    write_edit(
        folder, SetPicks(((PHOTO, Pick.HERO),)), HoldBlocks((PinChoice("hero:x", centre=True),))
    )
    undone = Journal(folder).undo()
    assert undone.what == "what is taken and left, what is held fast on its page"
    assert load_book(folder).book == before
    with pytest.raises(NotFoundError):
        Journal(folder).undo()


@pytest.mark.skipif(sys.platform == "win32", reason="folders are not opened there")
def test_an_edit_waits_for_the_disk_only_for_what_must_last(
    folder: BookFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What waits for its place, its name, the note, and the place taken: nothing of the draft.

    A file's data, and a name in a folder, are sure only once fsync has returned for it (fsync in
    POSIX.1-2017, and fsync(2) of Linux on folders).
    """
    write_edit(folder, SetInterleaf(PHOTO, True))
    note = folder.private / "history" / "journal.jsonl"
    known = {folder.root.stat().st_ino: "the folder", note.stat().st_ino: "the note"}
    synced: list[str] = []
    fsync = os.fsync

    def watch(handle: int) -> None:
        synced.append(known.get(os.fstat(handle).st_ino, "a file"))
        fsync(handle)

    monkeypatch.setattr(os, "fsync", watch)
    write_edit(folder, SetInterleaf(PHOTO, False))
    assert synced == ["a file", "the folder", "the note", "the folder"]
