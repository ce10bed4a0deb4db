"""Many hands on one book: two programs, an editor, copies from another machine, older states.

Whatever was ever saved or typed is found again: in the files, in history, or as another version
that is told.
"""

import contextlib
import itertools
import multiprocessing
import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from wayfold.base.errors import ConflictError, NotFoundError, UserError
from wayfold.book.edits import Edit, SetCaption, SetDayNote, SetText, SetTitle
from wayfold.project import journal as journal_module
from wayfold.project.choosing_copies import put_copy_away, take_copy
from wayfold.project.copies import find_copies
from wayfold.project.files import BookFolder
from wayfold.project.journal import Journal
from wayfold.project.journal_notes import Kind, Notes
from wayfold.project.journal_others import find_other_journals
from wayfold.project.store import write_edit

PHOTO = "3f2a9c1d0b7e"
BOOK = 'version = 1\n\n[book]\ntitle = "South" # mine\n'
PHOTOS = f'version = 1\n\n[photo.{PHOTO}]\nfile = "photographs/a.jpg"\ncontent = "{PHOTO}"\n'
TRIP = "version = 1\n"
FILES = ("book.toml", "photos.toml", "trip.toml", "texts/foreword.md")
# Shapes in which programs that keep folders in step are known to name a second version (from
# memory; they differ by program and language): before the ending, and before both endings.
SHAPES = (
    "{stem} (conflicted copy 2026-11-29){ending}",
    "{stem} (Studio's conflicted copy){ending}",
    "{stem}-STUDIO{ending}",
    "{stem} 2{ending}",
    "{stem}.sync-conflict-20261129-101500-ABCDEFG{ending}",
)
WRITERS = ("desk", "command line")


def begin(root: Path) -> BookFolder:
    for name, text in zip(FILES, (BOOK, PHOTOS, TRIP, "We went south.\n"), strict=True):
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    folder = BookFolder(root)
    Journal(folder).catch_up()
    return folder


def name_other(name: str, shape: str) -> str:
    stem, dot, ending = name.rpartition(".")
    return shape.format(stem=stem, ending=dot + ending)


def read_history(folder: BookFolder) -> str:
    """All that any file ever held and history can still give, by its public door.

    What another machine's journal notes is taken over at the next look.
    """
    journal = Journal(folder)
    if find_other_journals(folder.private / "history"):
        journal.catch_up()
    held = []
    for entry in journal.entries:
        for side in journal.read_states(entry):
            held += [data.decode(errors="replace") for data in side.values() if data is not None]
    return "\n".join(held)


def read_files(root: Path) -> str:
    files = [p for p in root.rglob("*") if p.is_file() and ".wayfold" not in p.parts]
    return "\n".join(p.read_text("utf-8", errors="replace") for p in files)


class ManyHands(RuleBasedStateMachine):
    """Every word is one of its own, so that it can be looked for."""

    def __init__(self) -> None:
        super().__init__()
        memory = Path("/dev/shm")  # where there is one, a thousand files are written at once
        place = memory if os.access(memory, os.W_OK) else None
        self.root = Path(tempfile.mkdtemp(prefix="wayfold-hands-", dir=place))
        self.folder = begin(self.root)
        self.numbers = itertools.count(1)
        self.said: set[str] = set()
        self.older: list[dict[str, bytes]] = [self.take_state()]
        # Each program has read the journal for itself, and knows of the other's changes only
        # what it reads.
        self.memories: dict[str, dict[Path, Notes]] = {writer: {} for writer in WRITERS}
        self.open_notes = journal_module.open_notes
        # What outlasts a power cut is tested elsewhere.
        self.fsync, os.fsync = os.fsync, lambda _: None
        self.be("desk")

    def teardown(self) -> None:
        journal_module.open_notes = self.open_notes  # type: ignore[assignment]
        os.fsync = self.fsync
        shutil.rmtree(self.root)

    def be(self, writer: str) -> None:
        """Go on as that program."""
        memory = self.memories[writer]

        def open_mine(home: Path) -> Notes:
            return memory.setdefault(home, Notes(home))

        journal_module.open_notes = open_mine  # type: ignore[assignment]

    def say(self) -> str:
        word = f"word{next(self.numbers):05}"
        self.said.add(word)
        return word

    def take_state(self) -> dict[str, bytes]:
        return {
            path.relative_to(self.root).as_posix(): path.read_bytes()
            for path in BookFolder(self.root).list_decisions()
        }

    def forget_own(self, name: str) -> None:
        """What an editor writes over, before anyone looked, is its own doing."""
        path = self.root / name
        if path.is_file():
            held, kept = path.read_text("utf-8", errors="replace"), read_history(self.folder)
            self.said -= {word for word in self.said if word in held and word not in kept}

    def hand(self, name: str, how: str) -> None:
        """Save a file as an editor does: in place, or by another that takes its name."""
        self.forget_own(name)
        path, word = self.root / name, self.say()
        text = path.read_text("utf-8") if path.is_file() else "version = 1\n"
        mark = "#" if name.endswith(".toml") else ""
        data = f"{text.rstrip()}\n{mark} {word}\n".encode()
        if how == "renamed":
            beside = path.with_name(f"{path.name}.tmp")
            beside.write_bytes(data)
            beside.replace(path)
        else:
            path.write_bytes(data)

    def edit_of(self, what: str, word: str) -> Edit:
        match what:
            case "caption":
                return SetCaption(PHOTO, word)
            case "title":
                return SetTitle("", word, None)
            case "day":
                return SetDayNote(date(2026, 5, 12), word)
            case _:
                return SetText("foreword", f"{word}\n")

    @rule(who=st.sampled_from(WRITERS), what=st.sampled_from(("caption", "title", "day", "text")))
    def edit(self, who: str, what: str) -> None:
        self.be(who)
        self.write(self.folder, what)

    def write(self, folder: BookFolder, what: str) -> None:
        word = self.say()
        try:
            write_edit(folder, self.edit_of(what, word))
        except UserError:
            self.said.discard(word)  # refused, and said so

    @rule(name=st.sampled_from(FILES), how=st.sampled_from(("in place", "renamed")))
    def save_by_hand(self, name: str, how: str) -> None:
        self.hand(name, how)

    @rule(who=st.sampled_from(WRITERS), name=st.sampled_from(FILES[:3]), looks=st.booleans())
    def save_in_two_goes(self, who: str, name: str, looks: bool) -> None:
        """Half a file stands there for a moment, and a program looks, or wants to write."""
        self.be(who)
        self.hand(name, "in place")
        path = self.root / name
        whole = path.read_bytes()
        path.write_bytes(whole[: len(whole) // 2])
        if looks:
            Journal(self.folder).catch_up()
        else:
            self.edit(who, "caption")
        # The editor writes on where it was, whatever a program put there meanwhile.
        self.forget_own(name)
        held = path.read_bytes()
        path.write_bytes(whole)
        self.said |= {w for w in self._words(whole) if w not in self._words(held)}

    @rule(
        who=st.sampled_from(WRITERS),
        name=st.sampled_from(FILES),
        same=st.booleans(),
        when=st.sampled_from(("drafted", "noted")),
    )
    def save_while_a_program_writes(self, who: str, name: str, same: bool, when: str) -> None:
        self.be(who)
        target, word = name if same else "texts/foreword.md", self.say()
        journal = Journal(self.folder)
        with contextlib.ExitStack() as stack:
            if when == "noted":
                stack.enter_context(
                    saving_after_the_note(journal, lambda: self.hand(name, "renamed"))
                )
            try:
                with journal.change("in between") as draft:
                    path = draft.root / target
                    path.parent.mkdir(parents=True, exist_ok=True)
                    text = path.read_text("utf-8") if path.is_file() else ""
                    path.write_text(f"{text.rstrip()}\n# {word}\n", "utf-8")
                    if when == "drafted":
                        self.hand(name, "renamed")
            except ConflictError:
                self.said.discard(word)  # refused, and said so

    @rule(name=st.sampled_from(FILES), shape=st.sampled_from(SHAPES), at=st.integers(0, 9))
    def carry_another_version_here(self, name: str, shape: str, at: int) -> None:
        """What another machine made of an earlier state."""
        state = self.older[at % len(self.older)]
        held = state.get(name, b"version = 1\n")
        path = self.root / name_other(name, shape)
        self.forget_own(path.relative_to(self.root).as_posix())
        mark = "#" if name.endswith(".toml") else ""
        path.write_bytes(held.rstrip() + f"\n{mark} {self.say()}\n".encode())

    @rule(who=st.sampled_from(WRITERS), take=st.booleans(), at=st.integers(0, 9))
    @precondition(lambda self: bool(find_copies(self.folder)))
    def choose(self, who: str, take: bool, at: int) -> None:
        self.be(who)
        copies = find_copies(self.folder)
        copy = copies[at % len(copies)]
        (take_copy if take else put_copy_away)(self.folder, copy.handle)
        assert not copy.path.exists()
        if take:
            assert copy.of.read_bytes() == copy.content

    @rule(who=st.sampled_from(WRITERS), back=st.booleans())
    def turn(self, who: str, back: bool) -> None:
        self.be(who)
        journal = Journal(self.folder)
        with contextlib.suppress(NotFoundError, ConflictError):
            journal.undo() if back else journal.redo()

    @rule(
        there=st.lists(st.sampled_from(("caption", "title", "day", "text", "undo")), max_size=4),
        here=st.sampled_from(("caption", "title", "day", "text", "nothing")),
        who=st.sampled_from(WRITERS),
        shape=st.sampled_from(SHAPES),
    )
    def work_on_two_machines(self, there: list[str], here: str, who: str, shape: str) -> None:
        """The folder is carried to another machine, both change it, and what differs comes back."""
        self.be(who)
        Journal(self.folder).catch_up()
        with tempfile.TemporaryDirectory(prefix="wayfold-away-") as away:
            other = BookFolder(Path(away) / "book")
            shutil.copytree(self.root, other.root)
            for what in there:
                if what == "undo":
                    with contextlib.suppress(NotFoundError, ConflictError):
                        Journal(other).undo()
                else:
                    self.write(other, what)
            if here != "nothing":
                self.edit(who, here)
            self.memories[who].pop(other.private / "history", None)
            self.bring_back(other, shape)

    def bring_back(self, other: BookFolder, shape: str) -> None:
        """What only the other machine changed is replaced; what differs comes beside ours."""
        history = Path(".wayfold") / "history"
        for path in (*other.list_decisions(), *(other.root / history).rglob("*")):
            name = path.relative_to(other.root).as_posix()
            mine = self.root / name
            if not path.is_file() or path.name == "lock":
                continue
            if not mine.is_file():
                mine.parent.mkdir(parents=True, exist_ok=True)
                shutil.copyfile(path, mine)
            elif mine.read_bytes() != path.read_bytes():
                beside = self.root / name_other(name, shape)
                self.forget_own(beside.relative_to(self.root).as_posix())
                shutil.copyfile(path, beside)

    @rule()
    def remember(self) -> None:
        Journal(self.folder).catch_up()
        self.older.append(self.take_state())

    @rule(at=st.integers(0, 9))
    def put_an_older_state_there(self, at: int) -> None:
        """As from a backup: the decisions of then, and none that came after."""
        for name in self.take_state():
            self.forget_own(name)
            (self.root / name).unlink()
        for name, data in self.older[at % len(self.older)].items():
            (self.root / name).write_bytes(data)

    @staticmethod
    def _words(data: bytes) -> set[str]:
        return {word for word in data.decode(errors="replace").split() if word.startswith("word")}

    @invariant()
    def everything_said_is_found_again(self) -> None:
        found = read_files(self.root) + read_history(self.folder)
        assert {word for word in self.said if word not in found} == set()

    @invariant()
    def other_versions_are_told(self) -> None:
        told = {copy.path for copy in find_copies(self.folder)}
        lying = {
            self.root / name_other(name, shape)
            for name in FILES
            for shape in SHAPES
            if (self.root / name_other(name, shape)).is_file() and (self.root / name).is_file()
        }
        assert lying <= told

    @invariant()
    def nothing_is_left_lying(self) -> None:
        left = [p for p in self.root.rglob(".*") if p.name != ".wayfold"]
        assert left == []


@contextlib.contextmanager
def saving_after_the_note(journal: Journal, save: Callable[[], None]) -> Iterator[None]:
    """Have an editor save when the note is written and the files are not yet in their places."""
    notes = journal._notes
    append = notes.append

    def append_and_save(*args: object) -> None:
        append(*args)  # type: ignore[arg-type]
        if notes.last is not None and notes.last.kind is Kind.EDIT:
            save()

    notes.append = append_and_save  # type: ignore[method-assign, assignment]
    try:
        yield
    finally:
        notes.append = append  # type: ignore[method-assign]


TestManyHands = ManyHands.TestCase
TestManyHands.settings = settings(max_examples=10, stateful_step_count=25, deadline=None)


def write_captions(root: str, writer: str, count: int) -> None:
    """What one program does: it runs as a process of its own."""
    for number in range(count):
        write_edit(BookFolder(Path(root)), SetCaption(PHOTO, f"{writer} {number}"))
        write_edit(BookFolder(Path(root)), SetTitle("", f"{writer} title {number}", None))


def test_two_programs_write_at_once_and_nothing_is_lost(tmp_path: Path) -> None:
    folder = begin(tmp_path / "book")
    count = 8
    processes = [
        multiprocessing.get_context("spawn").Process(
            target=write_captions, args=(str(folder.root), writer, count)
        )
        for writer in ("one", "two")
    ]
    for process in processes:
        process.start()
    for process in processes:
        process.join(60)
        assert process.exitcode == 0
    found = read_history(folder)
    for writer in ("one", "two"):
        for number in range(count):
            assert f"{writer} {number}" in found
            assert f"{writer} title {number}" in found
    entries = Journal(folder).entries
    assert [entry.number for entry in entries] == list(range(1, len(entries) + 1))
    assert sum(entry.kind is Kind.EDIT for entry in entries) == 4 * count
    for _ in range(4 * count):
        Journal(folder).undo()
    assert folder.book_file.read_text("utf-8") == BOOK
    assert folder.photos_file.read_text("utf-8") == PHOTOS
