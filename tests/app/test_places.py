"""Folders by handles: what the desk may see of the disk."""

from pathlib import Path

import pytest

from wayfold.app.places import MOST_SHOWN, Places
from wayfold.app.shelf import Shelf, name_folder
from wayfold.base.errors import NotFoundError, UserError


@pytest.fixture
def home(tmp_path: Path) -> Path:
    (tmp_path / "Pictures" / "cards").mkdir(parents=True)
    (tmp_path / "Pictures" / "a.JPG").write_bytes(b"")
    (tmp_path / "Pictures" / ".hidden.jpg").write_bytes(b"")
    (tmp_path / "Pictures" / "list.txt").write_bytes(b"")
    (tmp_path / ".secret").mkdir()
    (tmp_path / "Ägäis").mkdir()
    (tmp_path / "book").mkdir()
    (tmp_path / "book" / "book.toml").write_text("")
    return tmp_path


def test_folders_are_shown_with_what_they_hold(home: Path) -> None:
    places = Places(home)
    (beginning,) = places.list_beginnings()
    inside = places.look_inside(beginning.handle)
    told = [(f.name, f.pictures, f.has_book) for f in inside.folders]
    assert told == [("book", 0, True), ("Pictures", 1, False), ("Ägäis", 0, False)]
    deeper = places.look_inside(inside.folders[1].handle)
    assert [f.name for f in deeper.above] == [home.name]
    assert [f.name for f in deeper.folders] == ["cards"]


def test_handles_say_nothing_and_hold_for_one_run(home: Path) -> None:
    first, second = Places(home), Places(home)
    handle = first.list_beginnings()[0].handle
    assert first.list_beginnings()[0].handle == handle
    assert second.list_beginnings()[0].handle != handle
    with pytest.raises(NotFoundError):
        second.find(handle)


@pytest.mark.parametrize("made_up", ["", "..", "/etc", "../../etc/passwd", "home"])
def test_what_was_not_shown_cannot_be_asked_for(home: Path, made_up: str) -> None:
    with pytest.raises(NotFoundError):
        Places(home).look_inside(made_up)


def test_a_folder_that_went_or_may_not_be_read_is_told(home: Path) -> None:
    places = Places(home)
    inside = places.look_inside(places.list_beginnings()[0].handle)
    (home / "Ägäis").rmdir()
    with pytest.raises(UserError):
        places.look_inside(inside.folders[2].handle)


def test_a_link_into_nowhere_is_passed_over(home: Path) -> None:
    (home / "dangling").symlink_to(home / "gone")
    places = Places(home)
    inside = places.look_inside(places.list_beginnings()[0].handle)
    assert "dangling" not in [f.name for f in inside.folders]


def test_of_very_many_folders_the_first_are_shown(tmp_path: Path) -> None:
    for number in range(MOST_SHOWN + 3):
        (tmp_path / f"{number:05}").mkdir()
    places = Places(tmp_path)
    inside = places.look_inside(places.list_beginnings()[0].handle)
    assert (len(inside.folders), inside.unshown) == (MOST_SHOWN, 3)


@pytest.mark.parametrize(
    ("title", "folder"),
    [  # Refused signs and names: Microsoft, "Naming Files, Paths, and Namespaces".
        ("The Slow Way South", "The Slow Way South"),
        ("Lisbon / Porto: 2025?", "Lisbon Porto 2025"),
        ("../../etc", "etc"),
        ("..", ""),
        ("Con", "Con book"),
        ("com1.jpg", "com1.jpg book"),
        ("a\x00b\nc", "a b c"),
        ("  Ägäis.  ", "Ägäis"),
        ("x" * 300, "x" * 80),
    ],
)
def test_a_folder_is_named_after_the_title(title: str, folder: str) -> None:
    assert name_folder(title) == folder


def test_what_a_book_needs_to_be_started(home: Path) -> None:
    shelf = Shelf(Places(home))
    handle = shelf.places.list_beginnings()[0].handle
    with pytest.raises(UserError, match="no title"):
        shelf.start(" / ", [handle], handle)
    with pytest.raises(UserError, match="No folder"):
        shelf.start("South", [], handle)
    with pytest.raises(NotFoundError):
        shelf.start("South", ["elsewhere"], handle)
    assert [p.name for p in home.iterdir() if p.name == "South"] == []


def test_a_memory_that_was_spoilt_is_no_hindrance(home: Path) -> None:
    memory = home / "books.json"
    for text in ("", "[]", '{"books": 7}', '{"books": [7, "/nowhere"]}', "\x00"):
        memory.write_text(text)
        assert Shelf(Places(home), memory).list_books() == ()
