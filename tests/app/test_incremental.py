"""What an edit derives from the last time is what deriving all anew gives, item for item."""

import dataclasses
import shutil
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.desk_book import copy_book
from wayfold.app.fonts import open_typesetter
from wayfold.app.picture_files import PictureFiles
from wayfold.app.stages import Results, run_stages
from wayfold.base.geometry import Rect
from wayfold.base.memory import Memory
from wayfold.base.progress import NoProgress
from wayfold.book.edits import Edit, SetCaption, SetCrop, SetDayNote, SetStop, SetText
from wayfold.book.trip_choices import StopChoice
from wayfold.project.files import BookFolder
from wayfold.project.journal import Journal
from wayfold.project.store import write_edit, write_settings

CHAPTERS = """
[[chapter]]
place = "Lisbon"
title = "The White Town"
interleaf = true
country_map = true

[[chapter]]
place = "Porto"
text = "porto"
interleaf = true
"""


@pytest.fixture(scope="module")
def book_with_leaves(atlantic: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = copy_book(atlantic, tmp_path_factory.mktemp("incremental") / "book")
    (root / "texts" / "porto.md").write_text("Granite, and the river.\n", encoding="utf-8")
    with (root / "book.toml").open("a", encoding="utf-8") as file:
        file.write(CHAPTERS)
    _derive(BookFolder(root), Memory(), PictureFiles())
    return root


def _derive(folder: BookFolder, memory: Memory, pictures: PictureFiles) -> Results:
    return run_stages(folder, open_typesetter(folder, memory), NoProgress(), memory, pictures)


def _derive_aside(folder: BookFolder, aside: Path) -> Results:
    """Derive all anew, and leave the files and their history as they were before it."""
    kept = ("photos.toml", "plan.lock.toml", ".wayfold/history")
    for name in kept:
        source = folder.root / name
        copy = shutil.copytree if source.is_dir() else shutil.copyfile
        copy(source, aside / Path(name).name)
    fresh = _derive(folder, Memory(), PictureFiles())
    shutil.rmtree(folder.root / ".wayfold" / "history")
    for name in kept:
        source = aside / Path(name).name
        copy = shutil.copytree if source.is_dir() else shutil.copyfile
        copy(source, folder.root / name)
    return fresh


def _list_differences(one: Results, other: Results) -> Iterator[str]:
    for field in dataclasses.fields(Results):
        if field.name != "blocks" and getattr(one, field.name) != getattr(other, field.name):
            yield field.name
    for name in ("numbers", "laid", "ways", "findings"):
        if getattr(one.blocks, name) != getattr(other.blocks, name):
            yield f"blocks.{name}"
    if one.case != other.case:
        yield "case"


texts = st.text("aeio rst.,*\n", max_size=60) | st.just("A long tale. " * 120)
fractions = st.sampled_from((0.0, 0.05, 0.1, 0.2))
crops = st.builds(lambda x, y: Rect(x, y, 0.75, 0.7), fractions, fractions) | st.none()
photos = st.integers(0, 31)
changes = st.one_of(
    st.tuples(st.just("caption"), photos, st.none() | st.text("abc def", max_size=30)),
    st.tuples(st.just("crop"), photos, crops),
    st.tuples(st.just("text"), st.sampled_from(("foreword", "porto", "closing")), texts),
    st.tuples(st.just("pick"), photos, st.sampled_from(("hero", "take", "leave", "open"))),
    st.tuples(st.just("stop"), st.sampled_from(("Lisbon", "Porto")), st.text("NOP", min_size=1)),
    st.tuples(st.just("note"), st.integers(12, 15), st.text("ab", min_size=1, max_size=9)),
    st.tuples(st.just("settings"), st.just("title"), st.sampled_from(("West", "By the Sea"))),
    st.tuples(st.just("undo"), st.none(), st.none()),
)


def _write(folder: BookFolder, results: Results, change: tuple[str, object, object]) -> None:
    """Put a change into the files."""
    kind, what, value = change
    names = [photo.id for photo in results.catalogue.photos]
    edit: Edit
    match kind:
        case "caption":
            edit = SetCaption(names[what % len(names)], value)  # type: ignore[operator,arg-type]
        case "crop":
            edit = SetCrop(names[what % len(names)], value)  # type: ignore[operator,arg-type]
        case "text":
            edit = SetText(str(what), str(value))
        case "stop":
            edit = SetStop(StopChoice(str(what), name=str(value)))
        case "note":
            edit = SetDayNote(date(2025, 5, int(str(what))), str(value))
        case "pick":
            # The decision on one picture, whatever the edit for many is called.
            text = folder.photos_file.read_text(encoding="utf-8")
            name = names[int(str(what)) % len(names)]
            head, found, rest = text.partition(f"[photo.{name}]\n")
            assert found
            if not rest.startswith("pick"):
                folder.photos_file.write_text(f'{head}{found}pick = "{value}"\n{rest}', "utf-8")
            return
        case "settings":
            write_settings(folder, {"book": {str(what): str(value)}})
            return
        case _:
            if Journal(folder).next_turns()[0]:
                Journal(folder).undo()
            return
    write_edit(folder, edit)


@settings(max_examples=5)
@given(st.lists(changes, min_size=1, max_size=4))
def test_incremental_is_as_fresh(
    book_with_leaves: Path,
    tmp_path_factory: pytest.TempPathFactory,
    made: list[tuple[str, object, object]],
) -> None:
    folder = BookFolder(copy_book(book_with_leaves, tmp_path_factory.mktemp("copy") / "book"))
    memory, pictures = Memory(), PictureFiles()
    results = _derive(folder, memory, pictures)
    for change in made:
        _write(folder, results, change)
        fresh = _derive_aside(folder, tmp_path_factory.mktemp("aside"))
        results = _derive(folder, memory, pictures)
        assert list(_list_differences(results, fresh)) == []


def test_an_unrelated_page_stays_the_same_object(book_with_leaves: Path, tmp_path: Path) -> None:
    folder = BookFolder(copy_book(book_with_leaves, tmp_path / "book"))
    memory, pictures = Memory(), PictureFiles()
    before = _derive(folder, memory, pictures)
    photo = next(b.photos[0] for b in reversed(before.story.blocks) if b.photos)
    write_edit(folder, SetCaption(photo, "At the very end"))
    after = _derive(folder, memory, pictures)
    assert after.story is before.story
    assert after.journey is before.journey
    same = [a is b for a, b in zip(after.drawings, before.drawings, strict=True)]
    assert 0 < same.count(False) <= 2


def test_another_name_of_a_stop_lays_no_pictures_anew(atlantic: Path, tmp_path: Path) -> None:
    """Only its chapter's opening, its running heads, tables and maps show a stop's name."""
    folder = BookFolder(copy_book(atlantic, tmp_path / "book"))
    memory, pictures = Memory(), PictureFiles()
    before = _derive(folder, memory, pictures)
    write_edit(folder, SetStop(StopChoice("Porto", name="The Rock")))
    after = _derive(folder, memory, pictures)
    assert "The Rock" in {stop.name for stop in after.trip.stops}
    assert after.words != before.words
    known = {m.block.id: m for m in before.blocks.matters}
    laid = [m for m in after.blocks.matters if m.block.id in after.blocks.ways]
    assert laid
    assert all(matter is known[matter.block.id] for matter in laid)
