"""Every earlier state of the person's decisions: what changed, when, and back again.

The decisions are small files, so whole contents are kept, by content. An entry names the files it
changed with their contents before and after. To undo is itself an entry that puts contents back;
nothing is ever rewritten or taken from the list, so no state is lost.

An edit replaces its files first and is noted after: should the power fail between, the next look
finds files nobody noted and notes them as changed by hand. To undo or redo is noted first, and the
next look puts back what is lacking. So is to withdraw a change that no book can be made of. One
program at a time changes a book; others wait.
"""

from __future__ import annotations

import contextlib
import enum
import json
import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from pathlib import Path

from wayfold.base.errors import ConflictError, NotFoundError
from wayfold.base.hashing import hash_bytes
from wayfold.base.mends import Mend
from wayfold.project.files import BookFolder, explain_os_errors, write_whole
from wayfold.project.lock import hold_lock

Contents = Mapping[str, str | None]
"""File name within the book's folder -> identity of its content; None where there is no file."""


class Kind(enum.StrEnum):
    """How files came to change."""

    EDIT = "edit"
    BY_HAND = "by hand"
    """Changed by something else than Wayfold, as an editor."""
    NOTED = "noted"
    """By Wayfold on its own account, as new photographs and plans are; not undone by itself."""
    UNDO = "undo"
    REDO = "redo"
    WITHDRAWN = "withdrawn"
    """A change taken back because no book could be made of it: as if it had never been."""


TURNS = (Kind.EDIT, Kind.UNDO, Kind.REDO)
"""What the person asks of Wayfold."""
PUT_BACK = (Kind.UNDO, Kind.REDO, Kind.WITHDRAWN)
"""These are noted first, and done after."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One change; ``number`` counts from 1. ``of`` is the entry that is undone or redone."""

    number: int
    kind: Kind
    what: str
    at: str
    before: Contents
    after: Contents
    of: int | None = None


class Journal:
    """The changes of one book, in their order."""

    def __init__(self, folder: BookFolder) -> None:
        """Read what was noted of the book in ``folder``."""
        self._folder = folder
        self._home = folder.private / "history"
        self._entries = list(self._read())

    @property
    def entries(self) -> tuple[Entry, ...]:
        """All that was noted, the oldest first."""
        return tuple(self._entries)

    def next_turns(self) -> tuple[Entry | None, Entry | None]:
        """Give what would be undone, and what would be done again; None where nothing would."""
        done, undone = self._stacks()
        return (done[-1] if done else None, undone[-1] if undone else None)

    def list_earlier(self, file: Path) -> Iterator[Path]:
        """Give where the contents that a file once had lie, the latest first."""
        name = file.relative_to(self._folder.root).as_posix()
        had = [entry.after[name] for entry in reversed(self._entries) if name in entry.after]
        for identity in dict.fromkeys(had):
            kept = self._home / "contents" / identity if identity else None
            if kept and kept.is_file():
                yield kept

    def catch_up(self) -> None:
        """Finish what a power cut broke off, and note what was changed by hand meanwhile."""
        with self._alone():
            self._catch_up()

    def _catch_up(self) -> None:
        last = self._entries[-1] if self._entries else None
        now = self._look()
        if last and last.kind in PUT_BACK and self._was_broken_off(last, now):
            self._put_back(last.after)
            now = self._look()
        first = not self._entries
        self._note(Kind.NOTED if first else Kind.BY_HAND, "changed by hand", self._known(), now)

    @contextlib.contextmanager
    def change(self, what: str, kind: Kind = Kind.EDIT) -> Iterator[None]:
        """Note what the block does to the files; ``what`` says it in a few words.

        Where the block raises, the files are put back as they were.
        """
        with self._alone():
            self._catch_up()
            try:
                yield
            except BaseException:
                now = self._look()
                before = {name: self._known().get(name) for name in {*now, *self._known()}}
                self._put_back({n: c for n, c in before.items() if now.get(n) != c})
                raise
            self._note(kind, what, self._known(), self._look())

    def withdraw(self, number: int) -> None:
        """Take entry ``number`` and all after it back, as if they had never been.

        They can be neither undone nor done again.
        """
        with self._alone():
            before: dict[str, str | None] = {}
            for entry in reversed(self._entries[number - 1 :]):
                before.update(entry.before)
            now = self._look()
            found = {name: now.get(name) for name in before}
            what = self._entries[number - 1].what
            self._append(Kind.WITHDRAWN, what, found, before, number)
            self._put_back(before)

    @contextlib.contextmanager
    def _alone(self) -> Iterator[None]:
        """Hold off other programs that change the book, and take up what they noted."""
        with hold_lock(self._home / "lock"):
            self._entries = list(self._read())
            yield

    def undo(self) -> Entry:
        """Put back what the last change replaced. Raises NotFoundError where there is none."""
        with self._alone():
            self._catch_up()
            done, _ = self._stacks()
            if not done:
                raise NotFoundError("There is nothing to undo.")
            entry = done[-1]
            return self._turn(Kind.UNDO, entry, entry.after, entry.before)

    def redo(self) -> Entry:
        """Do again what was undone last. Raises NotFoundError where there is none."""
        with self._alone():
            self._catch_up()
            _, undone = self._stacks()
            if not undone:
                raise NotFoundError("There is nothing to do again.")
            entry = undone[-1]
            return self._turn(Kind.REDO, entry, entry.before, entry.after)

    def _turn(self, kind: Kind, entry: Entry, expected: Contents, wanted: Contents) -> Entry:
        now, noted = self._look(), self._noted_since(entry)
        for name, identity in expected.items():
            if now.get(name) != identity and name not in noted:
                raise ConflictError(
                    f"{name} is not as this change left it.",
                    where=name,
                    remedy=f"Undo what came after it first: {Mend.HISTORY}.",
                )
        before = {name: now.get(name) for name in wanted}
        turned = self._append(kind, entry.what, before, wanted, entry.number)
        self._put_back(wanted)
        return turned

    def _stacks(self) -> tuple[list[Entry], list[Entry]]:
        """Give what can be undone and what can be done again, the next one last."""
        gone = {
            number
            for entry in self._entries
            if entry.kind is Kind.WITHDRAWN and entry.of is not None
            for number in range(entry.of, entry.number + 1)
        }
        by_number = {entry.number: entry for entry in self._entries}
        done: list[Entry] = []
        undone: list[Entry] = []
        for entry in self._entries:
            if entry.number in gone:
                continue
            if entry.kind in (Kind.EDIT, Kind.BY_HAND):
                done.append(entry)
                undone.clear()
            elif entry.of is not None:
                turned = by_number[entry.of]
                source, target = (done, undone) if entry.kind is Kind.UNDO else (undone, done)
                source.remove(turned)
                target.append(turned)
        return done, undone

    def _noted_since(self, entry: Entry) -> set[str]:
        later = (e for e in self._entries if e.number > entry.number and e.kind is Kind.NOTED)
        return {name for e in later for name in e.after}

    def _known(self) -> dict[str, str | None]:
        known: dict[str, str | None] = {}
        for entry in self._entries:
            known.update(entry.after)
        return known

    def _was_broken_off(self, last: Entry, now: Contents) -> bool:
        """Whether some files are as an undo found them and none is anything else."""
        states = [(now.get(n), last.before[n], last.after[n]) for n in last.after]
        lacking = any(is_now != after for is_now, _, after in states)
        return lacking and all(is_now in (before, after) for is_now, before, after in states)

    def _note(self, kind: Kind, what: str, before: Contents, after: Contents) -> None:
        names = {n for n in {*before, *after} if before.get(n) != after.get(n)}
        if names:
            changed = sorted(names)
            was, became = ({n: side.get(n) for n in changed} for side in (before, after))
            self._append(kind, what, was, became)

    def _append(
        self, kind: Kind, what: str, before: Contents, after: Contents, of: int | None = None
    ) -> Entry:
        at = datetime.now().astimezone().isoformat(timespec="seconds")
        entry = Entry(len(self._entries) + 1, kind, what, at, before, after, of)
        fields = {name: getattr(entry, name) for name in Entry.__dataclass_fields__}
        with explain_os_errors(self._home):
            self._home.mkdir(parents=True, exist_ok=True)
            with (self._home / "journal.jsonl").open("ab") as file:
                # A line that a power cut tore is ended here, and passed over when it is read.
                torn = file.tell() > 0 and not self._ends_well()
                file.write(b"\n" * torn + json.dumps(fields, ensure_ascii=False).encode() + b"\n")
                file.flush()
                os.fsync(file.fileno())
        self._entries.append(entry)
        return entry

    def _ends_well(self) -> bool:
        return (self._home / "journal.jsonl").read_bytes().endswith(b"\n")

    def _read(self) -> Iterator[Entry]:
        try:
            lines = (self._home / "journal.jsonl").read_bytes().split(b"\n")
        except FileNotFoundError:
            return
        yield from (entry for line in lines if (entry := _read_line(line)) is not None)

    def _look(self) -> dict[str, str | None]:
        """Keep the contents of all decisions as they are now, and give their identities."""
        found: dict[str, str | None] = {}
        for path in self._folder.list_decisions():
            data = path.read_bytes()
            identity = hash_bytes(data)
            kept = self._home / "contents" / identity
            if not kept.is_file():
                write_whole(kept, data)
            found[path.relative_to(self._folder.root).as_posix()] = identity
        return found

    def _put_back(self, contents: Contents) -> None:
        for name, identity in contents.items():
            path = self._folder.root / name
            if identity is None:
                path.unlink(missing_ok=True)
            else:
                write_whole(path, (self._home / "contents" / identity).read_bytes())


@lru_cache(maxsize=20_000)
def _read_line(line: bytes) -> Entry | None:
    """Give the entry that a line notes; None for a torn one. Entries are read at every change."""
    try:
        fields = json.loads(line)
        return Entry(**{**fields, "kind": Kind(fields["kind"])})
    except (ValueError, TypeError, KeyError):
        return None
