"""Photographs whose files are gone, found again by their content."""

import shutil
from pathlib import Path

import pytest

from wayfold.app.rooms.pictures_missing import list_missing, search
from wayfold.app.rooms.pictures_verdicts import decide
from wayfold.app.session import Session
from wayfold.base.errors import UserError
from wayfold.base.progress import NoProgress
from wayfold.book.state import Pick


def photographs(session: Session) -> Path:
    return session.folder.root / "photographs"


def test_files_moved_elsewhere_are_found_and_keep_what_was_decided(
    session: Session, tmp_path: Path
) -> None:
    photo = next(p for p in session.results.catalogue.photos if p.path.endswith("H0001.jpg"))
    decide(session, [(photo.id, "hero")])
    before = session.results.photos.keys()
    drive = tmp_path / "drive" / "2025" / "may"
    drive.parent.mkdir(parents=True)
    shutil.move(photographs(session) / "camera", drive)
    (drive / "H0001.jpg").rename(drive / "evening.jpg")
    session.look_again()
    missing = list_missing(session)
    assert [one.name for one in missing] == [f"H{n:04}.jpg" for n in range(1, 32, 2)]
    assert {one.folder for one in missing} == {"camera"}

    search(session, tmp_path / "drive", NoProgress())
    assert list_missing(session) == ()
    assert session.results.photos.keys() == before
    assert session.results.book.choice(photo.id).pick is Pick.HERO
    assert session.results.photos[photo.id].path.endswith("may/evening.jpg")
    # Only the folder that holds them is read from now on, and it can be taken back.
    assert [Path(f).name for f in session.results.book.photographs] == ["photographs", "may"]
    assert session.state().undo == "settings"


def test_a_folder_that_holds_nothing_any_more_gives_way(session: Session, tmp_path: Path) -> None:
    shutil.copytree(photographs(session), tmp_path / "moved" / "photographs")
    kept = photographs(session).rename(tmp_path / "unplugged")
    (photographs(session) / "extra").mkdir(parents=True)
    shutil.copy(next(kept.rglob("*.jpg")), photographs(session) / "extra")
    session.look_again()
    shutil.rmtree(photographs(session) / "extra")
    photographs(session).rmdir()
    with pytest.raises(UserError, match="no photographs"):
        session.look_again()
    search(session, tmp_path / "moved", NoProgress())
    assert list_missing(session) == ()
    assert [Path(f).name for f in session.results.book.photographs] == ["photographs"]
    assert str(tmp_path / "moved") in session.results.book.photographs[0]


def test_where_nothing_is_found_it_is_said(session: Session, tmp_path: Path) -> None:
    with pytest.raises(UserError, match="No photograph is missing"):
        search(session, tmp_path, NoProgress())
    (photographs(session) / "camera" / "H0003.jpg").unlink()
    session.look_again()
    empty = tmp_path / "empty"
    empty.mkdir()
    before = session.folder.book_file.read_text("utf-8")
    with pytest.raises(UserError, match="None of the 1 missing photograph lies in empty"):
        search(session, empty, NoProgress())
    assert session.folder.book_file.read_text("utf-8") == before
