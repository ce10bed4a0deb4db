"""Every earlier state of the person's decisions: what changed, when, and back again.

What files held is kept by content (``journal_contents``). An entry names the files it changed with
their contents before and after. To undo is itself an entry that puts contents back;
nothing is ever rewritten or taken from the list, so no state is lost.

An edit replaces its files first and is noted after: should the power fail between, the next look
finds files nobody noted and notes them as changed by hand. To undo or redo is noted first, and the
next look puts back what is lacking. So is to withdraw a change that no book can be made of. One
program at a time changes a book; others wait.
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

from wayfold.base.errors import ConflictError, NotFoundError, UserError
from wayfold.base.hashing import hash_bytes
from wayfold.base.mends import Mend
from wayfold.project.files import BookFolder, write_whole
from wayfold.project.journal_contents import Rewriting
from wayfold.project.journal_notes import Contents, Entry, Kind, open_notes
from wayfold.project.lock import hold_lock

TURNS = (Kind.EDIT, Kind.UNDO, Kind.REDO)
"""What the person asks of Wayfold."""
PUT_BACK = (Kind.UNDO, Kind.REDO, Kind.WITHDRAWN)
"""These are noted first, and done after."""


class Journal:
    """The changes of one book, in their order."""

    def __init__(self, folder: BookFolder) -> None:
        """Read what was noted of the book in ``folder``."""
        self._folder = folder
        self._home = folder.private / "history"
        self._notes = open_notes(self._home)
        self._fresh: dict[str, bytes] = {}
        """What files hold that is not kept yet, by its identity."""
        self._notes.catch_up()

    @property
    def entries(self) -> tuple[Entry, ...]:
        """All that was noted, the oldest first."""
        return self._notes.entries

    @property
    def count(self) -> int:
        """How many changes were noted."""
        return self._notes.count

    def next_turns(self) -> tuple[Entry | None, Entry | None]:
        """Give what would be undone, and what would be done again; None where nothing would."""
        done, undone = self._notes.stacks
        return (done[-1] if done else None, undone[-1] if undone else None)

    def list_earlier(self, file: Path) -> Iterator[bytes]:
        """Give what a file once held, the latest first; what cannot be read is passed over."""
        name = file.relative_to(self._folder.root).as_posix()
        had = [entry.after[name] for entry in reversed(self.entries) if name in entry.after]
        for identity in dict.fromkeys(had):
            if identity:
                with contextlib.suppress(UserError):
                    yield self._notes.contents.read(identity)

    def catch_up(self) -> None:
        """Finish what a power cut broke off, and note what was changed by hand meanwhile."""
        with self._alone():
            self._catch_up()

    def _catch_up(self) -> None:
        last, now = self._notes.last, self._look()
        if last and last.kind in PUT_BACK and self._was_broken_off(last, now):
            self._put_back(last.after)
            now = self._look()
        kind = Kind.BY_HAND if self._notes.count else Kind.NOTED
        self._note(kind, "changed by hand", self._notes.known, now)

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
                now, known = self._look(), self._notes.known
                before = {name: known.get(name) for name in {*now, *known}}
                self._put_back({n: c for n, c in before.items() if now.get(n) != c})
                raise
            self._note(kind, what, self._notes.known, self._look())

    def withdraw(self, number: int) -> None:
        """Take entry ``number`` and all after it back, as if they had never been.

        They can be neither undone nor done again.
        """
        with self._alone():
            before: dict[str, str | None] = {}
            entries = self.entries
            for entry in reversed(entries[number - 1 :]):
                before.update(entry.before)
            now = self._look()
            found = {name: now.get(name) for name in before}
            what = entries[number - 1].what
            self._append(Kind.WITHDRAWN, what, found, before, number)
            self._put_back(before)

    @contextlib.contextmanager
    def _alone(self) -> Iterator[None]:
        """Hold off other programs that change the book, and take up what they noted."""
        with hold_lock(self._home / "lock"):
            self._notes.catch_up()
            self._fresh = {}
            yield

    def undo(self) -> Entry:
        """Put back what the last change replaced. Raises NotFoundError where there is none."""
        with self._alone():
            self._catch_up()
            done, _ = self._notes.stacks
            if not done:
                raise NotFoundError("There is nothing to undo.")
            entry = done[-1]
            return self._turn(Kind.UNDO, entry, entry.after, entry.before)

    def redo(self) -> Entry:
        """Do again what was undone last. Raises NotFoundError where there is none."""
        with self._alone():
            self._catch_up()
            _, undone = self._notes.stacks
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

    def _noted_since(self, entry: Entry) -> set[str]:
        later = (e for e in self.entries if e.number > entry.number and e.kind is Kind.NOTED)
        return {name for e in later for name in e.after}

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
        entry = Entry(self._notes.count + 1, kind, what, at, before, after, of)
        self._notes.append(entry, dict(self._keep_contents(before, after)))
        self._fresh = {}
        return entry

    def _keep_contents(self, before: Contents, after: Contents) -> Iterator[tuple[str, Rewriting]]:
        """Keep what nobody has kept yet; gives what is to be told in the note itself."""
        known = self._notes.known
        for side in (before, after):
            for name, identity in side.items():
                data = self._fresh.pop(identity, None) if identity else None
                if identity and data is not None:
                    kept = self._notes.contents.keep(identity, data, known.get(name))
                    if kept is not None:
                        yield identity, kept

    def _look(self) -> dict[str, str | None]:
        """Give the identities of all decisions as they are now; what is new is held to be kept."""
        found: dict[str, str | None] = {}
        known = set(self._notes.known.values())
        for path in self._folder.list_decisions():
            data = path.read_bytes()
            identity = hash_bytes(data)
            if identity not in known and not self._notes.contents.holds(identity):
                self._fresh[identity] = data
            found[path.relative_to(self._folder.root).as_posix()] = identity
        return found

    def _put_back(self, contents: Contents) -> None:
        for name, identity in contents.items():
            path = self._folder.root / name
            if identity is None:
                path.unlink(missing_ok=True)
            else:
                write_whole(path, self._notes.contents.read(identity))
