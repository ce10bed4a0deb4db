"""What laying out gave is taken from the last run, where all that it hangs on is as it was."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.desk_book import copy_book
from wayfold.app import kept_answers
from wayfold.app.kept_answers import KeptAnswers
from wayfold.app.session import Session
from wayfold.base.memory import Memory
from wayfold.base.progress import NoProgress
from wayfold.book.edits import SetCaption, SetInterleaf, SetPicks
from wayfold.book.state import Pick
from wayfold.layout import arrange
from wayfold.layout.spreads import choose_ways
from wayfold.project.files import BookFolder


@pytest.fixture(scope="module")
def made(made_once, tmp_path_factory):
    root = copy_book(made_once, tmp_path_factory.mktemp("kept") / "book")
    session = Session.open(root, NoProgress())
    photo = session.results.catalogue.photos[9].id
    said = SetPicks(((photo, Pick.HERO),)), SetCaption(photo, "By the water")
    session.edit(*said, SetInterleaf(photo, True))
    session.close()
    return root


@pytest.fixture
def root(made, tmp_path):
    return copy_book(made, tmp_path / "book")


@pytest.fixture
def chosen(monkeypatch):
    """The blocks that ways were chosen for."""
    found = []

    def choose(opening, *more):
        found.append(opening[0].block.id)
        return choose_ways(opening, *more)

    monkeypatch.setattr(arrange, "choose_ways", choose)
    return found


def find_lone(session):
    """Give a photograph that has a page to itself."""
    return next(b.photos[0] for b in session.results.story.blocks if len(b.photos) == 1)


def open_once(root: Path):
    session = Session.open(root, NoProgress())
    session.close()
    return session


def find_file(root: Path) -> Path:
    (file,) = (BookFolder(root).cache / "answers").iterdir()
    return file


def test_a_book_opened_again_is_laid_out_as_if_anew(root, chosen):
    warm = open_once(root)
    assert not chosen
    shutil.rmtree(BookFolder(root).cache / "answers")
    anew = open_once(root)
    assert chosen
    for part in ("blocks", "layout", "leaves", "drawings", "maps", "findings"):
        one, other = getattr(warm.results, part), getattr(anew.results, part)
        if part == "blocks":
            one, other = (one.laid, one.ways), (other.laid, other.ways)
        assert one == other, part
    assert any(leaf.recto.items or leaf.verso.items for leaf in warm.results.leaves)
    assert warm.shown.revision == anew.shown.revision


def test_a_book_moved_to_another_folder_is_not_laid_out_anew(root, tmp_path, chosen):
    kept = find_file(root).stat().st_ino
    moved = Path(shutil.move(root, tmp_path / "another disk"))
    open_once(moved)
    assert not chosen
    assert find_file(moved).stat().st_ino == kept  # nor is a leaf: no answer was another


def test_what_was_edited_last_is_kept_when_the_book_is_closed(root, chosen):
    session = Session.open(root, NoProgress())
    session.edit(SetCaption(find_lone(session), "Other words, longer than those before"))
    edited = session.shown.revision
    session.close()
    before, chosen[:] = len(chosen), []
    assert before
    assert open_once(root).shown.revision == edited
    assert not chosen


def test_what_is_lost_torn_or_spoilt_is_worked_out_again(root, chosen):
    right = open_once(root).shown.revision
    file = find_file(root)
    whole = file.read_bytes()
    lines = whole.split(b"\n")
    key = next(line for line in lines if b'["Laid"' in line)[:32].decode()
    wrongs = [b"", whole[: len(whole) // 2], whole.replace(b'"Rect"', b'"Rack"'), b"\xff" * 999]
    for wrong in wrongs:
        file.write_bytes(wrong)
        assert open_once(root).shown.revision == right
        assert chosen
        chosen.clear()
        assert sorted(find_file(root).read_bytes().split(b"\n")) == sorted(lines)
    # Whole by its sum, and no answer to what was asked.
    for spoilt in (b"null", b"[]", b'[["Way"]]', b'["Inked",[],7]'):
        KeptAnswers(BookFolder(root))._records.put(key, spoilt)
        assert open_once(root).shown.revision == right


def test_what_other_code_kept_is_not_taken(root, chosen, monkeypatch):
    right = open_once(root).shown.revision
    assert not chosen
    monkeypatch.setattr(kept_answers, "function_key", lambda do: f"other code of {do.__name__}")
    assert open_once(root).shown.revision == right
    assert chosen


def test_a_disk_that_refuses_stops_nothing(root):
    answers = BookFolder(root).cache / "answers"
    shutil.rmtree(answers)
    answers.write_bytes(b"no folder")
    assert open_once(root).shown.view().pages


def count(upto: int) -> tuple[int, ...]:
    return tuple(range(upto))


def test_only_what_was_asked_for_last_is_kept(tmp_path):
    folder = BookFolder(tmp_path)
    kept = KeptAnswers(folder)
    memory = Memory(kept)
    memory.begin()
    memory.recall_lasting(count, 3, at="a")
    memory.recall_lasting(count, 5, at="b")
    kept.keep(memory)
    memory.begin()
    memory.recall_lasting(count, 4, at="a")
    kept.keep(memory)
    again = KeptAnswers(folder)
    assert again.find(count, (4,)).value == (0, 1, 2, 3)
    assert again.find(count, (3,)) is None
    assert again.find(count, (5,)) is None
