"""What belongs to a book lies in its folder."""

from pathlib import Path

import pytest

from wayfold.base.errors import UserError
from wayfold.project.cache import DiskCache
from wayfold.project.files import BookFolder
from wayfold.project.inside import require_inside
from wayfold.project.store import load_book

FILES = (
    *("photos.toml", "trip.toml", "materials.toml", "plan.lock.toml", "printed.lock.toml"),
    *("bench.lock.toml", "bookings.ics", "texts/secret.md", "tracks/walk.gpx", "out/sheets.pdf"),
    *("tracks/camera/walk.gpx", "calendars/bookings.ics", "styles/mine/style.toml"),
    *("fonts/mine.ttf", "streets/town.osm.pbf", ".wayfold/history/journal.jsonl"),
)
FOLDERS = (
    *("texts", "tracks", "calendars", "styles", "fonts", "streets", "out", ".wayfold"),
    *(".wayfold/cache", ".wayfold/cache/previews", ".wayfold/history", "styles/mine"),
)


@pytest.fixture
def folder(tmp_path: Path) -> BookFolder:
    root = tmp_path / "book"
    root.mkdir()
    (root / "book.toml").write_text('version = 1\n[book]\ntitle = "Far"\n')
    return BookFolder(root)


@pytest.fixture
def outside(tmp_path: Path) -> Path:
    secret = tmp_path / "secret"
    secret.mkdir()
    (secret / "words.md").write_text("not of this book")
    return secret


@pytest.mark.parametrize("name", [*FILES, *FOLDERS])
def test_a_link_out_of_the_book_is_refused(folder: BookFolder, outside: Path, name: str) -> None:
    link = folder.root / name
    link.parent.mkdir(parents=True, exist_ok=True)
    link.symlink_to(outside if name in FOLDERS else outside / "words.md")
    with pytest.raises(UserError, match="leads out") as caught:
        require_inside(folder)
    assert caught.value.where == name
    assert "in place of the link" in caught.value.remedy


def test_reading_the_book_refuses_it(folder: BookFolder, outside: Path) -> None:
    folder.texts.mkdir()
    (folder.texts / "porto.md").symlink_to(outside / "words.md")
    with pytest.raises(UserError, match="leads out"):
        load_book(folder)


def test_photographs_may_lie_anywhere(folder: BookFolder, outside: Path) -> None:
    (folder.root / "photographs").symlink_to(outside)
    require_inside(folder)


def test_a_link_within_the_book_and_an_editors_lock_are_left(folder: BookFolder) -> None:
    folder.texts.mkdir()
    (folder.texts / "porto.md").write_text("Rain.")
    (folder.texts / "lisbon.md").symlink_to("porto.md")
    (folder.texts / ".#porto.md").symlink_to("someone@somewhere.4711")
    assert load_book(folder).book.texts == {"porto": "Rain.", "lisbon": "Rain."}


def test_a_link_is_nothing_that_was_kept(tmp_path: Path, outside: Path) -> None:
    cache = DiskCache(tmp_path / "cache", "previews", ".jpg")
    cache.path("abc").symlink_to(outside / "words.md")
    assert cache.get("abc") is None
    assert not cache.has("abc")
    cache.put("abc", b"made anew")
    assert cache.get("abc") == b"made anew"
    assert (outside / "words.md").read_text() == "not of this book"
