"""The journal: every earlier state comes back, whatever happens in between."""

from __future__ import annotations

import json
import threading
from collections.abc import Mapping
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from wayfold.base.errors import ConflictError, NotFoundError, UserError
from wayfold.project import journal as journal_module
from wayfold.project.files import BookFolder
from wayfold.project.journal import Journal
from wayfold.project.journal_contents import _compare
from wayfold.project.journal_notes import Kind, open_notes
from wayfold.project.journal_placing import NEXT

NAMES = ("book.toml", "photos.toml", "texts/a.md", "texts/b.md")


def write(root: Path, name: str, text: str | None) -> None:
    path = root / name
    path.parent.mkdir(parents=True, exist_ok=True)
    if text is None:
        path.unlink(missing_ok=True)
    else:
        path.write_text(text, encoding="utf-8")


def look(root: Path) -> Mapping[str, str]:
    return {n: (root / n).read_text("utf-8") for n in NAMES if (root / n).is_file()}


@pytest.fixture
def root(tmp_path: Path) -> Path:
    write(tmp_path, "book.toml", "first")
    Journal(BookFolder(tmp_path)).catch_up()
    return tmp_path


def change(root: Path, name: str, text: str | None, kind: Kind = Kind.EDIT) -> None:
    with Journal(BookFolder(root)).change(f"{name} {text}", kind) as draft:
        write(draft.root, name, text)


def test_undo_and_redo_across_restarts(root: Path) -> None:
    change(root, "texts/a.md", "one")
    change(root, "texts/a.md", "two")
    change(root, "book.toml", "second")
    assert Journal(BookFolder(root)).undo().what == "book.toml second"
    assert look(root) == {"book.toml": "first", "texts/a.md": "two"}
    Journal(BookFolder(root)).undo()
    Journal(BookFolder(root)).undo()
    assert look(root) == {"book.toml": "first"}
    with pytest.raises(NotFoundError, match="nothing to undo"):
        Journal(BookFolder(root)).undo()
    for _ in range(3):
        Journal(BookFolder(root)).redo()
    assert look(root) == {"book.toml": "second", "texts/a.md": "two"}
    with pytest.raises(NotFoundError, match="nothing to do again"):
        Journal(BookFolder(root)).redo()


def test_what_was_changed_by_hand_can_be_undone_too(root: Path) -> None:
    write(root, "book.toml", "by hand")
    entry = Journal(BookFolder(root)).undo()
    assert (entry.what, look(root)) == ("changed by hand", {"book.toml": "first"})
    assert [e.kind for e in Journal(BookFolder(root)).entries] == [
        Kind.NOTED,
        Kind.BY_HAND,
        Kind.UNDO,
    ]


def test_what_wayfold_notes_by_itself_is_stepped_over(root: Path) -> None:
    change(root, "book.toml", "second")
    change(root, "photos.toml", "found", Kind.NOTED)
    Journal(BookFolder(root)).undo()
    assert look(root) == {"book.toml": "first", "photos.toml": "found"}


def test_a_new_change_ends_what_could_be_done_again(root: Path) -> None:
    change(root, "book.toml", "second")
    Journal(BookFolder(root)).undo()
    change(root, "book.toml", "third")
    with pytest.raises(NotFoundError):
        Journal(BookFolder(root)).redo()


def test_a_line_that_was_torn_is_passed_over_and_its_change_found_again(root: Path) -> None:
    change(root, "book.toml", "second")
    file = root / ".wayfold" / "history" / "journal.jsonl"
    file.write_bytes(file.read_bytes()[:-9])
    later = Journal(BookFolder(root))
    later.catch_up()
    assert later.entries[-1].kind is Kind.BY_HAND
    later.undo()
    assert look(root) == {"book.toml": "first"}
    assert len(Journal(BookFolder(root)).entries) == 3


@pytest.mark.parametrize("step", [0, 1, 2])
def test_an_undo_that_a_power_cut_broke_off_is_finished(
    root: Path, step: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The list is written first, then files are put back one by one; any may be the last."""
    for name in NAMES[:3]:
        change(root, name, "before")
    with Journal(BookFolder(root)).change("all") as draft:
        for name in NAMES[:3]:
            write(draft.root, name, "after")
    replace, put_back = Path.replace, []

    def fail_later(self: Path, target: Path) -> Path:
        if self.suffix == NEXT:
            put_back.append(target)
            if len(put_back) > step:
                raise OSError("the power is gone")
        return replace(self, target)

    monkeypatch.setattr(Path, "replace", fail_later)
    with pytest.raises(OSError, match="power"):
        Journal(BookFolder(root)).undo()
    monkeypatch.undo()
    assert sorted(look(root).values()) == ["after"] * (3 - step) + ["before"] * step
    Journal(BookFolder(root)).catch_up()
    assert look(root) == dict.fromkeys(NAMES[:3], "before")


def test_a_change_that_something_else_touched_is_not_undone_blindly(root: Path) -> None:
    change(root, "book.toml", "second")
    journal = Journal(BookFolder(root))
    journal.catch_up()
    write(root, "book.toml", "touched")
    entry = journal.entries[-1]
    with pytest.raises(ConflictError, match=r"book\.toml"):
        journal._turn(Kind.UNDO, entry, entry.after, entry.before)
    assert look(root) == {"book.toml": "touched"}


steps = st.lists(
    st.one_of(
        st.tuples(
            st.sampled_from(["edit", "hand"]),
            st.sampled_from(NAMES[1:]),
            st.one_of(st.none(), st.sampled_from(["x", "y", "z"])),
        ),
        st.tuples(st.sampled_from(["undo", "redo"]), st.none(), st.none()),
    ),
    max_size=14,
)


@given(steps)
@settings(
    deadline=None,
    max_examples=60,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
def test_any_course_of_changes_goes_back_as_a_plain_pile_of_states_does(
    tmp_path_factory: pytest.TempPathFactory, course: list
) -> None:
    """Against the simplest thing that could be right: a pile of whole states and a place in it."""
    root = tmp_path_factory.mktemp("book")
    write(root, "book.toml", "first")
    Journal(BookFolder(root)).catch_up()
    pile, at = [dict(look(root))], 0
    for action, name, text in course:
        if action in ("edit", "hand"):
            if action == "edit":
                change(root, name, text)
            else:
                write(root, name, text)
                Journal(BookFolder(root)).catch_up()
            if look(root) != pile[at]:
                pile = [*pile[: at + 1], dict(look(root))]
                at += 1
        else:
            step = -1 if action == "undo" else 1
            journal = Journal(BookFolder(root))
            if 0 <= at + step < len(pile):
                (journal.undo if step < 0 else journal.redo)()
                at += step
            else:
                with pytest.raises(NotFoundError):
                    (journal.undo if step < 0 else journal.redo)()
        assert look(root) == pile[at]


def test_a_change_that_fails_leaves_the_files_as_they_were(root: Path) -> None:
    journal = Journal(BookFolder(root))
    before = look(root)

    def fail(draft: Path) -> None:
        write(draft, "book.toml", "half")
        write(draft, "texts/a.md", "new")
        raise RuntimeError("no room")

    with pytest.raises(RuntimeError), journal.change("two files") as draft:
        fail(draft.root)
    assert look(root) == before
    assert Journal(BookFolder(root)).next_turns() == (None, None)


def test_a_withdrawn_change_was_never_there(root: Path) -> None:
    change(root, "texts/a.md", "one")
    change(root, "texts/a.md", "two")
    Journal(BookFolder(root)).undo()
    turns = Journal(BookFolder(root)).next_turns()
    before, count = look(root), len(Journal(BookFolder(root)).entries)
    change(root, "book.toml", "no book")
    change(root, "texts/b.md", "the plan of it", Kind.NOTED)
    Journal(BookFolder(root)).withdraw(Journal(BookFolder(root)).entries[count])
    assert look(root) == before
    again = Journal(BookFolder(root))
    assert [turn and turn.number for turn in again.next_turns()] == [t and t.number for t in turns]
    again.redo()
    assert look(root)["texts/a.md"] == "two"


def test_a_withdrawal_broken_off_is_finished(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = look(root)
    change(root, "book.toml", "no book")
    journal = Journal(BookFolder(root))
    monkeypatch.setattr(journal_module, "place_all", lambda *_: None)
    journal.withdraw(journal.entries[-1])
    monkeypatch.undo()
    assert look(root) != before
    Journal(BookFolder(root)).catch_up()
    assert look(root) == before


def test_programs_wait_for_each_other(root: Path) -> None:
    """Two hundred changes by four threads, each with a journal of its own: none is lost."""

    def work(name: str) -> None:
        for number in range(50):
            with Journal(BookFolder(root)).change(name) as draft:
                write(draft.root, f"texts/{name}.md", str(number))

    names = ("a", "b", "c", "d")
    threads = [threading.Thread(target=work, args=(name,)) for name in names]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    entries = Journal(BookFolder(root)).entries
    assert [entry.number for entry in entries] == list(range(1, len(entries) + 1))
    for name in names:
        assert sum(f"texts/{name}.md" in entry.after for entry in entries) == 50


def test_an_edit_costs_what_it_writes_not_the_whole_file(root: Path) -> None:
    """Fifty edits in a file of 2,000 tables: each adds a few lines' worth, and all come back."""
    tables = {f"p{n:04}": f'file = "pictures/{n}.jpg"\nlong = "{"x" * 120}"\n' for n in range(2000)}

    def show() -> str:
        return "".join(f"[photo.{key}]\n{text}\n" for key, text in tables.items())

    def weigh() -> int:
        return sum(p.stat().st_size for p in (root / ".wayfold").rglob("*") if p.is_file())

    def edit() -> None:
        with Journal(BookFolder(root)).change("a caption") as draft:
            write(draft.root, "photos.toml", show())

    edit()
    states, first = [show()], weigh()
    for number in range(50):
        # Now one table, now two that lie far apart.
        for key in (f"p{37 * number:04}", f"p{1999 - number:04}")[: 1 + number % 2]:
            tables[key] += f'caption = "Ümläute number {number}"\n'
        edit()
        states.append(show())
    assert len(states[0]) > 300_000
    assert weigh() - first < 50 * 2 * 1000
    for state in reversed(states[:-1]):
        Journal(BookFolder(root)).undo()
        assert look(root)["photos.toml"] == state


@given(st.binary(max_size=60), st.binary(max_size=60))
def test_what_is_kept_as_a_rewriting_reads_back(one: bytes, other: bytes) -> None:
    """Whatever two contents share, at the ends and between blank lines."""
    same = b"a line\n\nand another\n\n"
    for base, data in ((same + one + same, same + other + same), (one, other)):
        at = 0
        parts = []
        for start, end, text in _compare(base, data):
            assert at <= start <= end <= len(base)
            parts += [base[at:start], text]
            at = end
        assert b"".join([*parts, base[at:]]) == data


def test_what_was_kept_whole_and_what_is_lost_of_it(root: Path) -> None:
    """Contents were whole files once, and lines told of none; both are read as they were."""
    home = root / ".wayfold" / "history"
    long = "".join(f"line {n}\n\n" for n in range(200))
    for text in (long, long + "more\n\n", "first\n\n" + long + "more\n\n"):
        change(root, "texts/a.md", text)
    lines = [json.loads(line) for line in (home / "journal.jsonl").read_text("utf-8").splitlines()]
    assert [bool(line.pop("kept", None)) for line in lines] == [False, False, True, True]
    notes = open_notes(home)
    for identity in (line["after"].get("texts/a.md") for line in lines):
        if identity:
            (home / "contents" / identity).write_bytes(notes.contents.read(identity))
    (home / "journal.jsonl").write_text("".join(json.dumps(line) + "\n" for line in lines), "utf-8")
    Journal(BookFolder(root)).undo()
    assert look(root)["texts/a.md"] == long + "more\n\n"
    (home / "contents" / lines[1]["after"]["texts/a.md"]).write_text("spoilt", "utf-8")
    with pytest.raises(UserError, match="held earlier"):
        open_notes.__wrapped__(home).contents.read(lines[1]["after"]["texts/a.md"])


def test_a_withdrawal_takes_nobody_elses_change_with_it(root: Path) -> None:
    """Another program's edit is noted after the one that no book can be made of."""
    mine = Journal(BookFolder(root))
    with mine.change("mine") as draft:
        write(draft.root, "book.toml", "no book")
        write(draft.root, "texts/a.md", "mine")
    change(root, "texts/b.md", "another's")
    change(root, "texts/a.md", "another's")
    assert mine.own is not None
    mine.withdraw(mine.own)
    assert look(root) == {
        "book.toml": "first",
        "texts/a.md": "another's",
        "texts/b.md": "another's",
    }
    done, undone = Journal(BookFolder(root)).next_turns()
    assert done is not None
    assert (done.what, undone) == ("texts/a.md another's", None)


def test_what_a_hand_saves_in_the_moment_of_an_edit_stands(root: Path) -> None:
    journal = Journal(BookFolder(root))
    with (
        pytest.raises(ConflictError, match="in this very moment"),
        journal.change("mine") as draft,
    ):
        write(draft.root, "book.toml", "mine")
        write(root, "book.toml", "by hand")
    assert look(root) == {"book.toml": "by hand"}
    Journal(BookFolder(root)).undo()
    assert look(root) == {"book.toml": "first"}


def test_the_history_of_a_newer_wayfold_is_refused(root: Path) -> None:
    file = root / ".wayfold" / "history" / "journal.jsonl"
    newer = json.loads(file.read_text("utf-8").splitlines()[-1]) | {"version": 3, "number": 2}
    with file.open("a", encoding="utf-8") as notes:
        notes.write(json.dumps(newer) + "\n")
    held = file.read_bytes()
    for _ in range(2):
        with pytest.raises(UserError, match="newer Wayfold"):
            Journal(BookFolder(root))
    assert (file.read_bytes(), look(root)) == (held, {"book.toml": "first"})
