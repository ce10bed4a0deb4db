"""A whole book where the disk is full, cannot be written to, or goes away; originals at rest."""

import shutil
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.small_disk import fill, mount_read_only, mount_small
from wayfold.app.ledger import mark_sheets, take_back_marks
from wayfold.app.make import make_book
from wayfold.app.session import Session
from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.progress import NoProgress
from wayfold.book.edits import SetCaption, SetText
from wayfold.cli.main import run
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book, write_edit


def look_made(root: Path) -> dict[str, bytes]:
    return {p.name: p.read_bytes() for p in (root / "out").iterdir() if p.is_file()}


def change(root: Path) -> None:
    """So that every page of the print files is another."""
    photo = next(iter(load_book(BookFolder(root)).known))
    write_edit(
        BookFolder(root), SetCaption(photo, "The quay."), SetText("foreword", "We went *east*.\n")
    )


def wait_until(is_so: Callable[[], bool]) -> None:
    until = time.monotonic() + 30
    while not is_so():
        assert time.monotonic() < until
        time.sleep(0.05)


def test_a_make_on_a_full_disk_leaves_the_files_of_before(book: Path, tmp_path: Path) -> None:
    """The disk fills up at one place after another; the PDFs are those of before or of after."""
    with mount_small(tmp_path / "disk", 48) as disk:
        root = disk / "book"
        shutil.copytree(book, root)
        (root / ".wayfold" / "cache" / "made.json").unlink()
        make_book(root, NoProgress())
        before = look_made(root)
        change(root)
        left, refused, states = 0, 0, []
        while True:
            filler = fill(disk, left)
            try:
                make_book(root, NoProgress())
            except UserError as error:
                refused += 1
                assert "full" in f"{error}" or "No space left" in f"{error}", error
                assert "Make room" in error.remedy, error
                filler.unlink()
                states.append(look_made(root))
                left = 3 * left + 50_000
                continue
            filler.unlink()
            break
        assert refused >= 2
        after = look_made(root)
        assert after["reading.pdf"] != before["reading.pdf"]
        for state in states:
            for name, data in state.items():
                assert data in (before.get(name), after.get(name)), name
        assert not [p for p in (root / "out").iterdir() if p.name.startswith(".")]


def test_photographs_that_cannot_be_written_to_make_the_same_book(book: Path) -> None:
    change(book)
    with mount_read_only(book / "photographs"):
        make_book(book, NoProgress())
        mark_sheets(book, ["all"], printed=True)
        take_back_marks(book)


def test_a_folder_that_cannot_be_written_to_is_told_by_every_command(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    change(book)
    with mount_read_only(book):
        for command in ("make", "undo", "check"):
            assert run([command, str(book)]) == 2
            told = capsys.readouterr().err
            assert "cannot be written to" in told
            assert "Allow writing there" in told


def test_a_drive_pulled_out_and_put_back_at_an_open_book(book: Path, tmp_path: Path) -> None:
    session = Session.open(book, NoProgress())
    session.watch()
    photo = next(iter(session.results.photos))
    away = tmp_path / "away"
    book.rename(away)
    wait_until(lambda: session.trouble is not None)
    assert "Connect the drive" in str(session.trouble)
    with pytest.raises(NotFoundError, match="folder is not there"):
        session.edit(SetCaption(photo, "Lost?"))
    assert not book.exists()
    away.rename(book)
    wait_until(lambda: session.trouble is None)
    session.edit(SetCaption(photo, "Not lost."))
    assert load_book(BookFolder(book)).book.choices[photo].caption == "Not lost."
    session.close()
