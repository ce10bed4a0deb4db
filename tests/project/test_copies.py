"""Other versions of a book's files: known by their shape, chosen between, never lost."""

from pathlib import Path

import pytest

from wayfold.base.errors import NotFoundError
from wayfold.project.choosing_copies import put_copy_away, take_copy
from wayfold.project.copies import OtherVersion, find_copies
from wayfold.project.files import BookFolder
from wayfold.project.journal import Journal
from wayfold.project.journal_notes import Kind

OURS = 'version = 1\n\n[book]\ntitle = "Ours"\n'
OTHER = 'version = 1\n\n[book]\ntitle = "Other"\n'


@pytest.fixture
def folder(tmp_path: Path) -> BookFolder:
    (tmp_path / "texts").mkdir()
    (tmp_path / "book.toml").write_text(OURS, "utf-8")
    (tmp_path / "texts" / "lisbon.md").write_text("Ours.\n", "utf-8")
    folder = BookFolder(tmp_path)
    Journal(folder).catch_up()
    return folder


def lay(folder: BookFolder, name: str, text: str) -> Path:
    path = folder.root / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, "utf-8")
    return path


def find_one(folder: BookFolder) -> OtherVersion:
    (copy,) = find_copies(folder)
    return copy


# The shapes are from memory: programs that keep folders in step differ in words and language.
@pytest.mark.parametrize(
    ("name", "of"),
    [
        ("book (conflicted copy 2026-11-29).toml", "book.toml"),
        ("book (Kopie in Konflikt 2026-11-29).toml", "book.toml"),
        ("book-STUDIO.toml", "book.toml"),
        ("book_studio.toml", "book.toml"),
        ("book 2.toml", "book.toml"),
        ("book2.toml", "book.toml"),
        ("book(1).toml", "book.toml"),
        ("book.sync-conflict-20261129-101500-ABCDEFG.toml", "book.toml"),
        ("photos [from the notebook].toml", "photos.toml"),
        ("trip - copy.toml", "trip.toml"),
        ("materials~2.toml", "materials.toml"),
        ("plan.lock (1).toml", "plan.lock.toml"),
        ("plan (conflicted copy).lock.toml", "plan.lock.toml"),
        ("printed.lock-STUDIO.toml", "printed.lock.toml"),
        ("bench.lock 2.toml", "bench.lock.toml"),
        ("styles/mine/style 2.toml", "styles/mine/style.toml"),
        ("texts/lisbon (conflicted copy 2026-11-29).md", "texts/lisbon.md"),
        ("texts/lisbon.sync-conflict-20261129-101500-ABC.md", "texts/lisbon.md"),
        ("texts/lisbon 2.md", "texts/lisbon.md"),
        ("texts/lisbon-STUDIO.md", "texts/lisbon.md"),
    ],
)
def test_another_version_is_known_by_its_shape(folder: BookFolder, name: str, of: str) -> None:
    if of.startswith("styles"):
        lay(folder, of, "version = 1\n")
    path = lay(folder, name, OTHER)
    copy = find_one(folder)
    assert (copy.path, copy.of) == (path, folder.root / of)


WALK = """\
We walked along the river until the lamps were lit, and the ferry came across twice.

Nobody spoke of the train. The bakery by the bridge was closed, so we ate what was left.
"""
WALK_AGAIN = """\
We walked along the river until the lamps were lit, and the boat came across twice.

Nobody spoke of the train. The bakery by the bridge was open after all, and full.

At night it rained.
"""


@pytest.mark.parametrize(
    "name", ["lisbon-studio", "lisbon-Ida's laptop", "lisbon_desk", "lisbon-2", "lisbon.notebook"]
)
def test_a_text_called_after_a_machine_is_known_by_what_it_says(
    folder: BookFolder, name: str
) -> None:
    lay(folder, "texts/lisbon.md", WALK)
    path = lay(folder, f"texts/{name}.md", WALK_AGAIN)
    copy = find_one(folder)
    assert (copy.path, copy.of) == (path, folder.texts / "lisbon.md")
    chapter = f'\n[[chapter]]\nplace = "Lisbon"\ntext = "{name}"\n'
    folder.book_file.write_text(OURS + chapter, "utf-8")
    assert find_copies(folder) == ()


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("bookshelf.toml", OTHER),
        ("bookings.toml", OTHER),
        ("my book.toml", OTHER),
        ("book.toml.orig", OTHER),
        (".book.toml.x7f3", OTHER),
        ("book (conflicted copy).txt", OTHER),
        ("book-notes.toml", 'about = "of another program"\n'),
        ("book-empty.toml", ""),
        ("texts/lisbon-by-night.md", "A text of its own.\n"),
        ("texts/lisbons.md", "A text of its own.\n"),
        ("texts/lisbon-2.md", "A text of its own.\n"),
    ],
)
def test_what_only_begins_alike_is_none(folder: BookFolder, name: str, text: str) -> None:
    lay(folder, name, text)
    assert find_copies(folder) == ()


def test_a_text_that_a_chapter_asks_for_is_none(folder: BookFolder) -> None:
    lay(folder, "texts/lisbon 2.md", "The second visit.\n")
    chapter = '\n[[chapter]]\nplace = "Lisbon"\ntext = "lisbon 2"\n'
    folder.book_file.write_text(OURS + chapter, "utf-8")
    assert find_copies(folder) == ()


def test_one_that_cannot_be_read_is_told_too(folder: BookFolder) -> None:
    lay(folder, "book 2.toml", 'version = 1\n[book]\ntitle = "Torn')
    assert find_one(folder).of == folder.book_file


def test_one_that_is_taken_goes_in_the_place_of_ours_and_back(folder: BookFolder) -> None:
    path = lay(folder, "book 2.toml", OTHER)
    take_copy(folder, find_one(folder).handle)
    assert (folder.book_file.read_text("utf-8"), path.exists()) == (OTHER, False)
    assert Journal(folder).undo().what == "the other version of book.toml"
    assert (folder.book_file.read_text("utf-8"), path.read_text("utf-8")) == (OURS, OTHER)
    Journal(folder).redo()
    assert (folder.book_file.read_text("utf-8"), path.exists()) == (OTHER, False)


def test_one_that_is_put_away_comes_back_by_undo(folder: BookFolder) -> None:
    path = lay(folder, "texts/lisbon 2.md", "Other.\n")
    put_copy_away(folder, find_one(folder).handle)
    assert not path.exists()
    assert (folder.texts / "lisbon.md").read_text("utf-8") == "Ours.\n"
    Journal(folder).undo()
    assert path.read_text("utf-8") == "Other.\n"


@pytest.mark.parametrize("name", ["printed.lock.toml", "bench.lock.toml"])
@pytest.mark.parametrize("take", [True, False])
def test_of_what_is_no_decision_both_are_kept_too(
    folder: BookFolder, name: str, take: bool
) -> None:
    ours, other = 'version = 1\n# "ours"\n', 'version = 1\n# "other"\n'
    file, path = lay(folder, name, ours), lay(folder, name.replace(".toml", " 2.toml"), other)
    (take_copy if take else put_copy_away)(folder, find_one(folder).handle)
    assert (file.read_text("utf-8"), path.exists()) == (other if take else ours, False)
    Journal(folder).undo()
    assert path.read_text("utf-8") == (ours if take else other)
    assert file.read_text("utf-8") == (other if take else ours)


def test_of_two_that_changed_since_they_were_shown_none_is_chosen(folder: BookFolder) -> None:
    lay(folder, "book 2.toml", OTHER)
    shown = find_one(folder).handle
    folder.book_file.write_text(f"{OURS}# more\n", "utf-8")
    with pytest.raises(NotFoundError, match="changed since"):
        take_copy(folder, shown)
    shown = find_one(folder).handle
    lay(folder, "book 2.toml", f"{OTHER}# more\n")
    with pytest.raises(NotFoundError, match="changed since"):
        put_copy_away(folder, shown)
    assert find_one(folder).content.endswith(b"# more\n")


def test_one_that_comes_is_not_what_undo_takes_back(folder: BookFolder) -> None:
    with Journal(folder).change("a title") as draft:
        draft.book_file.write_text(OTHER, "utf-8")
    path = lay(folder, "book 2.toml", f"{OTHER}# from the studio\n")
    assert Journal(folder).undo().what == "a title"
    assert folder.book_file.read_text("utf-8") == OURS
    assert path.is_file()
    noted = [e for e in Journal(folder).entries if path.name in e.after]
    assert [(e.kind, e.what) for e in noted] == [(Kind.NOTED, "another version of a file")]


def test_a_link_is_never_taken_for_one(folder: BookFolder, tmp_path: Path) -> None:
    outside = tmp_path.parent / "secret.toml"
    outside.write_text(OTHER, "utf-8")
    (folder.root / "book 2.toml").symlink_to(outside)
    assert find_copies(folder) == ()
